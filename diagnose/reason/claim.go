package reason

import (
	"math"

	"crankbay/diagnose/library"
	"crankbay/sim/num"
)

// A claim is one thing that may be the matter with some cylinders: a family and where it
// sits. Of a pair the first cylinder is the worse one.
type claim struct {
	kind  *kind
	in    set
	first int // of a pair, from 0
	prior float64
	log   float64 // logarithm of the likelihood of the cylinders, with the levels' integral
	l     levels
}

// most cylinders that one family is thought to be on at once without being on all.
const mostSeveral = 4

// claims lists what may be the matter with single cylinders, with priors.
func (v *view) claims(all []kind, priors []Prior) []claim {
	a := arrange(v.e)
	n := len(v.cyl)
	var out []claim
	for i := range all {
		k := &all[i]
		if len(k.rows) == 0 || v.e.TwoStroke && needsValves(k.Name) {
			continue
		}
		switch k.Scope {
		case ScopeCylinder:
			for c := range n {
				if v.cyl[c].any || v.gap && v.e.Rough {
					out = append(out, claim{kind: k, in: setOf(c), prior: priors[i].One / float64(n)})
				}
			}
			out = append(out, v.several(k, priors[i].Several)...)
		case ScopePair:
			total := 0.0
			for _, p := range a.pairs {
				total += p.weight
			}
			// The more pairs the more gaskets: three, as in a row of four, have the prior
			// between them, a twin's one pair a third of it, a V engine up to half more.
			total = max(3, total/1.5)
			for _, p := range a.pairs {
				if v.cyl[p.a].any || v.cyl[p.b].any {
					w := priors[i].One * p.weight / total / 2
					out = append(out, claim{kind: k, in: setOf(p.a, p.b), first: p.a, prior: w}, claim{kind: k, in: setOf(p.a, p.b), first: p.b, prior: w})
				}
			}
		case ScopeBank:
			for _, b := range a.banks {
				if v.anyOf(b.in) {
					out = append(out, claim{kind: k, in: b.in, prior: priors[i].One * b.weight / 2})
				}
			}
		}
	}
	return out
}

func needsValves(family string) bool {
	switch family {
	case ExhaustLeak, IntakeLeak, ValveHeldOpen, CarbonFlake, TightLash, IntakeDead, ExhaustDead, WeakSpring, BankTiming, BankLash, BankBent,
		TimingLate, TimingEarly, TimingFar, LashAll, ValvesAll:
		return true
	}
	return false
}

func (v *view) anyOf(in set) bool {
	for i := range v.cyl {
		if in.has(i) && v.cyl[i].any {
			return true
		}
	}
	return false
}

// several lists the sets of cylinders one family may be on at once: the two, three, four
// lowest, and all. Others would say that a lower cylinder is healthier.
func (v *view) several(k *kind, prior float64) []claim {
	if prior <= 0 {
		return nil
	}
	order := v.byDry(k.Name == CarbonOne || k.Name == LiquidOne || k.Name == ExhaustDead)
	n := len(order)
	var out []claim
	in := set(0)
	for i, c := range order {
		in |= setOf(c)
		if i == 0 || i+1 > mostSeveral && i+1 < n {
			continue
		}
		// Half of the time it is two, a quarter three, and so on; any two of n.
		w := prior / float64(int(1)<<uint(min(i, 6))) / choose(len(v.cyl), i+1)
		out = append(out, claim{kind: k, in: in, prior: w})
	}
	return out
}

// byDry lists the cylinders with a dry reading, lowest first, or highest.
func (v *view) byDry(high bool) []int {
	var order []int
	for i := range v.cyl {
		x := v.cyl[i].dry
		if !known(x) {
			continue
		}
		at := len(order)
		for at > 0 && (v.cyl[order[at-1]].dry > x) != high && v.cyl[order[at-1]].dry != x {
			at--
		}
		order = append(order[:at], append([]int{i}, order[at:]...)...)
	}
	return order
}

func choose(n, k int) float64 {
	c := 1.0
	for i := range k {
		c *= float64(n-i) / float64(i+1)
	}
	return c
}

// weigh works out the likelihood of a claim's cylinders.
func (v *view) weigh(c *claim, x expectation) {
	c.l = v.levelsOf(c.in)
	if c.l.dry.seen > 0 || !v.anyDry() {
		if c.l.dry.seen == 0 {
			c.l.dry = mean{num.Exp(x.log), x.variance * num.Exp(2*x.log), 0}
		}
		c.log = v.at(c, &c.l) + c.l.integral()
		return
	}
	// Nobody healthy to hold them against: the level is what the engine should read,
	// give or take, by a sum over seven places of its distribution.
	sd := math.Sqrt(x.variance)
	best, total := math.Inf(-1), 0.0
	var logs [7]float64
	var weights float64
	for i := range logs {
		z := float64(float64(i-3) * 0.8)
		c.l = v.levelsAt(c.in, num.Exp(x.log+float64(z*sd)))
		logs[i] = v.at(c, &c.l) + c.l.integral() - float64(z*z/2)
		weights += num.Exp(-z * z / 2)
		best = max(best, logs[i])
	}
	for _, y := range logs {
		total += num.Exp(y - best)
	}
	c.log = best + num.Log(total/weights)
	c.l = v.levelsAt(c.in, num.Exp(x.log))
}

