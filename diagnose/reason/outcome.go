package reason

import (
	"math"

	"crankbay/diagnose/library"
	"crankbay/sim/num"
)

// An outcome is how probably a test shows what, over a few bins.
type outcome []float64

// below returns how probably a reading with a mean and a deviation lies under an edge: a
// logistic curve, within 0.01 of the normal one.
func below(edge, mean, sd float64) float64 {
	x := max(-40, min(1.702*(edge-mean)/max(sd, 1e-9), 40))
	return 1 / (1 + num.Exp(-x))
}

// binned spreads a reading over the bins between edges.
func binned(mean, sd float64, edges ...float64) outcome {
	out := make(outcome, len(edges)+1)
	last := 0.0
	for i, e := range edges {
		p := below(e, mean, sd)
		out[i] = p - last
		last = p
	}
	out[len(edges)] = 1 - last
	return out
}

// and joins two outcomes of one test that are independent once the example is known.
func (o outcome) and(q outcome) outcome {
	out := make(outcome, 0, len(o)*len(q))
	for _, x := range o {
		for _, y := range q {
			out = append(out, x*y)
		}
	}
	return out
}

// chance is an outcome of yes and no.
func chance(p float64) outcome { return outcome{p, 1 - p} }

// engineValue returns a number of the whole engine under a sample: of its example, or
// what the readings or a sound engine say.
func (s *sample) engineValue(at int, otherwise float64) float64 {
	if s.whole != nil && known(s.whole[at]) {
		return s.whole[at]
	}
	return otherwise
}

// probe computes what a test of cylinder i would show under a sample.
type probe func(st *state, s *sample, i int) outcome

func probeWet(st *state, s *sample, i int) outcome {
	row, width := s.role(i)
	gain := s.engineValue(library.Gain, st.none.gain.or(soundGain).v)
	rel, sd := 1.0, st.v.n.wet
	switch {
	case s.one:
		if s.in.has(i) && known(st.v.cyl[i].once) {
			rel = st.none.dry.v / max(st.v.cyl[i].once, 5*psi)
		}
	case row[library.Dry] > 0.04 && known(row[library.Wet]):
		rel = row[library.Wet] / row[library.Dry]
		sd = math.Sqrt(float64(sd*sd) + float64(width[library.Wet]/4))
	default:
		rel, sd = 1.3, 0.6 // of next to nothing, anything
	}
	if s.whole != nil {
		sd = math.Sqrt(float64(sd*sd) + float64(s.whole[library.Uneven]*s.whole[library.Uneven]))
	}
	return binned(rel, sd, 0.96, 1.04, 1.12, 1.3).and(binned(gain, st.v.n.gain+0.02, 0.14, 0.25))
}

func probeLeakage(st *state, s *sample, i int) outcome {
	row, width := s.role(i)
	l := levels{loss: mean{v: s.engineValue(library.Loss, st.none.loss.or(soundLoss).v)}}
	lost := max(0, min(l.loss.v+row[library.Leakage], 1))
	sd := math.Sqrt(float64(st.v.n.leak*st.v.n.leak) + width[library.Leakage])
	if s.whole != nil {
		sd += float64(0.3 * s.whole[library.Uneven])
	}
	// Where it is heard: one place besides the filler, or none.
	place := make(outcome, 6)
	rest := 1.0
	for k, at := range [5]int{library.Throttle, library.Tailpipe, library.Neighbour, library.Neck, library.Edge} {
		half := halfHeard
		if at == library.Neck {
			half = halfBubbles
		}
		flow := float64(row[at] * lost)
		place[k] = flow / (flow + half)
		rest *= 1 - float64(0.95*place[k])
	}
	place[5] = rest
	sum := 0.0
	for k := range place {
		place[k] += 0.01
		sum += place[k]
	}
	for k := range place {
		place[k] /= sum
	}
	return binned(lost, sd, 0.1, 0.2, 0.4, 0.65, 0.85).and(place)
}

