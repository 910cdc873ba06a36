package reason

import (
	"math"

	"crankbay/diagnose"
	"crankbay/diagnose/library"
	"crankbay/sim/num"
)

// An Explanation is one thing that may be the matter.
type Explanation struct {
	Group       string  `json:"group"` // family of a conclusion, as package diagnose names it
	Family      string  `json:"family"`
	Cylinders   []int   `json:"cylinders"` // none for the whole engine
	Probability float64 `json:"probability"`
	// Over is what may lie over it: how probably the readings were spoiled by the method,
	// or lowered by height or slow cranking, beside this. The most probable, if it is more
	// than nothing.
	Over            string  `json:"over,omitempty"`
	OverProbability float64 `json:"over_probability,omitempty"`

	For     []Speaks `json:"for"`
	Against []Speaks `json:"against"`
}

// A Group is what a conclusion would name, with the probabilities of its families summed.
type Group struct {
	Group       string  `json:"group"`
	Probability float64 `json:"probability"`
}

// An Opinion is what the evidence allows to be said.
type Opinion struct {
	Explanations []Explanation `json:"explanations"` // most probable first
	Groups       []Group       `json:"groups"`       // likewise
	// Tells is false when the readings have hardly moved what would have been thought
	// without them, or leave too much open to name anything.
	Tells bool `json:"tells"`
	// Bits is how much was learned: the divergence of what is thought now from what was
	// thought before [bits].
	Bits float64 `json:"bits"`

	state *state
}

// A world is one explanation under one state of the whole engine.
type world struct {
	claim int     // of state.claims, -1 for none
	whole int     // kind of the whole engine
	p     float64 // probability
}

// state is an inference with all its parts, for what is asked afterwards.
type state struct {
	v      view
	x      expectation
	kinds  []kind
	priors []Prior
	claims []claim
	none   levels // of an engine without a faulty cylinder
	worlds []world
}

// Explain weighs every explanation of the evidence and says what speaks for the first of
// them and against them.
func Explain(lib *library.Library, e Evidence, p Priors) Opinion {
	o := Weigh(lib, e, p)
	o.speak(e, p)
	return o
}

// Weigh is Explain without what speaks for and against, at a tenth of the time.
func Weigh(lib *library.Library, e Evidence, p Priors) Opinion {
	s := infer(lib, e, p)
	o := s.opinion()
	o.state = s
	return o
}

// infer does the arithmetic.
func infer(lib *library.Library, e Evidence, p Priors) *state {
	s := &state{v: viewOf(e)}
	s.v.healthy = healthyWidth(lib)
	s.v.shaken = append([]float64(nil), s.v.healthy...)
	s.v.shaken[library.Hump] = 0.3 * 0.3
	s.x = s.v.expect()
	s.v.usual = num.Exp(s.x.log)
	s.kinds = s.v.kinds(lib, s.x)
	s.priors = s.v.informed(p)
	s.claims = s.v.claims(s.kinds, s.priors)
	s.none = s.v.levelsOf(0)
	if s.none.dry.seen == 0 {
		s.none.dry = mean{num.Exp(s.x.log), s.x.variance * num.Exp(2*s.x.log), 0}
	}
	s.weigh()
	return s
}

// worthAsking is how far below the best a claim may lie to be asked again when a reading
// is left out, a logarithm.
const worthAsking = 12

