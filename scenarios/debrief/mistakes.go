package debrief

import (
	"slices"

	"crankbay/diagnose"
	"crankbay/scenarios/attempt"
)

// Mistakes that are looked for. The sentences are the page's.
const (
	ThrottleShut   = "throttle_shut"   // let go, though the card wants it open
	ThrottleHeld   = "throttle_held"   // held open, though the card wants it shut
	PlugsIn        = "plugs_in"        // other cylinders with their plugs in, though the card wants them out
	PlugsOut       = "plugs_out"       // the other way round
	FewStrokes     = "few_strokes"     // fewer than the card asks for
	UnequalStrokes = "unequal_strokes" // enough, but fewer than another cylinder got
	PartStroke     = "part_stroke"     // the first from where the crank was parked
	ColdEngine     = "cold_engine"     // under the card's window
	HotEngine      = "hot_engine"      // over it
	NoCharger      = "no_charger"      // though the card asks for one
	FuelLive       = "fuel_live"       // washes the bores
	NotReleased    = "not_released"    // the needle was not on zero
	AdapterReach   = "adapter_reach"   // longer or shorter than the plug
	AdapterRing    = "adapter_ring"    // without its O-ring
	BadGauge       = "bad_gauge"       // with another on the tray that reads right
	OilMuch        = "oil_much"        // more than the card allows
	OilLittle      = "oil_little"      // less than the card asks for
	TesterOverlap  = "tester_overlap"  // air on with both valves open, one turn out
	TesterOff      = "tester_off"      // air on with the piston away from the top
	VacuumOpen     = "vacuum_open"     // manifold vacuum with the throttle open
)

// MistakeKeys lists every mistake that is looked for, in the order it is said.
func MistakeKeys() []string {
	var keys []string
	for _, k := range mistakeKinds {
		keys = append(keys, k.key)
	}
	return keys
}

// A mistakeKind finds one mistake and says how the attempt would go without it.
type mistakeKind struct {
	key  string
	find func(*clinic) flaw
	mend func(*clinic, flaw) edit
}

// A flaw is where a mistake was made.
type flaw struct {
	runs  []int           // indices of the clinic's runs
	air   []int           // indices of its airings
	facts []diagnose.Fact // numbers for its sentence
}

func (f flaw) none() bool { return len(f.runs)+len(f.air) == 0 }

var mistakeKinds = []mistakeKind{
	{ThrottleShut, (*clinic).findThrottleShut, mendThrottle(true)},
	{ThrottleHeld, (*clinic).findThrottleHeld, mendThrottle(false)},
	{PlugsIn, (*clinic).findPlugsIn, (*clinic).mendPlugs},
	{PlugsOut, (*clinic).findPlugsOut, (*clinic).mendPlugs},
	{FewStrokes, (*clinic).findFewStrokes, (*clinic).mendStrokes},
	{UnequalStrokes, (*clinic).findUnequalStrokes, (*clinic).mendStrokes},
	{PartStroke, (*clinic).findPartStroke, (*clinic).mendPartStroke},
	{ColdEngine, (*clinic).findCold, (*clinic).mendCold},
	{HotEngine, (*clinic).findHot, (*clinic).mendHot},
	{NoCharger, (*clinic).findNoCharger, (*clinic).mendCharger},
	{FuelLive, (*clinic).findFuelLive, (*clinic).mendFuel},
	{NotReleased, (*clinic).findNotReleased, (*clinic).mendRelease},
	{AdapterReach, (*clinic).findReach, (*clinic).mendAdapter},
	{AdapterRing, (*clinic).findRing, (*clinic).mendAdapter},
	{BadGauge, (*clinic).findBadGauge, (*clinic).mendGauge},
	{OilMuch, (*clinic).findOilMuch, (*clinic).mendOil},
	{OilLittle, (*clinic).findOilLittle, (*clinic).mendOil},
	{TesterOverlap, (*clinic).findOverlap, (*clinic).mendTester},
	{TesterOff, (*clinic).findOffTop, (*clinic).mendTester},
	{VacuumOpen, (*clinic).findVacuumOpen, mendThrottle(false)},
}

// A Mistake is one thing done otherwise than the card says, with what it did to the
// readings: the attempt was played again without it, everything else as it was.
type Mistake struct {
	Key       string          `json:"key"`
	Tick      int64           `json:"tick"`    // when it first told
	Minutes   float64         `json:"minutes"` // bench minutes then
	Cylinders []int           `json:"cylinders"`
	Facts     []diagnose.Fact `json:"facts"`
	Effects   []Effect        `json:"effects"`   // largest first; none when nothing that can be read changes
	Corrected bool            `json:"corrected"` // every cylinder was tested again without it
	Verdict   *Turned         `json:"verdict"`   // what the card's rule would have said, when it is something else
}

