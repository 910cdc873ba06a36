package bench

import (
	"math"

	"crankbay/sim"
	"crankbay/sim/record"
	"crankbay/sim/unit"
)

const (
	// A hand multimeter averages over about 0.1 s and shows tenths of a volt; a
	// workshop tachometer averages over about half a second and shows fives
	// (judgement, common instruments).
	voltTime = 0.1 // [s]
	rpmTime  = 0.5 // [s]
	voltStep = 0.1
	rpmStep  = 5.0
)

// meters are the voltmeter at the battery posts and the tachometer, with what
// they hold of the last run they saw.
type meters struct {
	volts, rpm        float64 // smoothed
	lowVolts, meanRPM float64 // of the last run seen
	lowSeen, meanSeen bool
}

func (m *meters) digest(h hash) hash {
	return h.float(m.volts, m.rpm, m.lowVolts, m.meanRPM).bool(m.lowSeen, m.meanSeen)
}

// reset lets both meters stand on what is there at rest.
func (m *meters) reset(e *sim.Engine) { m.volts, m.rpm = e.Voltage(), 0 }

func (m *meters) step(b *Bench) {
	const dt = 1.0 / record.TicksPerSecond
	m.volts += float64((b.engine.Voltage() - m.volts) * (dt / voltTime))
	m.rpm += float64((unit.RPM(math.Abs(b.engine.Speed())) - m.rpm) * (dt / rpmTime))
	if b.still() {
		m.rpm = 0
	}
}

// keep holds lowest voltage and mean speed of a run for whichever meter was on.
func (m *meters) keep(b *Bench, r record.Run) {
	m.lowSeen = b.hands.voltmeter && r.BatteryMinV > 0
	m.meanSeen = b.hands.tachometer && r.SpeedRPM > 0
	m.lowVolts, m.meanRPM = to(voltStep, r.BatteryMinV), to(rpmStep, r.SpeedRPM)
}

// to rounds to the nearest step.
func to(step, v float64) float64 { return math.Floor(v/step+0.5) * step }

// Volts returns what the voltmeter shows when it is on [V].
func (b *Bench) Volts() float64 { return to(voltStep, b.meters.volts) }

// RPM returns what the tachometer shows when it is on [rpm].
func (b *Bench) RPM() float64 { return to(rpmStep, b.meters.rpm) }