func (v *view) anyDry() bool {
	for i := range v.cyl {
		if known(v.cyl[i].dry) {
			return true
		}
	}
	return false
}

// levelsAt is levelsOf with the dry level given.
func (v *view) levelsAt(in set, dry float64) levels {
	l := v.levelsOf(in)
	l.dry = mean{dry, 0, 0}
	return l
}

// at returns the logarithm of the likelihood of all cylinders at given levels.
func (v *view) at(c *claim, l *levels) float64 {
	sum := 0.0
	u := even
	if l.dry.seen > 0 && v.usual > 0 {
		u.level = l.dry.v / v.usual // at which the others stand that have only words
	}
	for i := range v.cyl {
		if v.cyl[i].any && !c.in.has(i) {
			h := emptyHeap()
			v.kernels(&h, &v.cyl[i], healthyRow, v.beside(c.kind), l, &u, false)
			v.refit(&h, i, -1, l.dry.v)
			sum += logOf(h.value(), h.k)
		} else if !v.cyl[i].any && (c.kind.Scope == ScopeCylinder || !c.in.has(i)) {
			sum += v.passedOver(c, i, u.level)
		}
	}
	if c.kind.Scope != ScopeCylinder {
		return sum + v.sharing(c, l)
	}
	for i := range v.cyl { // each of several has its own severity
		if v.cyl[i].any && c.in.has(i) {
			total, count := 0.0, 0
			for r, row := range c.kind.rows {
				one := emptyHeap()
				v.kernels(&one, &v.cyl[i], row, c.kind.widths[r], l, &even, c.kind.one)
				v.refit(&one, i, -1, l.dry.v)
				one.factor(v.cooling(row[library.Cooling]))
				total += float64(c.kind.weight[r] * one.value())
				count = one.k
			}
			sum += logOf(total/float64(len(c.kind.rows)), count)
		}
	}
	return sum
}

// other returns the other cylinder of a pair, -1 where a claim is about none.
func (c *claim) other(i int) int {
	if c.kind.Scope == ScopePair {
		for k := range mostCylinders {
			if k != i && c.in.has(k) {
				return k
			}
		}
	}
	return -1
}

// passedOver returns the logarithm of how probably nothing is said of cylinder i, when the
// healthy ones read a share of what they should.
func (v *view) passedOver(c *claim, i int, level float64) float64 {
	if !c.in.has(i) {
		return v.unlisted(i, level)
	}
	if !v.e.Rough || !v.listed || !v.passed.has(i) {
		return 0
	}
	sum := 0.0
	for r, row := range c.kind.rows {
		sum += float64(c.kind.weight[r] * num.Exp(v.unlisted(i, float64(level*row[library.Dry]))))
	}
	return num.Log(sum / float64(len(c.kind.rows)))
}

// beside returns the variances among the healthy cylinders beside a faulty one. A
// cylinder that doesn't breathe, or lies full, drives or brakes the crank for others, and
// their humps say little.
func (v *view) beside(k *kind) []float64 {
	switch k.Name {
	case IntakeDead, ExhaustDead, LiquidOne, ValveHeldOpen:
		return v.shaken
	}
	return v.healthy
}

// sharing returns the logarithm of the likelihood of a pair or a bank, whose cylinders
// share one example.
func (v *view) sharing(c *claim, l *levels) float64 {
	total, count := 0.0, 0
	for r, row := range c.kind.rows {
		h := emptyHeap()
		for i := range v.cyl {
			if !c.in.has(i) {
				continue
			}
			from := 0
			if c.kind.Scope == ScopePair && i != c.first {
				from = library.OfCylinder.Width()
			}
			if !v.cyl[i].any {
				h.factor(num.Exp(v.unlisted(i, row[from+library.Dry])))
				continue
			}
			v.kernels(&h, &v.cyl[i], row[from:], c.kind.widths[r][from:], l, &even, false)
			v.refit(&h, i, c.other(i), l.dry.v)
		}
		h.factor(v.cooling(row[library.Cooling]))
		total += float64(c.kind.weight[r] * h.value())
		count = h.k
	}
	return logOf(total/float64(len(c.kind.rows)), count)
}
