package opinion

import (
	"crankbay/diagnose"
	"crankbay/diagnose/intake"
	"crankbay/diagnose/reason"
)

// A Check is something to ask about the way it was measured.
type Check struct {
	Key       string `json:"key"`   // one of Unsaid where the state is unknown, else of Checked
	State     string `json:"state"` // no: it was otherwise than it should be; unknown: nobody said; else empty
	Cylinders []int  `json:"cylinders,omitempty"`
}

// What can be asked, and states.
const (
	AskThrottle = "throttle"    // was it held wide open
	AskPlugs    = "plugs"       // were all out
	AskStrokes  = "strokes"     // as many on each
	AskWarm     = "warm"        // at temperature
	AskSpeed    = "speed"       // how fast did it turn, with what battery
	AskGauge    = "gauge"       // gauge, adapter and seal proved
	AskRepeat   = "repeat"      // the surprising cylinders read again
	AskControl  = "wet_control" // a healthy cylinder tested wet too
	AskOil      = "wet_high"    // a wet reading far above the dry ones: too much oil
	AskUnread   = "unread"      // cylinders without a reading
	AskHeight   = "altitude"
	AskBanks    = "banks" // which cylinder stands where
	AskUnit     = "unit"  // the unit was guessed
	AskLash     = "lash"  // clearances mean something beside their specification

	StateNo      = "no"
	StateUnknown = "unknown"
)

// Unsaid lists what can be asked because nobody said it.
func Unsaid() []string {
	return []string{AskThrottle, AskPlugs, AskStrokes, AskSpeed, AskWarm, AskHeight, AskBanks, AskLash}
}

// Checked lists what can be asked for another reason.
func Checked() []string {
	return []string{AskThrottle, AskPlugs, AskStrokes, AskSpeed, AskWarm, AskOil, AskRepeat, AskUnread, AskControl, AskGauge, AskUnit}
}

const (
	// suspect: from this probability that the method or the speed is to blame, or what may
	// lie over a cause, the gauge is asked about too (judgement).
	suspect = 0.10
	// surprising: a reading this far from the highest is taken again before it is believed.
	// The thresholds of the patterns of package diagnose; common practice, no source.
	surprising = 0.875
	// oiled: a wet reading this far above the highest dry one is oil taking up room, not
	// sealing. A healthy cylinder gains 9–25 % in the field, and 10 ml fill a few percent of
	// a chamber.
	oiled = 1.35
	// slow: under this a reading can't be held against a limit [rpm], as in package diagnose.
	slow = 195
)

// checks lists what a colleague would ask, what was certainly otherwise first.
func checks(o *Opinion, e reason.Evidence) []Check {
	c := &asking{}
	r := o.Readings
	c.answer(AskThrottle, e.Throttle)
	c.answer(AskPlugs, e.Plugs)
	c.answer(AskStrokes, e.Strokes)
	if e.Speed.Is && e.Speed.V < slow {
		c.no(AskSpeed)
	}
	c.some(AskOil, "", overOiled(r))
	c.some(AskRepeat, "", unrepeated(r))
	c.some(AskUnread, "", unread(r))
	if wetAlone(r) {
		c.ask(AskControl)
	}
	if o.blames() {
		c.ask(AskGauge)
	}
	if !e.Speed.Is && !e.Volts.Is {
		c.unknown(AskSpeed)
	}
	c.answer(AskWarm, e.Warm)
	if !e.Ambient.Is {
		c.unknown(AskHeight)
	}
	if o.asksBanks(e) {
		c.unknown(AskBanks)
	}
	if r.Guessed {
		c.ask(AskUnit)
	}
	c.some(AskLash, StateUnknown, lashAlone(r))
	return append(append(c.nos, c.asks...), c.unknowns...)
}

// asking gathers checks by how much they matter.
type asking struct{ nos, asks, unknowns []Check }

func (c *asking) no(key string)  { c.nos = append(c.nos, Check{Key: key, State: StateNo}) }
func (c *asking) ask(key string) { c.asks = append(c.asks, Check{Key: key}) }
func (c *asking) unknown(key string) {
	c.unknowns = append(c.unknowns, Check{Key: key, State: StateUnknown})
}

func (c *asking) answer(key string, a reason.Answer) {
	switch a {
	case reason.No:
		c.no(key)
	case reason.NotKnown:
		c.unknown(key)
	}
}

func (c *asking) some(key, state string, cylinders []int) {
	if len(cylinders) > 0 {
		c.asks = append(c.asks, Check{key, state, cylinders})
	}
}

// blames reports whether the way of measuring is worth suspecting.
func (o *Opinion) blames() bool {
	p := 0.0
	for _, g := range o.Groups {
		if g.Group == diagnose.FamilyMethodOrGauge || g.Group == diagnose.FamilySlowCranking {
			p += g.Probability
		}
	}
	return p >= suspect || len(o.Causes) > 0 && o.Causes[0].Over != ""
}

// asksBanks reports whether it matters who stands beside whom and nobody said it. Few
// engines of four cylinders or fewer have two banks.
func (o *Opinion) asksBanks(e reason.Evidence) bool {
	if e.Banks != nil || len(e.Cylinders) < 3 {
		return false
	}
	between := 0.0
	for _, x := range o.Explanations {
		if x.Family == reason.GasketBetween {
			between += x.Probability
		}
	}
	return e.Layout != "" || len(e.Cylinders) > 4 || between >= suspect
}

// highest returns the highest dry reading.
func highest(r intake.Readings) float64 {
	top := 0.0
	for _, c := range r.Cylinders {
		if c.Dry != nil {
			top = max(top, *c.Dry)
		}
	}
	return top
}

// unrepeated lists the cylinders that read otherwise than most and were read once.
func unrepeated(r intake.Readings) []int {
	top := highest(r)
	low, read := 0, 0
	for _, c := range r.Cylinders {
		if c.Dry != nil {
			read++
			if *c.Dry < surprising*top {
				low++
			}
		}
	}
	var out []int
	for _, c := range r.Cylinders {
		if c.Dry == nil || low == 0 || len(c.Repeats) > 0 || c.Second != nil || c.Wet != nil {
			continue
		}
		if *c.Dry < surprising*top == (2*low <= read) { // the few low ones, or the few high ones
			out = append(out, c.Number)
		}
	}
	return out
}

func overOiled(r intake.Readings) []int {
	top := highest(r)
	var out []int
	for _, c := range r.Cylinders {
		if c.Wet != nil && top > 0 && *c.Wet > oiled*top {
			out = append(out, c.Number)
		}
	}
	return out
}

func unread(r intake.Readings) []int {
	var out []int
	for _, c := range r.Cylinders {
		if c.Dry == nil {
			out = append(out, c.Number)
		}
	}
	return out
}

// wetAlone reports whether low cylinders were tested wet and no healthy one, so that
// nothing says what oil does on this engine.
func wetAlone(r intake.Readings) bool {
	top := highest(r)
	low, healthy := false, false
	for _, c := range r.Cylinders {
		if c.Wet != nil && c.Dry != nil {
			low = low || *c.Dry < surprising*top
			healthy = healthy || *c.Dry >= surprising*top
		}
	}
	return low && !healthy
}

func lashAlone(r intake.Readings) []int {
	var out []int
	for _, c := range r.Cylinders {
		if c.LashIn != nil && r.Engine.LashInSpec == nil || c.LashEx != nil && r.Engine.LashExSpec == nil {
			out = append(out, c.Number)
		}
	}
	return out
}