// without infers again from the evidence with a reading left out, over the claims that had
// a chance with it: which of the others would have come up makes little difference to the
// odds of the first ones, and it takes a third of the time.
func (s *state) without(e Evidence, p Priors) *state {
	n := &state{v: viewOf(e), kinds: s.kinds}
	n.v.healthy, n.v.shaken = s.v.healthy, s.v.shaken
	n.v.listed, n.v.gap, n.v.passed = s.v.listed, s.v.gap, s.v.passed // leaving out is not passing over
	n.x = n.v.expect()
	n.v.usual = num.Exp(n.x.log)
	if n.x.page != s.x.page {
		n.kinds = append([]kind(nil), s.kinds...)
		for i := range n.kinds {
			if n.kinds[i].Name == ByDesign {
				n.kinds[i].rows, n.kinds[i].widths = byDesign(n.x)
				n.kinds[i].weight = weightsOf(&n.kinds[i], false)
				n.kinds[i].differ(&n.v)
			}
		}
	}
	n.priors = n.v.informed(p)
	top := math.Inf(-1)
	for i := range s.claims {
		if c := &s.claims[i]; c.prior > 0 {
			top = max(top, c.log+num.Log(c.prior))
		}
	}
	for _, c := range s.claims {
		if !(c.prior > 0) || c.log+num.Log(c.prior) < top-worthAsking {
			continue
		}
		c.prior *= s.changed(n, c.kind)
		n.claims = append(n.claims, c)
	}
	n.none = n.v.levelsOf(0)
	if n.none.dry.seen == 0 {
		n.none.dry = mean{num.Exp(n.x.log), n.x.variance * num.Exp(2*n.x.log), 0}
	}
	n.weigh()
	return n
}

// changed returns by what the prior of a kind is multiplied in another state.
func (s *state) changed(n *state, k *kind) float64 {
	for i := range s.kinds {
		if s.kinds[i].Name == k.Name && s.priors[i].One > 0 {
			return n.priors[i].One / s.priors[i].One
		}
	}
	return 1
}

// wholes lists the kinds of whole engines, with how probable each is when nothing else
// is the matter, and beside a faulty cylinder.
func (s *state) wholes() (kinds []int, alone, beside []float64) {
	total := 0.0
	for i := range s.kinds {
		total += s.priors[i].One + s.priors[i].Several
	}
	book := 1.0
	at := -1
	for i := range s.kinds {
		k := &s.kinds[i]
		if k.Scope != ScopeEngine || len(k.rows) == 0 || s.v.e.TwoStroke && needsValves(k.Name) {
			continue
		}
		if k.Name == Altitude && s.v.e.Ambient.Is {
			continue // the height is known and counts for all
		}
		b := 0.0
		if lies(k.Name) {
			b = min(0.3, 2*s.priors[i].One/total)
			book -= b
		}
		if k.Name == Sound {
			at = len(kinds)
		}
		kinds, alone, beside = append(kinds, i), append(alone, s.priors[i].One), append(beside, b)
	}
	if at >= 0 {
		beside[at] = max(0.02, book)
	}
	return kinds, alone, beside
}

// lies says which states of a whole engine are thought of beside a faulty cylinder:
// what belongs to the test or to the day, not a second fault.
func lies(family string) bool {
	switch family {
	case SlowCranking, ThrottleShut, PlugsIn, GaugeLeaks, GaugeShifted, FewStrokes, Altitude, ByDesign, RingsAll:
		return true
	}
	return false
}

// worthwhile is how far below the best a claim's likelihood may lie and still be set
// against every state of the engine, a logarithm.
const worthwhile = 16

// weigh fills in the worlds.
func (s *state) weigh() {
	kinds, alone, beside := s.wholes()
	var logs []float64
	add := func(w world, log float64) {
		s.worlds, logs = append(s.worlds, w), append(logs, log)
	}
	best := math.Inf(-1)
	coarse := s.v.coarse()
	for j, i := range kinds {
		if alone[j] > 0 {
			log := num.Log(alone[j]) + float64(coarse*s.v.none(&s.kinds[i], &s.none, s.x))
			add(world{claim: -1, whole: i}, log)
			best = max(best, log)
		}
	}
	top := math.Inf(-1)
	for c := range s.claims {
		if q := &s.claims[c]; q.prior > 0 {
			s.v.weigh(q, s.x)
			top = max(top, q.log+num.Log(q.prior))
		}
	}
	for c := range s.claims {
		q := &s.claims[c]
		if !(q.prior > 0) || q.log+num.Log(q.prior) < top-worthwhile {
			continue
		}
		v, extra := s.v.forTiming(q)
		for j, i := range kinds {
			if s.kinds[i].Name == RingsAll && q.kind.Name == WornRings {
				continue // that is rings worn unevenly
			}
			if beside[j] <= 0 || q.l.dry.seen == 0 && s.kinds[i].Name != Sound {
				continue
			}
			log := num.Log(q.prior*beside[j]) + float64(coarse*(q.log+extra+v.under(&s.kinds[i], &q.l, s.x)))
			add(world{claim: c, whole: i}, log)
			best = max(best, log)
		}
	}
	sum := 0.0
	for i := range logs {
		s.worlds[i].p = num.Exp(logs[i] - best)
		sum += s.worlds[i].p
	}
	for i := range s.worlds {
		s.worlds[i].p /= sum
	}
}