// weight says how much a mistake matters [Pa]: what it did to the reading it did most
// to, and far more when it turned the verdict.
func (m Mistake) weight() float64 {
	if len(m.Effects) == 0 {
		return 0
	}
	w := m.Effects[0].size()
	if m.Verdict != nil {
		w += 1e7
	}
	return w
}

// Turned is a limit rule that would have come to another verdict.
type Turned struct {
	Before diagnose.RuleVerdict `json:"before"`
	After  diagnose.RuleVerdict `json:"after"`
}

// Mistakes is what went wrong by hand, and all of it together.
type Mistakes struct {
	List []Mistake `json:"list"` // what weighs most first, then in the order of MistakeKeys
	// Together is what every reading would have been without any of them; empty when
	// there is none.
	Together []Effect `json:"together"`
	Most     Most     `json:"most"` // the one thing to take away
}

// MistakesOf finds the mistakes of a verified attempt and plays it again without
// each of them, and without all. tell, which may be nil, hears how far it is.
func MistakesOf(v attempt.Report, tell func(done, of int)) (Mistakes, error) {
	c, err := newClinic(v, nil)
	if err != nil {
		return Mistakes{}, err
	}
	out, err := c.mistakes(tell)
	out.Most = MostOf(v.Grade, out)
	return out, err
}

func (c *clinic) mistakes(tell func(done, of int)) (Mistakes, error) {
	type found struct {
		kind mistakeKind
		flaw flaw
		edit edit
	}
	var all []found
	together := c.tape.edit()
	for _, k := range mistakeKinds {
		f := k.find(c)
		if f.none() {
			continue
		}
		e := k.mend(c, f)
		all = append(all, found{k, f, e})
		together.and(e)
	}
	out := Mistakes{List: []Mistake{}, Together: []Effect{}}
	for i, x := range all {
		if tell != nil {
			tell(i, len(all)+1)
		}
		m, _, err := c.without(x.edit)
		if err != nil {
			return out, err
		}
		m.Key, m.Facts = x.kind.key, x.flaw.facts
		c.place(&m, x.flaw)
		out.List = append(out.List, m)
	}
	if len(all) == 0 {
		return out, nil
	}
	slices.SortStableFunc(out.List, func(a, b Mistake) int {
		switch {
		case a.weight() > b.weight():
			return -1
		case a.weight() < b.weight():
			return 1
		}
		return 0
	})
	m, _, err := c.without(together)
	out.Together = m.Effects
	return out, err
}

// without plays the attempt with an edit and compares.
func (c *clinic) without(e edit) (Mistake, take, error) {
	t, err := c.tape.play(c.s, e)
	if err != nil {
		return Mistake{}, t, err
	}
	return Mistake{Effects: c.effects(t), Verdict: c.turned(t)}, t, nil
}

// turned compares the verdict of the card's rule.
func (c *clinic) turned(t take) *Turned {
	after := t.session.Grade().Rules
	for i, r := range c.v.Grade.Rules {
		if i < len(after) && r.Counts && r.Known && after[i].Known && r.Passed != after[i].Passed {
			return &Turned{r, after[i]}
		}
	}
	return nil
}

// place says when and on which cylinders a mistake told, and whether it was noticed.
func (c *clinic) place(m *Mistake, f flaw) {
	m.Cylinders, m.Corrected = []int{}, true
	at := func(tick int64, minutes float64) {
		if m.Minutes == 0 || minutes < m.Minutes {
			m.Tick, m.Minutes = tick, minutes
		}
	}
	for _, k := range f.runs {
		r := c.runs[k].run
		at(r.StartTick, r.Minutes)
		if r.Cylinder > 0 {
			m.Cylinders = appendNew(m.Cylinders, r.Cylinder)
		}
		m.Corrected = m.Corrected && c.again(k, f)
	}
	for _, k := range f.air {
		l := c.air[k].leak
		at(l.Tick, l.Minutes)
		m.Cylinders = appendNew(m.Cylinders, l.Cylinder)
		m.Corrected = m.Corrected && c.airAgain(k, f)
	}
}

// again says whether the test of run k was done once more without the flaw.
func (c *clinic) again(k int, f flaw) bool {
	for i := k + 1; i < len(c.runs); i++ {
		a, b := c.runs[k], c.runs[i]
		if a.run.Cylinder == b.run.Cylinder && a.wet() == b.wet() && (b.gauged() || b.sensed) && !slices.Contains(f.runs, i) {
			return true
		}
	}
	return false
}

func (c *clinic) airAgain(k int, f flaw) bool {
	for i := k + 1; i < len(c.air); i++ {
		if c.air[i].leak.Cylinder == c.air[k].leak.Cylinder && !slices.Contains(f.air, i) {
			return true
		}
	}
	return false
}

func appendNew(list []int, n int) []int {
	if slices.Contains(list, n) {
		return list
	}
	return append(list, n)
}