func probeHump(st *state, s *sample, i int) outcome {
	row, width := s.role(i)
	r := row[library.Hump]
	if !known(r) {
		r = 1
	}
	return binned(r, math.Sqrt(float64(2*st.v.n.hump*st.v.n.hump)+width[library.Hump]), 0.55, 0.8, 0.92, 1.1, 1.3)
}

func probeRunning(st *state, s *sample, i int) outcome {
	row, width := s.role(i)
	idle, snap := row[library.Idle], row[library.Snap]
	if !known(idle) || !known(snap) {
		idle, snap = 1, 1
	}
	rel := 1.0
	if s.whole != nil { // beside what it reads cranking
		rel = s.engineValue(library.IdleShare, soundIdle.v) / soundIdle.v
	}
	n := st.v.n
	return binned(float64(idle*rel), n.idle+math.Sqrt(width[library.Idle])+0.03, 0.65, 0.88, 1.12, 1.5).
		and(binned(snap, n.snap+math.Sqrt(width[library.Snap])+0.02, 0.8, 0.94, 1.06, 1.3))
}

func probeVacuum(st *state, s *sample, _ int) outcome {
	return binned(s.engineValue(library.Vacuum, 0.31), st.v.n.vacuum+0.06, 0.12, 0.2, 0.28, 0.38)
}

func probeLash(st *state, s *sample, i int) outcome {
	row, _ := s.role(i)
	return chance(0.01 + float64(0.98*below(-0.06, min(row[library.LashIn], row[library.LashEx]), st.v.n.lash)))
}

func probeTiming(st *state, s *sample, _ int) outcome {
	late := s.engineValue(library.Late, 0)
	if s.bankLate {
		late = 20 // one bank, by a tooth or so
	}
	return binned(late, st.v.n.late, -4, 4)
}

func probeBore(st *state, s *sample, i int) outcome {
	row, _ := s.role(i)
	out := make(outcome, 5)
	for k := range out {
		out[k] = st.v.n.wrongBore / 4
	}
	out[max(0, min(int(row[library.Bore]), 4))] = 1 - st.v.n.wrongBore
	return out
}

func probeCooling(_ *state, s *sample, _ int) outcome {
	falls := 0.0
	if s.row != nil {
		falls = s.row[library.Cooling]
	}
	return chance(0.02 + float64(0.9*falls))
}

func probeRepeat(st *state, s *sample, i int) outcome {
	c := &st.v.cyl[i]
	ratio := 1.0
	if s.one && s.in.has(i) && known(c.once) {
		ratio = st.none.dry.v / max(c.once, 3*psi)
	}
	return binned(ratio, float64(st.v.n.repeat*1.5)+0.02, 0.93, 1.07, 1.25)
}

func probeSecond(st *state, s *sample, i int) outcome {
	c := &st.v.cyl[i]
	if known(c.dry) && c.dry <= leastRatio { // nothing to be a share of: it reads something, or nothing either
		p := readsAnyway
		if s.method == GaugeLeaks || s.one && s.in.has(i) {
			p = readsMended
		}
		return chance(p)
	}
	ratio := s.engineValue(library.Second, 1)
	if s.one && s.in.has(i) && known(c.once) {
		ratio = st.none.dry.v / max(c.once, 3*psi)
	}
	return binned(ratio, float64(st.v.n.second*1.5)+0.01, 0.85, 0.95, 1.05, 1.25, 2)
}

func probeBalance(st *state, s *sample, i int) outcome {
	row, _ := s.role(i)
	pull := row[library.Pull]
	if pull == elsewhere {
		return chance(0.5 / float64(max(1, len(st.v.cyl))))
	}
	return chance(deadOf(pull))
}

func probeThrottle(_ *state, s *sample, _ int) outcome {
	p := 0.03
	if s.method == ThrottleShut || s.method == PlugsIn {
		p = 0.97
	}
	return chance(p)
}

func probeBattery(_ *state, s *sample, _ int) outcome {
	p := 0.03
	if s.method == SlowCranking {
		p = 0.97
	}
	return chance(p)
}
