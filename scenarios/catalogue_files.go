//go:build !bare

package scenarios

import _ "embed" // its directive only

// Each file is a variable of its own and not part of an embed.FS: a file system
// brings fs.FileInfo, that brings time.Time with all its parsing and printing,
// and the page would load 50 kB more.
var (
	//go:embed data/all-rings-worn-inline-four.json
	allRingsWornInlineFour string

	//go:embed data/bank-late-flat-four.json
	bankLateFlatFour string

	//go:embed data/bank-tight-flat-four.json
	bankTightFlatFour string

	//go:embed data/bank-two-late-v6.json
	bankTwoLateV6 string

	//go:embed data/bent-valves-inline-five.json
	bentValvesInlineFive string

	//go:embed data/broken-land-turbo.json
	brokenLandTurbo string

	//go:embed data/burnt-exhaust-inline-four.json
	burntExhaustInlineFour string

	//go:embed data/burnt-exhaust-v6.json
	burntExhaustV6 string

	//go:embed data/carbon-inline-four.json
	carbonInlineFour string

	//go:embed data/cracked-head-v8-twin-cam.json
	crackedHeadV8TwinCam string

	//go:embed data/dead-exhaust-v8.json
	deadExhaustV8 string

	//go:embed data/false-gain-inline-three.json
	falseGainInlineThree string

	//go:embed data/flake-v8-twin-cam.json
	flakeV8TwinCam string

	//go:embed data/gasket-inline-four.json
	gasketInlineFour string

	//go:embed data/gasket-neighbors-v8.json
	gasketNeighborsV8 string

	//go:embed data/gasket-outside-single.json
	gasketOutsideSingle string

	//go:embed data/gasket-unequal-inline-six.json
	gasketUnequalInlineSix string

	//go:embed data/gauge-reads-low-v6.json
	gaugeReadsLowV6 string

	//go:embed data/holed-piston-turbo.json
	holedPistonTurbo string

	//go:embed data/leaking-intake-inline-four.json
	leakingIntakeInlineFour string

	//go:embed data/liquid-hybrid.json
	liquidHybrid string

	//go:embed data/needle-wanders-v8-twin-cam.json
	needleWandersV8TwinCam string

	//go:embed data/no-start-v6.json
	noStartV6 string

	//go:embed data/not-compression-inline-five.json
	notCompressionInlineFive string

	//go:embed data/part-stroke-inline-five.json
	partStrokeInlineFive string

	//go:embed data/pushrod-off-old-inline-four.json
	pushrodOffOldInlineFour string

	//go:embed data/restricted-exhaust-v8-twin-cam.json
	restrictedExhaustV8TwinCam string

	//go:embed data/scored-bore-inline-three.json
	scoredBoreInlineThree string

	//go:embed data/slow-crank-old-inline-four.json
	slowCrankOldInlineFour string

	//go:embed data/sound-atkinson-hybrid.json
	soundAtkinsonHybrid string

	//go:embed data/sound-high-mountain.json
	soundHighMountain string

	//go:embed data/sound-inline-four.json
	soundInlineFour string

	//go:embed data/sound-inline-three.json
	soundInlineThree string

	//go:embed data/sound-odd-fire-v6.json
	soundOddFireV6 string

	//go:embed data/sound-old-inline-four.json
	soundOldInlineFour string

	//go:embed data/sound-single.json
	soundSingle string

	//go:embed data/sound-v6.json
	soundV6 string

	//go:embed data/sound-v8.json
	soundV8 string

	//go:embed data/stood-odd-fire-v6.json
	stoodOddFireV6 string

	//go:embed data/stuck-ring-hybrid.json
	stuckRingHybrid string

	//go:embed data/tester-at-overlap-flat-four.json
	testerAtOverlapFlatFour string

	//go:embed data/throttle-closed-inline-four.json
	throttleClosedInlineFour string

	//go:embed data/throttle-closed-plugs-in-inline-four.json
	throttleClosedPlugsInInlineFour string

	//go:embed data/throttle-shut-over-burnt-inline-four.json
	throttleShutOverBurntInlineFour string

	//go:embed data/tight-lash-mountain.json
	tightLashMountain string

	//go:embed data/timing-early-inline-four.json
	timingEarlyInlineFour string

	//go:embed data/timing-late-inline-four.json
	timingLateInlineFour string

	//go:embed data/washed-inline-six.json
	washedInlineSix string

	//go:embed data/weak-battery-inline-four.json
	weakBatteryInlineFour string

	//go:embed data/weak-spring-turbo.json
	weakSpringTurbo string

	//go:embed data/worn-lobe-v8.json
	wornLobeV8 string

	//go:embed data/worn-rings-flat-four.json
	wornRingsFlatFour string

	//go:embed data/worn-rings-inline-four.json
	wornRingsInlineFour string
)

