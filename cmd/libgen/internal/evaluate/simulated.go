package evaluate

import (
	"math"
	"slices"
	"sort"

	"gonum.org/v1/gonum/stat"

	"crankbay/diagnose/library"
	"crankbay/diagnose/reason"
)

// Even draws each family equally often on one cylinder, pair, bank or engine, so
// these are the priors a reader of its figures would have.
func Even(families map[string]bool) reason.Priors {
	var p reason.Priors
	for _, f := range reason.Families() {
		one := reason.Prior{Family: f.Name}
		if families[f.Name] {
			one.One = 1
		}
		p.List = append(p.List, one)
	}
	return p
}

// Same says which families a set of tests can't tell apart, each by the first of its
// kind.
func Same(set, family string) string {
	for _, m := range merges {
		if m.families[0] == reason.ValveHeldOpen {
			continue // by the air, see Subject.same
		}
		for _, s := range m.sets {
			if s == set {
				for _, f := range m.families {
					if f == family {
						return m.families[0]
					}
				}
			}
		}
	}
	return family
}

// A Merge is families that no test of some sets tells apart.
type Merge struct {
	sets     []string
	families []string
	Why      string
}

var every = []string{"dry", "dry+wet", "dry+wet+leakage", "all"}

var merges = []Merge{
	{every, []string{reason.Sound, reason.NotHere, reason.ExhaustBlocked, reason.Altitude},
		"nothing is wrong with the compression of any; no test here measures back pressure, and the height is known"},
	{every, []string{reason.ExhaustLeak, reason.CarbonFlake}, "a flake on a seat is a leaking seat until the engine has run"},
	{every[2:], []string{reason.ValveHeldOpen, reason.ExhaustLeak, reason.IntakeLeak},
		"a bent valve leaks as a burnt one does; it counts as the valve at which its air was heard"},
	{every[:2], []string{
		reason.ExhaustLeak, reason.IntakeLeak, reason.ValveHeldOpen, reason.CarbonFlake, reason.TightLash, reason.BrokenLand, reason.ScoredBore,
		reason.HoledPiston, reason.GasketCoolant, reason.GasketOutside,
	}, "a leak that oil does not seal reads the same wherever it is"},
	{every[:3], []string{reason.Sound, reason.NotHere, reason.ExhaustBlocked, reason.Altitude, reason.WeakSpring, reason.ExhaustDead},
		"normal at cranking speed"},
	{every[:3], []string{reason.Sound, reason.NotHere, reason.ExhaustBlocked, reason.Altitude, reason.GaugeShifted, reason.CarbonAll},
		"even, and not far from what the page says"},
	{every[:2], []string{reason.BankTiming, reason.BankLash, reason.BankBent}, "one bank low, no gain with oil"},
	{every[:2], []string{reason.CarbonOne, reason.LiquidOne}, "less room over one piston"},
}

// Merges lists them for a report.
func Merges() []map[string]any {
	var out []map[string]any
	for _, m := range merges {
		out = append(out, map[string]any{"sets": m.sets, "families": m.families, "why": m.Why})
	}
	return out
}

// A Score is how often the truth came first, and among the first three.
type Score struct {
	N, First, Three int
	Group           int // right group first
}

// Share is a count as a share of all.
func share(k, n int) float64 {
	if n == 0 {
		return 0
	}
	return math.Round(1000*float64(k)/float64(n)) / 1000
}

// Calibration gathers how sure was said against how often it was right.
type Calibration struct{ said, right []float64 }

// Add notes one statement.
func (c *Calibration) Add(said float64, right bool) {
	c.said = append(c.said, said)
	r := 0.0
	if right {
		r = 1
	}
	c.right = append(c.right, r)
}

// Error is the expected calibration error over ten bins of equal width: the mean distance
// of how sure was said from how often it was right, each bin weighed by its size.
func (c *Calibration) Error() float64 {
	bins := 10
	sum := 0.0
	for b := range bins {
		var said, right []float64
		for i, s := range c.said {
			if int(math.Min(s*float64(bins), float64(bins-1))) == b {
				said, right = append(said, s), append(right, c.right[i])
			}
		}
		if len(said) > 0 {
			sum += float64(len(said)) / float64(len(c.said)) * math.Abs(stat.Mean(said, nil)-stat.Mean(right, nil))
		}
	}
	return math.Round(1e4*sum) / 1e4
}

// A Judged is what came of one subject with one set of tests.
type Judged struct {
	First, Three, Group bool
	Said                float64 // probability of what came first
	Instead             string  // family that came first
}

// Judge explains a subject's evidence and holds it against the truth.
func Judge(lib *library.Library, s *Subject, set TestSet, p reason.Priors) Judged {
	o := reason.Weigh(lib, s.With(set), p)
	type entry struct {
		family    string
		cylinders []int
		p         float64
	}
	var list []entry
	for _, x := range o.Explanations {
		f := s.same(set.Name, x.Family)
		at := -1
		cyl := x.Cylinders
		if whole(f) {
			cyl = nil
		}
		for i := range list {
			if list[i].family == f && slices.Equal(list[i].cylinders, cyl) {
				at = i
			}
		}
		if at < 0 {
			at = len(list)
			list = append(list, entry{family: f, cylinders: cyl})
		}
		list[at].p += x.Probability
	}
	sort.SliceStable(list, func(i, k int) bool { return list[i].p > list[k].p })
	want := s.same(set.Name, s.Family)
	cyl := sorted(s.Slot.Cylinders)
	if whole(want) {
		cyl = nil
	}
	j := Judged{}
	for i, x := range list {
		hit := x.family == want && slices.Equal(x.cylinders, cyl)
		j.First = j.First || hit && i == 0
		j.Three = j.Three || hit && i < 3
	}
	if len(list) > 0 {
		j.Said, j.Instead = list[0].p, list[0].family
	}
	j.Group = len(o.Groups) > 0 && reason.Merged(o.Groups[0].Group) == reason.Merged(groupOf(s.Family))
	return j
}

// same is Same for a subject. A valve held open a little leaks as a burnt one does, and no
// test with the head on tells them apart; which valve it is, the air says.
func (s *Subject) same(set, family string) string {
	if family == reason.ValveHeldOpen && (set == "dry+wet+leakage" || set == "all") && len(s.Slot.Cylinders) == 1 {
		air := s.Tests.Air[s.Slot.Cylinders[0]-1]
		family = reason.ExhaustLeak
		if air[0] > air[1] { // throttle, tailpipe
			family = reason.IntakeLeak
		}
	}
	return Same(set, family)
}

// whole says that a merged family is about no single cylinder.
func whole(family string) bool { return family == reason.Sound }

func groupOf(family string) string {
	for _, f := range reason.Families() {
		if f.Name == family {
			return f.Group
		}
	}
	return ""
}

func sorted(list []int) []int {
	out := append([]int(nil), list...)
	sort.Ints(out)
	return out
}

// Share is a count as a share of all, to a thousandth.
func Share(k, n int) float64 { return share(k, n) }

// Add counts one subject.
func (s *Score) Add(j Judged) {
	s.N++
	for _, x := range []struct {
		is bool
		n  *int
	}{{j.First, &s.First}, {j.Three, &s.Three}, {j.Group, &s.Group}} {
		if x.is {
			*x.n++
		}
	}
}
