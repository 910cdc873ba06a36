package population

import (
	"math"

	"crankbay/diagnose/library"
	"crankbay/diagnose/reason"
)

// Healthy is the family whose examples say how the healthy cylinders of one engine
// differ among themselves.
const Healthy = reason.HealthyExamples

// An Example is one row of a family.
type Example struct {
	Family string
	Base   int
	Values []float64
}

// Examples turns what the tests of a case show into rows. design is the dry reading
// [psi] and the speed [rpm] of the sound engine of that design.
func Examples(c Case, t Tests, design Design) []Example {
	n := c.Scenario.Engine.Cylinders
	faulty := make([]bool, n)
	for _, s := range c.Slots {
		for _, k := range s.Cylinders {
			faulty[k-1] = true
		}
	}
	m := t.means(faulty)
	var out []Example
	for _, s := range c.Slots {
		switch s.Scope {
		case reason.ScopeEngine:
			out = append(out, Example{s.Family, c.Base, t.engineRow(m, design)})
		case reason.ScopePair:
			out = append(out, Example{s.Family, c.Base, append(t.role(s.Cylinders[0]-1, m), t.role(s.Cylinders[1]-1, m)...)})
		case reason.ScopeBank:
			out = append(out, Example{s.Family, c.Base, t.bankRow(s.Cylinders, m)})
		default:
			out = append(out, Example{s.Family, c.Base, t.role(s.Cylinders[0]-1, m)})
		}
	}
	if len(c.Slots) == 1 && (c.Slots[0].Family == reason.Sound || c.Slots[0].Family == reason.NotHere) {
		for i := range min(n, 3) {
			out = append(out, Example{Healthy, c.Base, t.role(i, m)})
		}
	}
	return out
}

// means are what the healthy cylinders of an engine read.
type means struct{ dry, first, wet, leak, hump, idle, snap, pull, uneven float64 }

func (t *Tests) means(faulty []bool) means {
	mean := func(v []float64) float64 {
		sum, n := 0.0, 0.0
		for i, x := range v {
			if !faulty[i] && !math.IsNaN(x) {
				sum, n = sum+x, n+1
			}
		}
		if n == 0 {
			return math.NaN()
		}
		return sum / n
	}
	share := make([]float64, len(t.Dry))
	for i := range share {
		share[i] = math.NaN()
		if t.Dry[i] > 1 {
			share[i] = t.First[i] / t.Dry[i]
		}
	}
	m := means{mean(t.Dry), mean(share), mean(t.Wet), mean(t.Leakage), mean(t.Hump), mean(t.Idle), mean(t.Snap), mean(t.Pull), 0}
	off := make([]float64, len(t.Dry))
	for i, x := range t.Dry {
		off[i] = (x - m.dry) * (x - m.dry)
	}
	m.uneven = math.Sqrt(mean(off)) / max(m.dry, 1)
	return m
}

// role is the row of one cylinder.
func (t *Tests) role(i int, m means) []float64 {
	r := make([]float64, library.OfCylinder.Width())
	r[library.Dry] = t.Dry[i] / m.dry
	r[library.First] = math.NaN()
	if t.Dry[i] > 10 {
		r[library.First] = t.First[i]/t.Dry[i] - m.first
	}
	r[library.Wet] = t.Wet[i] / m.wet
	r[library.Leakage] = t.Leakage[i] - m.leak
	for k := range airOrder {
		r[library.Throttle+k] = t.Air[i][k]
	}
	r[library.Hump] = t.Hump[i] / m.hump
	r[library.Idle], r[library.Snap] = t.Idle[i]/m.idle, t.Snap[i]/m.snap
	r[library.LashIn], r[library.LashEx] = t.LashIn[i], t.LashEx[i]
	r[library.Bore] = float64(t.Bore[i])
	if t.Cooling[i] {
		r[library.Cooling] = 1
	}
	r[library.Pull] = t.Pull[i] / m.pull
	return r
}

// bankRow is the mean row of a bank's cylinders.
func (t *Tests) bankRow(cylinders []int, m means) []float64 {
	var sum []float64
	for _, c := range cylinders {
		r := t.role(c-1, m)
		if sum == nil {
			sum = make([]float64, len(r))
		}
		for k, v := range r {
			sum[k] += v / float64(len(cylinders))
		}
	}
	return sum
}

// A Design is what the sound engine of a design does by the book.
type Design struct{ PSI, RPM float64 }

// engineRow is the row of a whole engine.
func (t *Tests) engineRow(m means, d Design) []float64 {
	r := make([]float64, library.OfEngine.Width())
	r[library.Level] = math.Log(max(m.dry, 3) / d.PSI)
	r[library.FirstShare] = m.first
	r[library.Gain] = math.NaN()
	if m.dry > 8 {
		r[library.Gain] = m.wet/m.dry - 1
	}
	r[library.Loss] = m.leak
	r[library.IdleShare], r[library.SnapShare] = math.NaN(), math.NaN()
	if m.dry > 8 {
		r[library.IdleShare], r[library.SnapShare] = m.idle/m.dry, m.snap/m.dry
	}
	r[library.Vacuum] = t.Vacuum / t.Ambient
	r[library.Speed] = t.RPM / d.RPM
	r[library.Volts] = t.Volts
	r[library.Ambient] = t.Ambient / 101.325
	for _, late := range t.Late {
		r[library.Late] += late / float64(len(t.Late))
	}
	r[library.Second] = 1
	if m.dry > 8 {
		sum := 0.0
		for i := range t.Second {
			sum += t.Second[i] / t.Dry[i] / float64(len(t.Dry))
		}
		r[library.Second] = sum
	}
	r[library.Uneven] = m.uneven
	t.scatter(r, m)
	n := float64(len(t.Dry))
	var bores [library.BoreCarbon + 1]int
	for i := range t.Dry {
		r[library.AllThrottle] += t.Air[i][0] / n
		r[library.AllTailpipe] += t.Air[i][1] / n
		r[library.AllFiller] += t.Air[i][2] / n
		r[library.AllLashIn] += t.LashIn[i] / n
		r[library.AllLashEx] += t.LashEx[i] / n
		bores[t.Bore[i]]++
	}
	for code, k := range bores {
		if k > bores[int(r[library.AllBore])] {
			r[library.AllBore] = float64(code)
		}
	}
	return r
}

// scatter notes how the cylinders of an engine differ among themselves in the other
// tests.
func (t *Tests) scatter(r []float64, m means) {
	n := float64(len(t.Dry))
	var dry, both, first, loss float64
	for i := range t.Dry {
		x, y := t.Dry[i]/math.Max(m.dry, 1)-1, t.Wet[i]/math.Max(m.wet, 1)-1
		dry += x * x / n
		both += x * y / n
		if t.Dry[i] > 10 {
			off := t.First[i]/t.Dry[i] - m.first
			first += off * off / n
		}
		off := t.Leakage[i] - m.leak
		loss += off * off / n
	}
	slope := 1.0
	if dry > 0.03*0.03 { // of less than that nothing can be said
		slope = math.Max(-0.5, math.Min(both/dry, 2))
	}
	rest := 0.0
	for i := range t.Dry {
		off := t.Wet[i]/math.Max(m.wet, 1) - 1 - slope*(t.Dry[i]/math.Max(m.dry, 1)-1)
		rest += off * off / n
	}
	r[library.UnevenWet], r[library.WetFollows] = math.Sqrt(rest), slope
	r[library.UnevenLoss], r[library.UnevenFirst] = math.Sqrt(loss), math.Sqrt(first)
}
