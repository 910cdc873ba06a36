package opinion

import (
	"math"
	"slices"

	"crankbay/diagnose"
	"crankbay/diagnose/intake"
	"crankbay/diagnose/library"
	"crankbay/diagnose/reason"
	"crankbay/sim/unit"
)

// An Opinion is everything there is to show.
type Opinion struct {
	reason.Opinion // explanations, groups, tells, bits

	Library  string                 `json:"library"` // digest of the likelihood library it rests on
	Readings intake.Readings        `json:"readings"`
	Kept     bool                   `json:"kept"`           // every rule that can be applied is kept, and no leak is likelier than none
	Limits   []diagnose.RuleVerdict `json:"limits"`         // every rule side by side; figures of the page corrected for the height
	Air      float64                `json:"air"`            // by how much the page's figures were corrected; 1: not
	Causes   []Cause                `json:"causes"`         // the explanations, those of one group and place together
	Rest     float64                `json:"rest"`           // probability of what isn't among the causes
	Alike    []string               `json:"alike"`          // groups among the causes that no test of compression tells apart
	Method   []Check                `json:"method"`         // what to ask about the way it was measured, first things first
	Next     []Next                 `json:"next"`           // tests by what they tell for their minutes, best first
	Between  []reason.Label         `json:"between"`        // the two things they would have to tell apart
	Idle     string                 `json:"idle,omitempty"` // a common test that would not
	Cautions []string               `json:"cautions"`
}

// A Cause is what one would do something about: a group at a place, with the families it
// may be.
type Cause struct {
	Group       string          `json:"group"`
	Cylinders   []int           `json:"cylinders"` // none for the whole engine
	Probability float64         `json:"probability"`
	Words       string          `json:"words"` // how sure that is, one of Words
	Families    []Share         `json:"families"`
	Over        string          `json:"over,omitempty"` // what may lie over it and over those after it, see reason.Explanation
	OverShare   float64         `json:"over_share,omitempty"`
	For         []reason.Speaks `json:"for"`
	Against     []reason.Speaks `json:"against"`
}

// A Share is a family with its probability.
type Share struct {
	Family      string  `json:"family"`
	Probability float64 `json:"probability"`
}

// How sure something is, in words.
const (
	Certain    = "certain"     // from 95 %
	VeryLikely = "very_likely" // from 80 %
	Likely     = "likely"      // from 60 %
	Even       = "even"        // from 40 %
	Possible   = "possible"    // from 15 %
	Remote     = "remote"      // less
)

// Words lists them.
func Words() []string { return []string{Certain, VeryLikely, Likely, Even, Possible, Remote} }

func wordOf(p float64) string {
	switch {
	case p >= 0.95:
		return Certain
	case p >= 0.80:
		return VeryLikely
	case p >= 0.60:
		return Likely
	case p >= 0.40:
		return Even
	case p >= 0.15:
		return Possible
	}
	return Remote
}

// How much a reading says.
const (
	Strong = "strong" // 3 bits and more: odds by eight
	Clear  = "clear"  // 1 bit and more: odds by two
	Slight = "slight"
)

// Strengths lists them.
func Strengths() []string { return []string{Strong, Clear, Slight} }

// Strength says how much a reading speaks for something, or against it.
func Strength(s reason.Speaks) string {
	switch bits := math.Abs(s.Bits); {
	case bits >= 3:
		return Strong
	case bits >= 1:
		return Clear
	}
	return Slight
}

const (
	mostCauses = 5    // that are shown
	leastCause = 0.05 // and how probable each has to be
	leastShare = 0.02 // likewise a family of a cause

	mostExplanations = 60 // that leave this package; the groups are summed over all
)

// Of forms the opinion.
func Of(lib *library.Library, r intake.Readings, p reason.Priors) Opinion {
	e := evidenceOf(r)
	o := Opinion{Opinion: reason.Explain(lib, e, p), Library: lib.Digest, Readings: r, Air: 1}
	if e.Ambient.Is {
		o.Air = e.Ambient.V / float64(diagnose.StandardAtmosphere)
	}
	o.Limits = limits(r, unit.Pressure(e.Ambient.V))
	o.causes()
	o.Kept = o.kept()
	o.Method = checks(&o, e)
	o.next(e)
	o.Cautions = o.cautions()
	o.Explanations = o.Explanations[:min(len(o.Explanations), mostExplanations)]
	for i := range o.Explanations {
		x := &o.Explanations[i]
		x.For, x.Against = some(x.For), some(x.Against)
	}
	return o
}

// limits lets every rule have its say. No rule counts: which one does stands in the
// service information of the engine. Known are the figures that were given.
func limits(r intake.Readings, ambient unit.Pressure) []diagnose.RuleVerdict {
	l := diagnose.Limits{Standard: gauge(r.Engine.Standard), Minimum: gauge(r.Engine.Minimum), DifferenceMax: gauge(r.Engine.Difference)}
	var seen []diagnose.Seen
	for _, c := range r.Cylinders {
		seen = append(seen, diagnose.Seen{Cylinder: c.Number, Valid: c.Dry != nil, DryLast: gauge(c.Dry)})
	}
	return l.AtAltitude(ambient).Verdicts(seen)
}

// kept reports whether nothing speaks against the compression.
func (o *Opinion) kept() bool {
	known := 0
	for _, v := range o.Limits {
		if v.Known {
			known++
			if !v.Passed {
				return false
			}
		}
	}
	labels := o.Labels()
	return known > 0 && len(labels) > 0 && labels[0].Group == diagnose.FamilySound
}

func gauge(v *float64) unit.Gauge {
	if v == nil {
		return 0
	}
	return unit.Gauge(*v)
}

// causes puts explanations of one group and place together. What speaks for them is
// taken from the most probable.
func (o *Opinion) causes() {
	var all []Cause
	for _, x := range o.Explanations {
		at := -1
		for i := range all {
			if all[i].Group == x.Group && slices.Equal(all[i].Cylinders, x.Cylinders) {
				at = i
			}
		}
		if at < 0 {
			at = len(all)
			all = append(all, Cause{
				Group: x.Group, Cylinders: x.Cylinders, Families: []Share{}, Over: x.Over, OverShare: x.OverProbability, For: some(x.For), Against: some(x.Against),
			})
		}
		all[at].Probability += x.Probability
		if x.Probability >= leastShare {
			all[at].Families = append(all[at].Families, Share{x.Family, x.Probability})
		}
	}
	falling(all)
	said := map[string]bool{}
	for i := range all { // what lies over several is said once
		if o := all[i].Over; o != "" && said[o] {
			all[i].Over, all[i].OverShare = "", 0
		} else {
			said[o] = true
		}
	}
	o.Rest = 1
	o.Causes = []Cause{}
	for _, c := range all {
		if len(o.Causes) < mostCauses && c.Probability >= leastCause {
			c.Words = wordOf(c.Probability)
			o.Causes = append(o.Causes, c)
			o.Rest -= c.Probability
		}
	}
	o.Rest = max(0, o.Rest)
	o.Alike = []string{}
	for _, c := range o.Causes {
		if len(c.Cylinders) == 0 && reason.Merged(c.Group) == diagnose.FamilySound {
			o.Alike = append(o.Alike, c.Group)
		}
	}
}

// falling sorts by falling probability; equals keep their order.
func falling(list []Cause) {
	for i := range list {
		for k := i; k > 0 && list[k].Probability > list[k-1].Probability; k-- {
			list[k], list[k-1] = list[k-1], list[k]
		}
	}
}

func some(list []reason.Speaks) []reason.Speaks {
	if list == nil {
		return []reason.Speaks{}
	}
	return list
}
