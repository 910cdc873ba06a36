// Package compose looks at a scenario the way its author has to: what the engine reads
// by the book, what these readings allow to be said, and whether a student can reach
// the key at all.
package compose

import (
	"slices"

	"crankbay/diagnose"
	"crankbay/diagnose/library"
	"crankbay/diagnose/reason"
	"crankbay/scenarios"
	"crankbay/scenarios/book"
	"crankbay/sim/unit"
)

// What the evidence can do for the key of a scenario.
const (
	Settled        = "settled"          // dry and wet readings support it, by the rules of the grade
	SettledByTests = "settled_by_tests" // they leave it open; leakage, lash and timing marks tell
	Unsettled      = "unsettled"        // it stays one of several
	Misled         = "misled"           // the readings say something else
)

// Verdicts lists what the evidence can do.
func Verdicts() []string { return []string{Settled, SettledByTests, Unsettled, Misled} }

// saidFrom is how probable an explanation has to be after all tests to be called said.
// Our own choice (common practice, no source).
const saidFrom = 0.3

// A Look is what an author is shown of a scenario.
type Look struct {
	Pattern   string             `json:"pattern"` // one of diagnose.Patterns
	Suspects  []int              `json:"suspects"`
	Supported []diagnose.Finding `json:"supported"` // by dry and wet readings, as the grade takes them
	Open      []diagnose.Finding `json:"open"`
	Verdict   string             `json:"verdict"` // one of Verdicts; empty after a quick look
	Warnings  []Warning          `json:"warnings"`
	Dry       []book.Reading     `json:"dry"` // by the book, as read off the dial
	Wet       []book.Reading     `json:"wet,omitempty"`
	Leakage   []book.Leak        `json:"leakage,omitempty"`
	ByGauge   []reason.Group     `json:"by_gauge,omitempty"` // explanations by dry and wet readings, most probable first
	ByTests   []reason.Group     `json:"by_tests,omitempty"` // with the leakage test too
	KeyGauge  *float64           `json:"key_gauge"`          // probability of the key, or one as good, by dry and wet readings; null when nothing weighed it
	KeyTests  *float64           `json:"key_tests"`          // with the leakage test too
}

// A Warning is one thing an author may want to change. The texts are
// compose.<key>.
type Warning struct {
	Key      string  `json:"key"`
	Cylinder int     `json:"cylinder,omitempty"`
	Value    float64 `json:"value,omitempty"` // psi
	Limit    float64 `json:"limit,omitempty"` // psi
}

// Keys of warnings.
const (
	WarnUnsettled  = "unsettled"        // no test that students have can tell
	WarnMisled     = "misled"           // the readings point elsewhere
	WarnOffScale   = "off_scale"        // a reading lies beyond the scale of the gauge
	WarnNothing    = "nothing_to_read"  // a cylinder gives no reading at all
	WarnOneLang    = "one_language"     // a text stands in one language only
	WarnTells      = "text_tells"       // a text names the family of the key
	WarnSoundFails = "sound_but_failed" // the key says sound, the limits say no
)

// Warnings lists the keys of warnings.
func Warnings() []string {
	return []string{WarnUnsettled, WarnMisled, WarnOffScale, WarnNothing, WarnOneLang, WarnTells, WarnSoundFails}
}

// Quick looks at the dry test alone: fast enough to follow a slider.
func Quick(s *scenarios.Scenario) (Look, error) {
	r, err := book.Run(s, book.Options{Kind: book.Dry, AsRead: true, ByCard: true})
	if err != nil {
		return Look{}, err
	}
	l := lookAt(s, r)
	l.Dry = r.Readings
	l.plain(s)
	return l, nil
}

// Whole looks at dry and wet test and at leakage, and says what they can do for the
// key. lib weighs the explanations; nil is allowed, then the rules of the grade alone
// have their say.
func Whole(s *scenarios.Scenario, lib *library.Library) (Look, error) {
	kind := book.Wet
	if s.Card.OilML == 0 {
		kind = book.Dry
	}
	r, err := book.Run(s, book.Options{Kind: kind, AsRead: true, ByCard: true})
	if err != nil {
		return Look{}, err
	}
	l := lookAt(s, r)
	if l.Dry = r.Readings; kind == book.Wet {
		l.Dry, l.Wet = r.Dry, r.Readings
	}
	leaks, err := book.Leakage(s, book.LeakageOptions{AsRead: true})
	if err == nil { // an engine that cannot be turned to its tops has none
		l.Leakage = leaks.Cylinders
	}
	l.weigh(s, lib)
	l.plain(s)
	return l, nil
}

func lookAt(s *scenarios.Scenario, r book.Result) Look {
	e := diagnose.Gather(s.Card, s.Engine.Cylinders, s.Engine.Banks, r.Record, r.Record.Tick+1)
	j := diagnose.Judge(e, s.Card.Limits, s.Card.OilML > 0)
	l := Look{Pattern: j.Pattern, Suspects: j.Suspects, Supported: j.Supported, Open: j.Open, Warnings: []Warning{}}
	for _, v := range s.Card.Limits.Verdicts(e.Seen) {
		if v.Counts && v.Known && !v.Passed && s.Key.Family == diagnose.FamilySound {
			l.warn(Warning{Key: WarnSoundFails, Cylinder: v.Lowest, Value: v.Low.PSI()})
		}
	}
	return l
}

