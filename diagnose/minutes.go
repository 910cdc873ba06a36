package diagnose

// TestMinutes says what each confirming test costs on one engine [min], each in
// [0.5, 480]: the valves may lie open or under a plenum, the marks behind a belt
// cover or inside the engine. What hands do around it (the hose moved, the crank
// turned, a minute of listening) comes on top as it is done. "Each" is for one
// cylinder.
type TestMinutes struct {
	Wet             float64 `json:"wet"`              // oil into one cylinder
	Repeat          float64 `json:"repeat"`           // one cylinder tested again, as a plan counts it
	LeakageSetup    float64 `json:"leakage_setup"`    // air line and tester made ready, once
	LeakageEach     float64 `json:"leakage_each"`     // the tester onto one cylinder
	Current         float64 `json:"current"`          // clamp round the starter cable
	RunningEach     float64 `json:"running_each"`     // one cylinder's spark and injector off
	Vacuum          float64 `json:"vacuum"`           // gauge onto the manifold
	Lash            float64 `json:"lash"`             // to the valves and back, and the first cylinder measured
	TimingMarks     float64 `json:"timing_marks"`     // covers off until the marks can be seen, and back
	BorescopeEach   float64 `json:"borescope_each"`   // into one cylinder
	CoolingPressure float64 `json:"cooling_pressure"` // pumped up and watched
	SecondGauge     float64 `json:"second_gauge"`     // another gauge fetched and put to the hose
	Refit           float64 `json:"refit"`            // a neighbour's plug in and out again, as a plan counts it
	PowerBalance    float64 `json:"power_balance"`    // all cylinders, engine running, before anything comes off
}

// DefaultMinutes is what an ordinary engine with everything within reach costs
// (common practice, no source). It stands in for a card that does not say.
func DefaultMinutes() TestMinutes {
	return TestMinutes{
		Wet: 1, Repeat: 3, LeakageSetup: 5, LeakageEach: 2, Current: 5, RunningEach: 3, Vacuum: 3, Lash: 20, TimingMarks: 30,
		BorescopeEach: 5, CoolingPressure: 10, SecondGauge: 2, Refit: 4, PowerBalance: 10,
	}
}

// A hand on a tool takes half a minute, and no test of this list more than a working
// day.
const leastMinutes, mostMinutes = 0.5, 480

// Validate reports every figure that no shop would believe, by its path in the
// card; nil when all is well.
func (m TestMinutes) Validate() error {
	var f faults
	for _, n := range m.named() {
		f.inside("minutes."+n.name, n.value, leastMinutes, mostMinutes)
	}
	return f.join()
}

type namedMinutes struct {
	name  string
	value float64
}

func (m TestMinutes) named() []namedMinutes {
	return []namedMinutes{
		{"wet", m.Wet}, {"repeat", m.Repeat}, {"leakage_setup", m.LeakageSetup}, {"leakage_each", m.LeakageEach},
		{"current", m.Current}, {"running_each", m.RunningEach}, {"vacuum", m.Vacuum}, {"lash", m.Lash},
		{"timing_marks", m.TimingMarks}, {"borescope_each", m.BorescopeEach}, {"cooling_pressure", m.CoolingPressure},
		{"second_gauge", m.SecondGauge}, {"refit", m.Refit}, {"power_balance", m.PowerBalance},
	}
}

// Of returns what one test of the list of NextTests costs on n cylinders [min],
// 0 for what is not a test of the engine.
func (m TestMinutes) Of(test string, n int) float64 {
	each := float64(max(n, 1))
	switch test {
	case "wet":
		return float64(m.Wet+m.Repeat) * each
	case "repeat":
		return m.Repeat * each
	case "leakage":
		return m.LeakageSetup + float64(m.LeakageEach*each)
	case "current":
		return m.Current
	case "running":
		return m.RunningEach * each
	case "vacuum":
		return m.Vacuum
	case "lash":
		return m.Lash
	case "timing_marks":
		return m.TimingMarks
	case "borescope":
		return m.BorescopeEach * each
	case "cooling_pressure":
		return m.CoolingPressure
	case "second_gauge":
		return m.SecondGauge + m.Repeat
	case "refit":
		return m.Refit
	case "power_balance":
		return m.PowerBalance
	}
	return 0
}