// forTiming returns the view a claim's engine is held against, and a logarithm: when one
// bank's cams are off, the marks of that bank say so and the mean of all says nothing.
func (v *view) forTiming(c *claim) (*view, float64) {
	if c.kind.Name != BankTiming || !known(v.late()) {
		return v, 0
	}
	own := *v
	own.e.Late = nil
	const hit, miss = 0.025, 0.0005 // per degree; a jump lies anywhere within 40°
	for b, late := range v.e.Late {
		if b < len(v.e.Banks) && late.Is && math.Abs(late.V) >= 4 && setOf(zeroBased(v.e.Banks[b : b+1])[0]...) == c.in {
			return &own, num.Log(hit)
		}
	}
	return &own, num.Log(miss)
}

// opinion sums the worlds up by what one would say.
func (s *state) opinion() Opinion {
	var o Opinion
	for _, w := range s.worlds {
		s.tell(&o, w)
	}
	for i := range o.Explanations {
		s.cover(&o.Explanations[i])
	}
	sortBy(o.Explanations, func(x *Explanation) float64 { return x.Probability })
	for _, x := range o.Explanations {
		at := -1
		for g := range o.Groups {
			if o.Groups[g].Group == x.Group {
				at = g
			}
		}
		if at < 0 {
			at = len(o.Groups)
			o.Groups = append(o.Groups, Group{Group: x.Group})
		}
		o.Groups[at].Probability += x.Probability
	}
	sortBy(o.Groups, func(g *Group) float64 { return g.Probability })
	o.Bits = s.learned()
	o.Tells = o.Bits >= leastBits && len(o.Groups) > 0 && o.Groups[0].Probability >= leastSure
	return o
}

// What it takes to say anything: a third of a bit learned, and a group with three tenths
// (judgement).
const leastBits, leastSure = 0.33, 0.3

// tell adds a world to the explanation it belongs to.
func (s *state) tell(o *Opinion, w world) {
	k := &s.kinds[w.whole]
	cylinders := []int{}
	if w.claim >= 0 && !s.blind(w) {
		k = s.claims[w.claim].kind
		cylinders = s.claims[w.claim].in.list()
	}
	add := func(group, family string, p float64) {
		if p <= 0 {
			return
		}
		for i := range o.Explanations {
			if x := &o.Explanations[i]; x.Family == family && x.Group == group && sameInts(x.Cylinders, cylinders) {
				x.Probability += float64(p)
				return
			}
		}
		o.Explanations = append(o.Explanations, Explanation{Group: group, Family: family, Cylinders: cylinders, Probability: p})
	}
	high, built := 0.0, 0.0
	if w.claim < 0 && (k.Name == Sound || k.Name == NotHere) {
		high = s.height()
		built = float64((1 - high) * s.v.built())
	}
	add(k.Group, k.Name, float64(w.p*(1-high-built)))
	add(diagnose.FamilyAltitude, Altitude, float64(w.p*high))
	add(diagnose.FamilyNormalByDesign, ByDesign, float64(w.p*built))
}

// blind says that a world's fault can't be seen under its state of the engine: where next
// to nothing reaches the gauge anything may be the matter beside, and only the first is
// told.
func (s *state) blind(w world) bool {
	l := &s.claims[w.claim].l
	return s.kinds[w.whole].Name != Sound && l.dry.seen > 0 && l.dry.v < blindBelow
}

