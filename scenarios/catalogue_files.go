package scenarios

import _ "embed" // its directive only

// Each file is a variable of its own and not part of an embed.FS: a file system
// brings fs.FileInfo, that brings time.Time with all its parsing and printing,
// and the page would load 50 kB more.
var (
	//go:embed data/all-rings-worn-inline-four.json
	allRingsWornInlineFour string

	//go:embed data/bank-two-late-v6.json
	bankTwoLateV6 string

	//go:embed data/burnt-exhaust-inline-four.json
	burntExhaustInlineFour string

	//go:embed data/burnt-exhaust-v6.json
	burntExhaustV6 string

	//go:embed data/carbon-inline-four.json
	carbonInlineFour string

	//go:embed data/gasket-inline-four.json
	gasketInlineFour string

	//go:embed data/gasket-neighbors-v8.json
	gasketNeighborsV8 string

	//go:embed data/leaking-intake-inline-four.json
	leakingIntakeInlineFour string

	//go:embed data/sound-atkinson-hybrid.json
	soundAtkinsonHybrid string

	//go:embed data/sound-flat-four.json
	soundFlatFour string

	//go:embed data/sound-high-mountain.json
	soundHighMountain string

	//go:embed data/sound-inline-five.json
	soundInlineFive string

	//go:embed data/sound-inline-four.json
	soundInlineFour string

	//go:embed data/sound-inline-four-turbo.json
	soundInlineFourTurbo string

	//go:embed data/sound-inline-six.json
	soundInlineSix string

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

	//go:embed data/sound-v8-twin-cam.json
	soundV8TwinCam string

	//go:embed data/throttle-closed-inline-four.json
	throttleClosedInlineFour string

	//go:embed data/throttle-closed-plugs-in-inline-four.json
	throttleClosedPlugsInInlineFour string

	//go:embed data/throttle-shut-over-burnt-inline-four.json
	throttleShutOverBurntInlineFour string

	//go:embed data/timing-early-inline-four.json
	timingEarlyInlineFour string

	//go:embed data/timing-late-inline-four.json
	timingLateInlineFour string

	//go:embed data/weak-battery-inline-four.json
	weakBatteryInlineFour string

	//go:embed data/worn-rings-inline-four.json
	wornRingsInlineFour string
)

// files lists every scenario of the catalogue, sorted by id.
var files = [...]struct{ id, text string }{
	{"all-rings-worn-inline-four", allRingsWornInlineFour},
	{"bank-two-late-v6", bankTwoLateV6},
	{"burnt-exhaust-inline-four", burntExhaustInlineFour},
	{"burnt-exhaust-v6", burntExhaustV6},
	{"carbon-inline-four", carbonInlineFour},
	{"gasket-inline-four", gasketInlineFour},
	{"gasket-neighbors-v8", gasketNeighborsV8},
	{"leaking-intake-inline-four", leakingIntakeInlineFour},
	{"sound-atkinson-hybrid", soundAtkinsonHybrid},
	{"sound-flat-four", soundFlatFour},
	{"sound-high-mountain", soundHighMountain},
	{"sound-inline-five", soundInlineFive},
	{"sound-inline-four", soundInlineFour},
	{"sound-inline-four-turbo", soundInlineFourTurbo},
	{"sound-inline-six", soundInlineSix},
	{"sound-inline-three", soundInlineThree},
	{"sound-odd-fire-v6", soundOddFireV6},
	{"sound-old-inline-four", soundOldInlineFour},
	{"sound-single", soundSingle},
	{"sound-v6", soundV6},
	{"sound-v8", soundV8},
	{"sound-v8-twin-cam", soundV8TwinCam},
	{"throttle-closed-inline-four", throttleClosedInlineFour},
	{"throttle-closed-plugs-in-inline-four", throttleClosedPlugsInInlineFour},
	{"throttle-shut-over-burnt-inline-four", throttleShutOverBurntInlineFour},
	{"timing-early-inline-four", timingEarlyInlineFour},
	{"timing-late-inline-four", timingLateInlineFour},
	{"weak-battery-inline-four", weakBatteryInlineFour},
	{"worn-rings-inline-four", wornRingsInlineFour},
}