func (l *Look) warn(w Warning) { l.Warnings = append(l.Warnings, w) }

// weigh asks how probable the key is, and gives the verdict.
func (l *Look) weigh(s *scenarios.Scenario, lib *library.Library) {
	supported, open := names(l.Supported, s.Key), names(l.Open, s.Key)
	told := len(s.Key.NextTests) > 0 // without a library: the author says that a test tells
	if lib != nil {
		e := l.evidence(s)
		first := reason.Explain(lib, e, reason.Priors{})
		gauge := probability(first, s.Key)
		l.ByGauge, l.KeyGauge = top(first.Groups), &gauge
		l.tests(s, &e)
		second := reason.Explain(lib, e, reason.Priors{})
		tests := probability(second, s.Key)
		l.ByTests, l.KeyTests = top(second.Groups), &tests
		told = tests >= saidFrom
	}
	switch {
	case supported:
		l.Verdict = Settled
	case open && told:
		l.Verdict = SettledByTests
	case open:
		l.Verdict = Unsettled
		l.warn(Warning{Key: WarnUnsettled})
	default:
		l.Verdict = Misled
		l.warn(Warning{Key: WarnMisled})
	}
}

func top(g []reason.Group) []reason.Group { return g[:min(len(g), 5)] }

// good lists the key and what is worth as much.
func good(k diagnose.Key) []diagnose.Finding {
	return append([]diagnose.Finding{{Family: k.Family, Cylinders: k.Cylinders}}, k.Accept...)
}

func names(list []diagnose.Finding, k diagnose.Key) bool {
	for _, f := range list {
		for _, g := range good(k) {
			if fits(f.Family, f.Cylinders, g) {
				return true
			}
		}
	}
	return false
}

func fits(family string, cylinders []int, g diagnose.Finding) bool {
	return family == g.Family && (len(cylinders) == 0 || len(g.Cylinders) == 0 || slices.Equal(cylinders, g.Cylinders))
}

// probability sums the explanations that are the key or as good. As in a grade, words that
// leave a good engine closed count as one: no test here tells them apart.
func probability(o reason.Opinion, k diagnose.Key) (sum float64) {
	for _, x := range o.Explanations {
		for _, g := range good(k) {
			g.Family = reason.Merged(g.Family)
			if fits(reason.Merged(x.Group), x.Cylinders, g) {
				sum += x.Probability
				break
			}
		}
	}
	return sum
}

func pascal(psi float64) reason.Number { return reason.Of(float64(unit.PSI(psi))) }

// evidence is what dry and wet test tell, as a student would have written it down.
func (l *Look) evidence(s *scenarios.Scenario) reason.Evidence {
	air, _ := s.Air()
	e := reason.Evidence{
		Cylinders: make([]reason.Cylinder, s.Engine.Cylinders), Banks: s.Engine.Banks, Layout: s.Engine.Layout,
		Throttle: reason.Yes, Plugs: reason.Yes, Warm: reason.Yes, Strokes: reason.Yes,
		Ratio: reason.Of(s.Engine.Compression), Ambient: reason.Of(air * 1000),
	}
	if s.Card.Limits.Standard > 0 {
		e.Standard = reason.Of(float64(s.Card.Limits.Standard))
	}
	if s.Card.Limits.Minimum > 0 {
		e.Minimum = reason.Of(float64(s.Card.Limits.Minimum))
	}
	if !s.Card.PlugsOut {
		e.Plugs = reason.No
	}
	slowest, volts := 0.0, 0.0
	for i, r := range l.Dry {
		c := &e.Cylinders[r.Cylinder-1]
		c.Dry, c.First = pascal(r.FinalPSI), pascal(r.FirstPSI)
		if i == 0 || r.RPM < slowest {
			slowest, volts = r.RPM, r.BatteryMinV
		}
	}
	for _, r := range l.Wet {
		e.Cylinders[r.Cylinder-1].Wet = pascal(r.FinalPSI)
	}
	if slowest > 0 {
		e.Speed, e.Volts = reason.Of(slowest), reason.Of(volts)
	}
	return e
}

// tests adds what leakage test, feeler gauge and timing marks tell.
func (l *Look) tests(s *scenarios.Scenario, e *reason.Evidence) {
	for _, k := range l.Leakage {
		c := &e.Cylinders[k.Cylinder-1]
		c.Leakage = reason.Of(k.Percent)
		c.Heard = heard(k)
	}
	p := s.Params()
	e.Late = make([]reason.Number, len(s.Engine.Banks))
	for i := range e.Cylinders {
		c := p.Cylinder[i]
		e.Late[c.Bank] = reason.Of(c.IntakeShift * degrees)
		if s.Card.LashCheck {
			e.Cylinders[i].LashIn, e.Cylinders[i].LashEx = reason.Of(c.IntakeLash*millimetres), reason.Of(c.ExhaustLash*millimetres)
		}
	}
}

const (
	degrees     = 180 / 3.14159265358979323846 // in one rad
	millimetres = 1000                         // in one m
)