// files lists every scenario of the catalogue, sorted by id.
var files = [...]struct{ id, text string }{
	{"all-rings-worn-inline-four", allRingsWornInlineFour},
	{"bank-late-flat-four", bankLateFlatFour},
	{"bank-tight-flat-four", bankTightFlatFour},
	{"bank-two-late-v6", bankTwoLateV6},
	{"bent-valves-inline-five", bentValvesInlineFive},
	{"broken-land-turbo", brokenLandTurbo},
	{"burnt-exhaust-inline-four", burntExhaustInlineFour},
	{"burnt-exhaust-v6", burntExhaustV6},
	{"carbon-inline-four", carbonInlineFour},
	{"cracked-head-v8-twin-cam", crackedHeadV8TwinCam},
	{"dead-exhaust-v8", deadExhaustV8},
	{"false-gain-inline-three", falseGainInlineThree},
	{"flake-v8-twin-cam", flakeV8TwinCam},
	{"gasket-inline-four", gasketInlineFour},
	{"gasket-neighbors-v8", gasketNeighborsV8},
	{"gasket-outside-single", gasketOutsideSingle},
	{"gasket-unequal-inline-six", gasketUnequalInlineSix},
	{"gauge-reads-low-v6", gaugeReadsLowV6},
	{"holed-piston-turbo", holedPistonTurbo},
	{"leaking-intake-inline-four", leakingIntakeInlineFour},
	{"liquid-hybrid", liquidHybrid},
	{"needle-wanders-v8-twin-cam", needleWandersV8TwinCam},
	{"no-start-v6", noStartV6},
	{"not-compression-inline-five", notCompressionInlineFive},
	{"part-stroke-inline-five", partStrokeInlineFive},
	{"pushrod-off-old-inline-four", pushrodOffOldInlineFour},
	{"restricted-exhaust-v8-twin-cam", restrictedExhaustV8TwinCam},
	{"scored-bore-inline-three", scoredBoreInlineThree},
	{"slow-crank-old-inline-four", slowCrankOldInlineFour},
	{"sound-atkinson-hybrid", soundAtkinsonHybrid},
	{"sound-high-mountain", soundHighMountain},
	{"sound-inline-four", soundInlineFour},
	{"sound-inline-three", soundInlineThree},
	{"sound-odd-fire-v6", soundOddFireV6},
	{"sound-old-inline-four", soundOldInlineFour},
	{"sound-single", soundSingle},
	{"sound-v6", soundV6},
	{"sound-v8", soundV8},
	{"stood-odd-fire-v6", stoodOddFireV6},
	{"stuck-ring-hybrid", stuckRingHybrid},
	{"tester-at-overlap-flat-four", testerAtOverlapFlatFour},
	{"throttle-closed-inline-four", throttleClosedInlineFour},
	{"throttle-closed-plugs-in-inline-four", throttleClosedPlugsInInlineFour},
	{"throttle-shut-over-burnt-inline-four", throttleShutOverBurntInlineFour},
	{"tight-lash-mountain", tightLashMountain},
	{"timing-early-inline-four", timingEarlyInlineFour},
	{"timing-late-inline-four", timingLateInlineFour},
	{"washed-inline-six", washedInlineSix},
	{"weak-battery-inline-four", weakBatteryInlineFour},
	{"weak-spring-turbo", weakSpringTurbo},
	{"worn-lobe-v8", wornLobeV8},
	{"worn-rings-flat-four", wornRingsFlatFour},
	{"worn-rings-inline-four", wornRingsInlineFour},
}
