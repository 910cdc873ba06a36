//go:build !js

package main

import (
	"fmt"
	"math"
	"time"

	"crankbay/sim"
)

// A bench steps at ticks, because somebody may let go of the switch at any of
// them. The peers of this comparison need not: they know the whole run. So that
// methods are compared and not benches, the single cylinders that are turned at a
// given speed are also stepped alone: the same right-hand side, on a grid of crank
// angles as coarse as the goals allow. It is fine where valves are open; where they
// are shut it goes by equal ratios of volume, as compression does, and a method of
// fourth order takes wide steps.

const (
	degree = math.Pi / 180
	turn   = 2 * math.Pi
	cycle  = 4 * math.Pi
)

// alone says whether the problem is one cylinder turned at a given speed.
func (q *problem) alone() bool { return q.Params.Cylinders == 1 && q.Speed > 0 }

// gauged says whether the gauge is on cylinder 1.
func (q *problem) gauged() bool { return len(q.Plugs) > 0 && q.Plugs[0] == "gauge" }

// A span is a part of the cycle in which a valve is open [rad after compression TDC].
type span struct{ from, to float64 }

// spans returns where the valves are open, a little more than they are.
func (q *problem) spans() (list []span) {
	c := q.Params.Cylinder[0]
	for _, v := range []struct {
		valve       sim.ValveParams
		lift, shift float64
	}{{q.Params.Intake, c.IntakeLift, c.IntakeShift}, {q.Params.Exhaust, c.ExhaustLift, c.ExhaustShift}} {
		if v.lift == 0 {
			continue
		}
		middle := (v.valve.Opens+v.valve.Closes)/2 + v.shift
		half := (v.valve.Closes - v.valve.Opens) / 2 / math.Sqrt(1-math.Sqrt(sim.EventLift/v.valve.Lift))
		list = append(list, span{middle - half, middle + half})
	}
	if q.gauged() { // the tip valve opens somewhere in there
		list = append(list, span{-turn / 2, turn / 8})
	}
	return list
}

// volume returns that of the cylinder at an angle after TDC over the one at TDC, with
// the crank pin on the axis of the bore.
func (q *problem) volume(a float64) float64 {
	p := &q.Params
	throw := p.Stroke / 2
	side := throw * math.Sin(a)
	travel := throw + p.Rod - throw*math.Cos(a) - math.Sqrt(p.Rod*p.Rod-side*side)
	return 1 + travel/p.Stroke*(p.Compression-1)
}

// Steps with the valves shut, for a widest step of one degree with an open one.
const (
	ratioPerDegree = 0.06        // of volume, over 1
	mostPerDegree  = 8.0         // times as wide at most
	most           = 60 * degree // however coarse the grid
	nearTop        = 7.5 * degree
	topPerDegree   = 2.0 // times as wide that near TDC, where the peak is
	mostTop        = 5 * degree
)

// grid returns the steps of one cycle from the start of the problem on [rad], with
// steps of at most widest [rad] while a valve is open.
func (q *problem) grid(widest float64) (steps []float64) {
	spans := q.spans()
	for at, end := q.Start, q.Start+cycle; at < end-1e-9; {
		step := min(q.reach(at, widest), end-at)
		for _, s := range spans {
			from := math.Mod(math.Mod(s.from-at, cycle)+cycle, cycle) // ahead
			if width := s.to - s.from; from > cycle-width {
				step = min(step, widest, from+width-cycle+1e-6)
			} else {
				step = min(step, from+1e-6)
			}
		}
		at += step
		steps = append(steps, step)
	}
	return steps
}

// reach returns how far a step with shut valves may go from an angle [rad]: not across
// TDC, and in short steps past the one at which peaks are looked for.
func (q *problem) reach(at, widest float64) float64 {
	const probe = 0.25 * degree
	here, top := q.volume(at), math.Remainder(at, cycle)
	if math.Abs(top) < nearTop-1e-9 {
		return min(topPerDegree*widest, mostTop)
	}
	ratio, step := 1+ratioPerDegree*widest/degree, probe
	for step < min(mostPerDegree*widest, most) {
		there := q.volume(at + step + probe)
		next := at + step + probe
		across := math.Floor(at/turn+1e-9) != math.Floor(next/turn-1e-9)
		near := math.Abs(math.Remainder(next, cycle)) < nearTop
		if max(here/there, there/here) > ratio || near || across {
			break
		}
		step += probe
	}
	return step
}

// runAlone steps the problem's cylinder alone on the grid of a widest step [°].
func (q *problem) runAlone(widest float64) (solution, error) {
	e, err := q.build()
	if err != nil {
		return solution{}, err
	}
	steps := q.grid(widest * degree)
	left := q.Speed * float64(q.Ticks-1) / sim.TicksPerSecond // the crank starts with the second tick
	finder := peakFinder{peaks: make([]float64, 0, 64)}
	s := solution{Problem: q.Name, Method: "alone, widest step [°]", Rtol: widest}
	begin := time.Now()
	e.Step(sim.Inputs{Driven: q.Speed}) // in which it stands
	for at := 0; left > 1e-9; s.Steps++ {
		step, lead := min(steps[at], left), -1.0
		if at++; at == len(steps) {
			at = 0
		}
		if q.Breathes {
			lead = steps[at] / 2
		}
		e.StepSmooth(step, q.Speed, lead)
		left -= step
		finder.look(e)
	}
	s.Time = time.Since(begin).Seconds()
	s.Peaks, s.Speed = finder.peaks, q.Speed
	if q.gauged() {
		s.Gauge = e.HosePressure()
	}
	return s, nil
}

// sweepAlone measures the cylinder alone on coarse and fine grids.
func (q *problem) sweepAlone() (list []solution, err error) {
	if !q.alone() {
		return nil, nil
	}
	for _, widest := range []float64{16, 15, 14, 12, 10, 9, 8, 7, 6, 5, 4, 3, 2.5, 2, 1.6, 1.3, 1.1, 0.95, 0.8, 0.65, 0.5, 0.42, 0.35} {
		s, err := fastestOf(func() (solution, error) { return q.runAlone(widest) })
		if err != nil {
			return nil, fmt.Errorf("%s: %w", q.Name, err)
		}
		list = append(list, s)
	}
	return list, nil
}