// blindBelow is a level of the healthy cylinders at which nothing else can be seen [bar].
const blindBelow = 12 * psi

// height says with a known height how probably a sound engine's readings look too low
// for no other reason: they would fall short of what is asked at sea level and don't
// here.
func (s *state) height() float64 {
	e := &s.v.e
	if !e.Ambient.Is || s.x.air > 0.96 {
		return 0
	}
	asked, soft := 0.92*usual, 0.12
	switch {
	case e.Minimum.Is:
		asked, soft = e.Minimum.V/bar, 0.03
	case e.Standard.Is:
		asked, soft = 0.92*e.Standard.V/bar, 0.04
	case e.Ratio.Is:
		asked = 0.92 * min(e.Ratio.V, ratioKnown) * barPerRatio
	}
	return s.v.looksLow(asked, soft)
}

// looksLow returns how probably readings look too low to somebody who asks for so much.
func (v *view) looksLow(asked, soft float64) float64 {
	lowest := math.Inf(1)
	for i := range v.cyl {
		if d := v.cyl[i].dry; known(d) {
			lowest = min(lowest, d)
		}
	}
	short := (1 - lowest/asked) / soft
	return 0.95 / (1 + num.Exp(-max(-30, min(2*short, 30))))
}

// closesLate is how probably an engine of 12 to 1 and more closes its intake late when it is
// cranked (judgement).
const closesLate = 0.8

// built says, where a high ratio is all that is known of the design, how probably a sound
// engine's readings look too low for it and are as its makers meant them: its ratio would
// promise more than an intake that closes late keeps.
func (v *view) built() float64 {
	e := &v.e
	if !e.Ratio.Is || e.Ratio.V <= ratioKnown || e.Standard.Is || e.Minimum.Is {
		return 0
	}
	return closesLate * min(1, e.Ratio.V-ratioKnown) * v.looksLow(0.92*e.Ratio.V*barPerRatio, 0.12)
}

// cover finds what most probably lies over an explanation.
func (s *state) cover(x *Explanation) {
	all := 0.0
	var by []float64
	var names []string
	for _, w := range s.worlds {
		if w.claim < 0 {
			continue
		}
		c := &s.claims[w.claim]
		if c.kind.Name != x.Family || !sameInts(c.in.list(), x.Cylinders) {
			continue
		}
		all += w.p
		name := s.kinds[w.whole].Name
		at := -1
		for i := range names {
			if names[i] == name {
				at = i
			}
		}
		if at < 0 {
			at = len(names)
			names, by = append(names, name), append(by, 0)
		}
		by[at] += w.p
	}
	for i, name := range names {
		if name != Sound && by[i]/all > max(x.OverProbability, 0.1) {
			x.Over, x.OverProbability = name, by[i]/all
		}
	}
}

// learned returns the divergence of the posterior from the prior of the worlds [bits].
func (s *state) learned() float64 {
	_, alone, beside := s.wholes()
	kinds, _, _ := s.wholes()
	prior := func(w world) float64 {
		for j, i := range kinds {
			if i == w.whole {
				if w.claim < 0 {
					return alone[j]
				}
				return s.claims[w.claim].prior * beside[j]
			}
		}
		return 0
	}
	total := 0.0
	for _, w := range s.worlds {
		total += prior(w)
	}
	bits := 0.0
	for _, w := range s.worlds {
		if q := prior(w) / total; w.p > 1e-12 && q > 0 {
			bits += float64(w.p * num.Log(w.p/q))
		}
	}
	return max(0, bits/math.Ln2)
}

func sameInts(a, b []int) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return true
}

// sortBy sorts by falling value; equals keep their order.
func sortBy[T any](list []T, of func(*T) float64) {
	for i := range list {
		for k := i; k > 0 && of(&list[k]) > of(&list[k-1]); k-- {
			list[k], list[k-1] = list[k-1], list[k]
		}
	}
}
