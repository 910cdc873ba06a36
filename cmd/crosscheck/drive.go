//go:build !js

package main

import (
	"fmt"
	"math"
	"time"

	"crankbay/sim"
)

var plugStates = map[string]sim.PlugState{"in": sim.PlugIn, "out": sim.PlugOut, "gauge": sim.PlugGauge}

// build sets the engine of a problem up, through its public face alone.
func (q *problem) build() (*sim.Engine, error) {
	e, err := sim.New(q.Params)
	if err != nil {
		return nil, err
	}
	e.SetThrottle(q.Throttle)
	e.SetCoolant(q.Params.CoolantTemperature)
	for i, name := range q.Plugs {
		state, ok := plugStates[name]
		if !ok {
			return nil, fmt.Errorf("plug %q: want in, out or gauge", name)
		}
		e.SetPlug(i+1, state)
	}
	e.Stand(q.Stand)
	e.SetAngle(q.Start)
	return e, nil
}

// A peakFinder collects the highest pressure of every compression from samples,
// by the parabola through the highest one and its neighbours.
type peakFinder struct {
	angle, pressure [3]float64
	peaks           []float64
	count           int
}

// add takes the next sample: angle [rad] after compression TDC in [-2π, 2π).
func (f *peakFinder) add(angle, pressure float64) {
	f.angle = [3]float64{f.angle[1], f.angle[2], angle}
	f.pressure = [3]float64{f.pressure[1], f.pressure[2], pressure}
	if f.count++; f.count < 3 || math.Abs(f.angle[1]) > 0.6 {
		return
	}
	if p := f.pressure; p[1] > p[0] && p[1] >= p[2] {
		f.peaks = append(f.peaks, vertex(f.angle, p))
	}
}

// look takes a sample of cylinder 1 if it may belong to a peak.
func (f *peakFinder) look(e *sim.Engine) {
	if a := e.CylinderAngle(1); math.Abs(a) < 0.7 {
		f.add(a, e.Pressure(1))
	}
}

// vertex returns the height of the parabola through three points.
func vertex(x, y [3]float64) float64 {
	d0, d1 := (y[1]-y[0])/(x[1]-x[0]), (y[2]-y[1])/(x[2]-x[1])
	second := (d1 - d0) / (x[2] - x[0])
	slope := d0 + second*(x[1]-x[0]) // at x[1]
	return y[1] - slope*slope/(4*second)
}

// inputs is what hands do in every tick of the problem.
func (q *problem) inputs() sim.Inputs {
	return sim.Inputs{Starter: q.Speed == 0 && q.Coast == 0, Driven: q.Speed}
}

// run drives the engine through the problem once at a largest sub-step [°]. Its
// time is that of the ticks, without building the engine.
func (q *problem) run(substep float64) (solution, error) {
	e, err := q.build()
	if err != nil {
		return solution{}, err
	}
	if substep != product { // there the engine knows best
		e.SetSubStep(substep * math.Pi / 180)
	}
	in := q.inputs()
	if q.Coast > 0 {
		e.Step(sim.Inputs{Driven: q.Coast}) // the engine takes a speed at the end of a tick
	}
	finder := peakFinder{peaks: make([]float64, 0, 64)}
	begin := time.Now()
	for range q.Ticks {
		e.Step(in)
		finder.look(e)
	}
	s := solution{Problem: q.Name, Method: "sub-step [°]", Rtol: substep, Time: time.Since(begin).Seconds(),
		Peaks: finder.peaks, Speed: e.Speed(), Steps: q.Ticks}
	if q.gauged() {
		s.Gauge = e.HosePressure()
	}
	return s, nil
}

// patience is how long one setting of the simulation is timed.
const patience = 300 * time.Millisecond

// fastestOf repeats a run until the patience is over and returns the fastest.
func fastestOf(run func() (solution, error)) (best solution, err error) {
	for begin := time.Now(); err == nil && (best.Time == 0 || time.Since(begin) < patience); {
		var s solution
		if s, err = run(); err == nil && (best.Time == 0 || s.Time < best.Time) {
			best = s
		}
	}
	return best, err
}

// product is the sub-step of the simulation as it is used [°].
const product = sim.SubStep * 180 / math.Pi

// sweep measures the problem at coarse and fine sub-steps.
func (q *problem) sweep() (list []solution, err error) {
	for _, factor := range []float64{4, 2, 1, 0.8, 0.6, 0.5, 0.25, 0.125, 1.0 / 16} {
		s, err := fastestOf(func() (solution, error) { return q.run(product * factor) })
		if err != nil {
			return nil, fmt.Errorf("%s: %w", q.Name, err)
		}
		list = append(list, s)
	}
	return list, nil
}
