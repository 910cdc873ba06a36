package evaluate

import (
	"math"
	"math/rand/v2"
	"sort"

	"crankbay/diagnose/reason"
)

// Readings of simulated engines, spoiled as readings of real ones are, to judge what is
// said of those: how far single figures lie off, of themselves (assumptions, common
// practice, no source; they are this population's, and the inference is not told).
const (
	gaugeSD    = 0.06 // of all readings, by the gauge and the air of the day
	cylinderSD = 0.03 // of one reading, by strokes, battery, hands
	oilSD      = 0.35 // of the gain with oil, for the engine: capfuls are no measure
	oilEachSD  = 0.25 // and for one cylinder
	wetSD      = 0.02 // of one wet reading
	leakSD     = 0.15 // of one leakage, of itself
	slips      = 0.02 // readings that are written down wrong altogether
)

// A FieldLike is a simulated engine as somebody may write it down: nothing but figures,
// rounded. Weight is how often it is met, by the priors and severities of package reason.
type FieldLike struct {
	Group    string
	Weight   float64
	Evidence reason.Evidence
}

// FieldLikes spoils the readings of every subject, for one set of tests.
func FieldLikes(subjects []Subject, set TestSet, seed uint64) []FieldLike {
	count := map[string][]int{}
	for i := range subjects {
		f := subjects[i].Family
		if count[f] == nil {
			shares, _ := reason.Met(f)
			count[f] = make([]int, len(shares))
		}
		count[f][reason.BandOf(subjects[i].share())]++
	}
	prior := map[string]float64{}
	for _, f := range reason.Families() {
		prior[f.Name] = f.Prior
	}
	out := make([]FieldLike, len(subjects))
	for i := range subjects {
		s := &subjects[i]
		r := rand.New(rand.NewPCG(seed, uint64(s.Number)))
		out[i] = FieldLike{Group: groupOf(s.Family), Weight: prior[s.Family] * met(s, count[s.Family]), Evidence: s.spoiled(set, r)}
	}
	return out
}

// met returns the share of its family that a subject stands for.
func met(s *Subject, count []int) float64 {
	shares, ok := reason.Met(s.Family)
	all, total := 0.0, 0
	for b, n := range count {
		if n > 0 {
			all += shares[b]
		}
		total += n
	}
	if !ok || all == 0 {
		return 1 / float64(total)
	}
	b := reason.BandOf(s.share())
	return shares[b] / all / float64(count[b])
}

// share is what the worst cylinder reads of its healthy neighbours, or the engine of what
// its page says.
func (s *Subject) share() float64 {
	in := map[int]bool{}
	for _, c := range s.Slot.Cylinders {
		in[c] = true
	}
	sum, n, worst := 0.0, 0.0, math.Inf(1)
	for i, d := range s.Tests.Dry {
		if in[i+1] {
			worst = math.Min(worst, d)
		} else {
			sum, n = sum+d, n+1
		}
	}
	if len(in) == 0 || n == 0 {
		page := s.Standard / float64(6894.757) * s.Tests.Ambient / 101.325
		return mean(s.Tests.Dry) / page
	}
	return worst / math.Max(sum/n, 1)
}

func mean(list []float64) float64 {
	sum := 0.0
	for _, x := range list {
		sum += x
	}
	return sum / float64(len(list))
}

// spoiled is the evidence with nothing beside the figures.
func (s *Subject) spoiled(set TestSet, r *rand.Rand) reason.Evidence {
	e := reason.Evidence{Rough: true, Banks: s.Banks, Layout: layoutOf(s.Banks), Cylinders: make([]reason.Cylinder, len(s.Tests.Dry))}
	step := 1.0
	if r.IntN(2) == 0 {
		step = 5
	}
	gauge, oil := math.Exp(gaugeSD*r.NormFloat64()), math.Exp(oilSD*r.NormFloat64())
	for i := range e.Cylinders {
		c := &e.Cylinders[i]
		dry := s.Tests.Dry[i] * gauge * (1 + cylinderSD*r.NormFloat64())
		gain := s.Tests.Wet[i]/math.Max(s.Tests.Dry[i], 1) - 1
		wet := dry * (1 + gain*oil*math.Max(0, 1+oilEachSD*r.NormFloat64())) * (1 + wetSD*r.NormFloat64())
		if r.Float64() < slips {
			dry *= 0.7 + 0.6*r.Float64()
		}
		c.Dry = rounded(dry, step)
		for _, t := range set.Tests {
			switch t {
			case "wet":
				c.Wet = rounded(wet, step)
			case "leakage":
				c.Leakage = reason.Of(math.Min(100, math.Round(100*s.Tests.Leakage[i]*math.Exp(leakSD*r.NormFloat64()))))
				c.Heard = heard(s.Tests.Leakage[i], s.Tests.Air[i])
			}
		}
	}
	return e
}

func rounded(v, step float64) reason.Number {
	if math.IsNaN(v) {
		return reason.Number{}
	}
	return pa(math.Max(0, math.Round(v/step)*step))
}

func layoutOf(banks [][]int) string {
	if len(banks) > 1 {
		return reason.LayoutV
	}
	return reason.LayoutInline
}

// A FieldLikeScore gathers what was said of readings like those of the field, each weighed
// by how often it is met.
type FieldLikeScore struct {
	weight, first, three float64
	said, right, w       []float64
}

// Add takes in what was said of one. Groups that no test of compression tells apart count
// as one.
func (f *FieldLikeScore) Add(groups []reason.Group, x *FieldLike) {
	var list []reason.Group
	for _, g := range groups {
		name := reason.Merged(g.Group)
		at := -1
		for i := range list {
			if list[i].Group == name {
				at = i
			}
		}
		if at < 0 {
			at = len(list)
			list = append(list, reason.Group{Group: name})
		}
		list[at].Probability += g.Probability
	}
	sort.SliceStable(list, func(i, k int) bool { return list[i].Probability > list[k].Probability })
	want := reason.Merged(x.Group)
	f.weight += x.Weight
	for i, g := range list {
		if g.Group != want {
			continue
		}
		if i == 0 {
			f.first += x.Weight
		}
		if i < 3 {
			f.three += x.Weight
		}
	}
	hit := len(list) > 0 && list[0].Group == want
	r := 0.0
	if hit {
		r = 1
	}
	f.said, f.right, f.w = append(f.said, list[0].Probability), append(f.right, r), append(f.w, x.Weight)
}

// Line says it in figures.
func (f *FieldLikeScore) Line() map[string]any {
	line := map[string]any{"engines": len(f.w), "first": round(f.first / f.weight), "among_three": round(f.three / f.weight)}
	ece := 0.0
	var table []map[string]any
	for b := range 10 {
		said, right, w := 0.0, 0.0, 0.0
		for i, s := range f.said {
			if int(math.Min(10*s, 9)) == b {
				said, right, w = said+s*f.w[i], right+f.right[i]*f.w[i], w+f.w[i]
			}
		}
		if w > 0 {
			ece += math.Abs(said-right) / f.weight
			table = append(table, map[string]any{"said": round(said / w), "right": round(right / w), "share": round(w / f.weight)})
		}
	}
	line["calibration_error"], line["said_and_right"] = math.Round(1e4*ece)/1e4, table
	return line
}
