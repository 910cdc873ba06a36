package reason

import (
	"crankbay/diagnose/library"
	"crankbay/sim/num"
)

// What a simulated engine can't know of a real one: how far an example may itself be off,
// one standard deviation, of the healthy level (dry, wet), of first shares, of the supply
// (judgement).
const (
	modelDry, modelWet, modelFirst, modelLeak, modelRun = 0.05, 0.045, 0.06, 0.05, 0.15
)

// coarse is the power that likelihoods are raised to. Readings of a real engine come from
// one gauge and one pair of hands and err together, so that four of them are worth less
// than four; that is what a power under 1 says (a coarsened posterior; the figure is judgement).
func (v *view) coarse() float64 {
	if v.e.Rough {
		return 0.85
	}
	return 1
}

// sealed is how much of what is missing oil gives back, beyond the film of the model, to
// every second cylinder whose rings or bore leak. Common practice, no source: a cylinder
// of 65 psi that comes up to 140 with oil is what rings are told by, and the film of the
// model, which lets half of that through, is thin ice (see the page about the model).
const sealed = 0.8

// lying is how much of that oil gives back in every third case on an opposed engine: there it
// lies on one side of the bore and seals less (common practice; the page about the model).
const lying = 0.3

// oilScatter is how differently oil helps the cylinders of one engine, of what it helps:
// capfuls and squirts are no measure, and some runs past (judgement).
const oilScatter = 0.25

// soundLeaks is the most that is taken for the leakage of an engine that does not leak:
// a good cylinder reads a few percent, and a fifth to a quarter is too much (trade
// articles). Some small engines of the library lose more once their film has drained.
const soundLeaks = 0.12

// roughen makes the examples speak for real engines.
func (k *kind) roughen(flat bool) {
	if k.Scope == ScopeEngine {
		k.seal()
		k.alike()
		k.flooded()
	} else {
		k.blurFaulty(flat)
	}
}

// seal holds the leakage of engines that don't leak to what is seen of such.
func (k *kind) seal() {
	most := 1.0
	switch k.Name {
	case RingsAll, ValvesAll, BoresDry, LashAll, ByDesign:
		return
	case TimingLate, TimingEarly, TimingFar:
		most = 0.4 // more than that are valves held open, or bent
	}
	for i, row := range k.rows {
		if row[library.Loss] > most {
			continue
		}
		if row[library.Loss] > soundLeaks {
			row = append([]float64(nil), row...)
			row[library.Loss] = soundLeaks
			k.rows[i] = row
		}
		if k.widths[i][library.Loss] > 0.02*0.02 {
			w := append([]float64(nil), k.widths[i]...)
			w[library.Loss] = 0.02 * 0.02
			k.widths[i] = w
		}
	}
}

// alikeShare is how much less than in the library the cylinders differ in every second
// engine whose bores are dry: fuel and standing take the film of all alike (judgement).
const alikeShare = 0.3

// alike adds engines whose cylinders were all washed alike.
func (k *kind) alike() {
	if k.Name != BoresDry {
		return
	}
	for i := range k.rows {
		r := append([]float64(nil), k.rows[i]...)
		r[library.Uneven] *= alikeShare
		k.rows, k.widths = append(k.rows, r), append(k.widths, k.widths[i])
	}
}

// floodedBelow is the share of its design under which an engine hardly starts, and
// floodedGains what oil gives back on bores that were washed in the trying (judgement).
const floodedBelow = 0.45

var floodedGains = [2]float64{0.5, 1.5}

// flooded adds engines whose cams are off so far that they don't start: who cranks one for
// long has washed its bores, and they gain with oil as worn ones do. Common practice, no
// source; the gain of readings of a few psi says little anyway.
func (k *kind) flooded() {
	if k.Name != TimingLate && k.Name != TimingFar {
		return
	}
	for i := range k.rows {
		if num.Exp(k.rows[i][library.Level]) > floodedBelow {
			continue
		}
		for _, gain := range floodedGains {
			r, w := append([]float64(nil), k.rows[i]...), append([]float64(nil), k.widths[i]...)
			r[library.Gain], w[library.Gain] = gain, float64(0.4*gain*0.4*gain)
			r[library.UnevenWet] = 0.1
			k.rows, k.widths = append(k.rows, r), append(k.widths, w)
		}
	}
}

// blurFaulty widens the examples of faulty cylinders, and adds those that the model lacks.
func (k *kind) blurFaulty(flat bool) {
	width := library.OfCylinder.Width()
	for i, w := range k.widths {
		w = append([]float64(nil), w...)
		for half := 0; half < len(w); half += width {
			w[half+library.Dry] += modelDry * modelDry
			w[half+library.Wet] += modelWet * modelWet
			w[half+library.First] += modelFirst * modelFirst
			w[half+library.Leakage] += modelLeak * modelLeak
			w[half+library.Idle] += modelRun * modelRun
			w[half+library.Snap] += modelRun * modelRun
		}
		k.widths[i] = w
	}
	for i := range k.rows {
		x := k.rows[i][library.Wet]
		switch k.Name {
		case WornRings, WashedBore:
			if dry := k.rows[i][library.Dry]; flat && x > dry {
				k.again(i, dry+float64(lying*(x-dry)))
			}
			if x < 1 {
				k.again(i, x+float64(sealed*(1-x)))
			}
		case OneOff: // what was wrong with the dry test is often still wrong
			for range 2 {
				k.again(i, float64(x*k.rows[i][library.Dry]))
			}
			k.again(i, badAgain) // or wrong in another way
			w := append([]float64(nil), k.widths[i]...)
			w[library.Wet] = badWidth * badWidth
			k.widths[len(k.widths)-1] = w
		}
	}
}

// What a set-up that leaks reads with oil, of the healthy level, and how differently: an
// adapter that let some by lets by more the next time, or all (judgement). Oil lowers no
// cylinder by itself.
const badAgain, badWidth = 0.5, 0.35

// again adds example i once more with another wet reading.
func (k *kind) again(i int, wet float64) {
	r := append([]float64(nil), k.rows[i]...)
	r[library.Wet] = wet
	k.rows, k.widths = append(k.rows, r), append(k.widths, k.widths[i])
}
