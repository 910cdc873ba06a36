package sim

import "crankbay/sim/num"

// The oil film of a ring pack is two numbers per cylinder: film, from 0 (dry) to
// 1 (what turning keeps up), and excess, from 0 to 1 (drowned by a wet test).
// Oil on the piston runs past the rings and feeds the excess. A bore that has
// stood dry gets only part of its film back until oil has run down it.
//
//	ring area = RingArea · (dry + (1 - dry)·film) · (1 - (1 - oiled)·excess)
//
// No primary figure exists for any of its constants (thin ice): they are chosen
// so that a worn cylinder starts low and builds over some strokes, which is what
// service documents of three makers report of rings (GMservice).
func (e *Engine) ringArea(c *cylinder) float64 {
	r := &e.p.Rings
	film := r.DryFactor + float64((1-r.DryFactor)*c.film)
	drowned := 1 - float64((1-r.OiledFactor)*c.excess)
	return float64(c.params.RingArea * film * drowned)
}

// excessVolume is the oil that has to run down into the ring pack to drown it
// to 1 - 1/e [m³]; a millilitre about fills the grooves of an 86 mm bore
// (computed from 2 grooves of 4 × 0.03 mm clearance and the gaps, from memory).
const excessVolume = 1e-6

// turnFilm moves the films by a turn of the crank of angle [rad].
func (e *Engine) turnFilm(angle float64) {
	if angle <= 0 {
		return
	}
	r := &e.p.Rings
	build, scrape := decay(angle/r.BuildAngle), decay(angle/r.ScrapeAngle)
	for i := range e.p.Cylinders {
		c := &e.cyl[i]
		full := 1 - c.dry
		c.film = full - float64((full-c.film)*build)
		c.excess *= scrape
		if c.oil != 0 {
			e.passOil(c, angle/r.PassAngle)
		}
		if c.plug == PlugOut && c.liquid > 0 { // thrown out of the open hole
			c.liquid *= decay(angle / r.PassAngle)
		}
	}
}

// decay returns exp(-x) for the small x ≥ 0 of a tick, as (1 - x/2)/(1 + x/2),
// which is within x³/12 of it, and by num.Exp for a large one.
func decay(x float64) float64 {
	if x > 0.1 {
		return num.Exp(-x)
	}
	half := float64(x / 2)
	return (1 - half) / (1 + half)
}

// seepVolume is the oil up to which seepage past the rings goes with what lies
// there; more than that runs no faster [m³] (judgement).
const seepVolume = 15e-6

// passOil lets oil on a piston run into its ring pack for a time (or turn) of x
// times its constant.
func (e *Engine) passOil(c *cylinder, x float64) {
	if c.oil == 0 {
		return
	}
	before := c.oil
	if c.oil > seepVolume {
		steady := min(x, (c.oil-seepVolume)/seepVolume)
		c.oil -= float64(steady * seepVolume)
		x -= steady
	}
	c.oil *= decay(x)
	if c.oil < 1e-9 {
		c.oil = 0
	}
	stays := decay((before - c.oil) / excessVolume)
	c.excess = 1 - float64((1-c.excess)*stays)
	c.dry *= stays
}

// drainArea is the ring leak to which DrainTime belongs [m²].
const drainArea = 1e-6

// drainTime returns the standing time in which the film of c falls to 1/e [s]. A
// film drains under its weight in a time that goes with one over its thickness
// squared, and its thickness goes with the gaps, so a sound pack keeps its film
// for minutes and a worn one does not.
func (e *Engine) drainTime(c *cylinder) float64 {
	ratio := drainArea / max(c.params.RingArea, drainArea/100)
	return e.p.Rings.DrainTime * min(ratio*ratio, 100)
}

// standFilm drains the films over a standing time [s].
func (e *Engine) standFilm(seconds float64) {
	for i := range e.p.Cylinders {
		c := &e.cyl[i]
		c.film *= num.Exp(-seconds / e.drainTime(c))
		e.passOil(c, seconds/e.p.Rings.PassTime)
	}
}
