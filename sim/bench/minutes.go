package bench

import "crankbay/sim/record"

// TestMinutes is what the confirming tests cost on this engine [min]. A figure
// of 0 stands for what an ordinary engine with everything within reach costs.
// Fields as in the procedure card, so that one converts to the other; what only a
// plan counts (Repeat, Refit) is not charged here, because its moves are.
type TestMinutes struct {
	Wet             float64 // oil into one cylinder
	Repeat          float64
	LeakageSetup    float64 // with the first tester-on
	LeakageEach     float64 // each tester-on
	Current         float64 // clamp on
	RunningEach     float64 // spark and injector of one cylinder off
	Vacuum          float64 // gauge on
	Lash            float64 // the first cylinder, covers and all
	TimingMarks     float64
	BorescopeEach   float64
	CoolingPressure float64
	SecondGauge     float64 // another gauge than the one in hand
	Refit           float64
	PowerBalance    float64
}

// mostTestMinutes is a working day.
const mostTestMinutes = 480.0

func (m *TestMinutes) all() []float64 {
	return []float64{
		m.Wet, m.Repeat, m.LeakageSetup, m.LeakageEach, m.Current, m.RunningEach, m.Vacuum, m.Lash, m.TimingMarks, m.BorescopeEach,
		m.CoolingPressure, m.SecondGauge, m.Refit, m.PowerBalance,
	}
}

// lashFurther is what each further cylinder takes while the covers are off [min]
// (judgement).
const lashFurther = 2.0

// lashSetShare of the engine's minutes for measuring is what setting the valves of one
// kind of one cylinder takes, lashSetLeast at least [min]: where covers come off easily a
// screw is turned, where they don't it is shims (judgement).
const lashSetShare, lashSetLeast = 0.25, 3.0

// pourMinutes is how much of a wet test's minutes goes by with the oil already on
// the piston [min] (judgement).
const pourMinutes = 1.0

// usual is the engine with everything within reach (common practice, no source).
var usual = TestMinutes{
	Wet: 1, Repeat: 3, LeakageSetup: 5, LeakageEach: 2, Current: 5, RunningEach: 3, Vacuum: 3, Lash: 20, TimingMarks: 30,
	BorescopeEach: 5, CoolingPressure: 10, SecondGauge: 2, Refit: 4, PowerBalance: 10,
}

// ready is what has been fetched or uncovered and need not be again. It follows from
// the log alone, and that is in every digest.
type ready struct {
	tester bool // the leakage tester stands by
	valves bool // can be got at
	gauge  int  // on the tray, of the gauge last taken in hand; -1 none yet
}

// Cost returns the bench minutes that an action takes as things stand, whether or not
// it would be possible; 0 for what takes none or is no action of the bench. What an
// action names itself (so many minutes of waiting) is not in it but counted on top.
func (b *Bench) Cost(a record.Action) float64 {
	k := find(a.Kind)
	switch {
	case k == nil:
		return 0
	case a.Kind == KindOil:
		return or(b.setup.Minutes.Wet, usual.Wet)
	case a.Kind == KindTurn:
		return turnMinutes
	case a.Kind == KindPowerBalance:
		return or(b.setup.Minutes.PowerBalance, usual.PowerBalance)
	case a.Kind == KindEngineRun && a.Choice == "on":
		return startMinutes
	case a.Kind == KindGauge:
		if i := b.gaugeOf(a.Choice); i < 0 || b.ready.gauge < 0 || i == b.ready.gauge {
			return 0
		}
		return or(b.setup.Minutes.SecondGauge, usual.SecondGauge)
	}
	return b.costs(k, a)
}

// gaugeOf returns the place of a gauge on the tray, -1 when it isn't there.
func (b *Bench) gaugeOf(id string) int {
	for i := range b.setup.Gauges {
		if b.setup.Gauges[i].ID == id {
			return i
		}
	}
	return -1
}

// cost returns what an action that was just done takes [min], and keeps what it has
// made ready.
func (b *Bench) cost(k *act, a record.Action) float64 {
	minutes := b.costs(k, a)
	switch a.Kind {
	case KindTesterOn:
		b.ready.tester = true
	case KindLash:
		b.ready.valves = true
	case KindGauge:
		b.ready.gauge = b.hands.gauge
	}
	return minutes
}

func (b *Bench) costs(k *act, a record.Action) float64 {
	m, on := &b.setup.Minutes, a.Choice == "on"
	switch a.Kind {
	case KindOil: // the rest went by before
		return min(or(m.Wet, usual.Wet), pourMinutes)
	case KindTesterOn:
		each := or(m.LeakageEach, usual.LeakageEach)
		if b.ready.tester {
			return each
		}
		return or(m.LeakageSetup, usual.LeakageSetup) + each
	case KindClamp:
		if on {
			return or(m.Current, usual.Current)
		}
	case KindVacuumGauge:
		if on {
			return or(m.Vacuum, usual.Vacuum)
		}
	case KindDisableOne:
		if a.Choice == "disabled" {
			return or(m.RunningEach, usual.RunningEach)
		}
	case KindLash:
		if b.ready.valves {
			return lashFurther
		}
		return or(m.Lash, usual.Lash)
	case KindSetLash:
		return max(lashSetLeast, lashSetShare*or(m.Lash, usual.Lash))
	case KindTiming:
		return or(m.TimingMarks, usual.TimingMarks)
	case KindBorescope:
		return or(m.BorescopeEach, usual.BorescopeEach)
	case KindCoolingPressure:
		return or(m.CoolingPressure, usual.CoolingPressure)
	case KindGauge:
		if b.hands.gauge != b.ready.gauge && b.ready.gauge >= 0 {
			return or(m.SecondGauge, usual.SecondGauge)
		}
	}
	return k.minutes
}

// or returns a figure of the set-up, or the usual one where it gives none.
func or(given, usual float64) float64 {
	if given > 0 {
		return given
	}
	return usual
}
