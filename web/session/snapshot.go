package session

import (
	"math"

	"crankbay/sim"
	"crankbay/web/wire"
)

// section reports whether the inside of the engine may be shown: always with
// reasons, when asked for alone, for the grade only once it is handed in.
func (c *Core) section() bool {
	switch c.mode {
	case ModeReasons:
		return true
	case ModeAlone:
		return c.asked("section") || c.s.Sheet().HandedIn
	}
	return c.s.Sheet().HandedIn
}

// Select chooses the cylinder of the section view, 0 for none. It is not part
// of the attempt.
func (c *Core) Select(cylinder int) {
	if c.s != nil && cylinder >= 0 && cylinder <= c.scenario.Engine.Cylinders {
		c.selected = cylinder
	}
}

// Snapshot writes this moment into dst (layout: web/wire) and returns the
// number of slots, 0 when nothing is open.
func (c *Core) Snapshot(dst []float64) int {
	if c.s == nil {
		return 0
	}
	b := c.s.Bench()
	e, st := b.Engine(), &c.state
	s := &c.snap
	s.Tick, s.Minutes = b.Tick(), b.Minutes()
	s.CrankAngle, s.Speed = e.Angle(), e.Speed()
	s.Starter = st.Starter
	s.Current, s.Volts, s.RPM = shown(st.Clamp, b.Amps()), shown(st.Voltmeter, b.Volts()), shown(st.Tachometer, b.RPM())
	s.Release, s.Throttle = st.Release, 0
	if st.Throttle != "shut" {
		s.Throttle = 1
	}
	s.Needle, s.Gauged = float64(b.Needle().Indicated()), st.HoseOn
	s.FullScale = float64(b.GaugeRange())
	s.Section, s.Selected = c.section(), c.selected
	s.Tests = c.tools(b)
	c.cylinders(e)
	return s.Encode(dst)
}

func shown(on bool, value float64) float64 {
	if !on {
		return math.NaN()
	}
	return value
}

// cylinders fills the slots of each cylinder; what only the section view shows
// is empty where that view is not allowed.
func (c *Core) cylinders(e *sim.Engine) {
	s := &c.snap
	n := c.scenario.Engine.Cylinders
	if len(s.Cylinders) != n {
		s.Cylinders = make([]wire.Cylinder, n)
	}
	s.Hiss, s.Leaks = 0, wire.Leaks{}
	for i := range s.Cylinders {
		cyl := i + 1
		out := wire.Cylinder{Pressure: math.NaN(), Plug: int(e.Plug(cyl)), Bank: c.bankOf(cyl)}
		out.Travel, out.Angle = e.PistonTravel(cyl), e.CylinderAngle(cyl)
		if s.Section {
			out.IntakeLift, out.ExhaustLift = e.ValveLift(cyl)
			out.Pressure = e.Pressure(cyl)
			out.Oil = e.OilOnPiston(cyl) * 1e6
		}
		if e.Plug(cyl) == sim.PlugOut {
			s.Hiss += math.Abs(e.PlugFlow(cyl))
		}
		s.Cylinders[i] = out
	}
	if s.Section && s.Selected > 0 {
		l := &s.Leaks
		l.Rings, l.Intake, l.Exhaust, l.Gasket = e.LeakFlow(s.Selected)
	}
}

func (c *Core) bankOf(cylinder int) int {
	for i, bank := range c.scenario.Engine.Banks {
		for _, n := range bank {
			if n == cylinder {
				return i + 1
			}
		}
	}
	return 1
}
