package debrief

import (
	"crankbay/sim"
	"crankbay/sim/bench"
	"crankbay/sim/record"
	"crankbay/sim/unit"
)

// A frame is one tick of one cylinder.
type frame struct {
	tick            int64
	deg             float64
	pressure        float64 // absolute
	mass            float64 // [kg]
	travel          float64
	intake, exhaust float64 // [m]
	flows           [6]float64
	hose            float64 // absolute
}

// A film keeps the frames of one cylinder while it is gauged.
type film struct {
	cylinder int
	frames   []frame
}

func newFilm(cylinder int) *film { return &film{cylinder: cylinder} }

// see keeps a tick.
func (f *film) see(b *bench.Bench) {
	e := b.Engine()
	if e.Plug(f.cylinder) != sim.PlugGauge || e.Speed() == 0 {
		return
	}
	x := frame{tick: b.Tick(), deg: unit.Angle(e.CylinderAngle(f.cylinder)).Degrees(), pressure: e.Pressure(f.cylinder),
		travel: e.PistonTravel(f.cylinder), hose: e.HosePressure()}
	x.mass = x.pressure * e.Volume(f.cylinder) / (gasConstant * e.Temperature(f.cylinder))
	x.intake, x.exhaust = e.ValveLift(f.cylinder)
	x.flows[0], x.flows[1], x.flows[2], x.flows[3] = e.LeakFlow(f.cylinder)
	x.flows[4], x.flows[5] = e.HeadFlow(f.cylinder)
	x.flows[3] -= f.fromNeighbours(e)
	f.frames = append(f.frames, x)
}

// gasConstant is that of the model's air [J/(kg·K)].
const gasConstant = 287.05

// fromNeighbours returns what comes in past a gasket whose path is noted at a
// neighbour [kg/s].
func (f *film) fromNeighbours(e *sim.Engine) float64 {
	sum := 0.0
	p := e.Params()
	for k := 1; k <= p.Cylinders; k++ {
		if p.Cylinder[k-1].GasketTo == f.cylinder {
			_, _, _, from := e.LeakFlow(k)
			sum += from
		}
	}
	return sum
}

// cycle returns the frames of the last compression of a run, from the overlap before
// it to the one after, or as far as the crank got.
func (f *film) cycle(r record.Run) []frame {
	var run []frame
	for _, x := range f.frames {
		if x.tick > r.StartTick && x.tick <= r.EndTick {
			run = append(run, x)
		}
	}
	top := -1
	for i := 1; i < len(run); i++ {
		if run[i-1].deg < 0 && run[i].deg >= 0 && run[i-1].deg > -90 {
			if top >= 0 && !whole(run, i) {
				break // the crank came to rest in this one
			}
			top = i
		}
	}
	if top < 0 {
		return nil
	}
	from, to := top, top
	for from > 0 && run[from-1].deg < run[from].deg {
		from--
	}
	for to+1 < len(run) && run[to+1].deg > run[to].deg {
		to++
	}
	return run[from : to+1]
}

// whole says whether the crank goes on to the end of the cycle whose top is at i.
func whole(run []frame, i int) bool {
	for i+1 < len(run) && run[i+1].deg > run[i].deg {
		i++
	}
	return run[i].deg > 340
}
