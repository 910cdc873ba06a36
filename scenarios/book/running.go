package book

import (
	"crankbay/scenarios"
	"crankbay/sim"
	"crankbay/sim/bench"
	"crankbay/sim/unit"
)

// RunningKind names the running compression test.
const RunningKind = "running"

// The running test, by the figures of the bench: a governed idle, the gauge bled
// and left to pump up, then the throttle snapped open and let go before the engine
// has run away.
const (
	IdleRPM       = bench.IdleRPM
	IdlePlenumKPa = bench.IdlePlenumKPa // the throttle is set so that the manifold stands there
	SnapRPM       = bench.SnapRPM
	SnapSeconds   = bench.SnapSeconds
	snapPedal     = bench.SnapPedal

	idleSettle    = 2.0 // of the manifold after the throttle moved [s]
	idleBleed     = bench.IdleBleed
	idlePump      = bench.IdlePump
	snapFall      = bench.SnapFall
	crankingLeast = 5.0 // below this a percentage of it says nothing [psi]

	idleSteps = 10 // of bisection; the throttle is then within a thousandth of its travel
)

// Running is the running compression of one cylinder. Pressures are psi gauge.
type Running struct {
	Cylinder    int     `json:"cylinder"`
	CrankingPSI float64 `json:"cranking_psi"` // dry, by the card
	IdlePSI     float64 `json:"idle_psi"`
	SnapPSI     float64 `json:"snap_psi"` // what the gauge holds after the snap
	IdlePercent float64 `json:"idle_percent_of_cranking"`
	SnapPercent float64 `json:"snap_percent_of_cranking"`
}

// RunningResult is the running compression test of an engine.
type RunningResult struct {
	Scenario    string  `json:"scenario"`
	Kind        string  `json:"kind"`
	AsRead      bool    `json:"as_read"`
	IdleRPM     float64 `json:"idle_rpm"`
	PlenumKPa   float64 `json:"idle_plenum_kpa_abs"` // where the manifold stands
	Throttle    float64 `json:"idle_throttle"`       // 0 on its stop … 1 wide open
	SnapRPM     float64 `json:"snap_rpm"`
	SnapSeconds float64 `json:"snap_s"`
	CoolantC    float64 `json:"coolant_c"`
	Hydrolocked bool    `json:"hydrolocked"` // liquid stops the crank: it can't run
	NoStart     bool    `json:"no_start"`    // it doesn't start, so there is no such test
	// ReleaseRPM is the speed below which a compression release holds a valve open, 0
	// without one. Then the running engine reads what cranking doesn't, and percent of
	// cranking says nothing.
	ReleaseRPM float64   `json:"release_rpm"`
	Cylinders  []Running `json:"cylinders"`
}

// RunningTest pumps each cylinder by the running engine: its own plug out, spark
// and injector off, the gauge in its hole, the others firing. Their combustion is
// not modelled: it holds the crank at the speed said.
func RunningTest(s *scenarios.Scenario, asRead bool, watch Watch) (RunningResult, error) {
	if s.Conditions.NoStart {
		return RunningResult{Scenario: s.ID, Kind: RunningKind, AsRead: asRead, NoStart: true, Cylinders: []Running{}}, nil
	}
	cranked, err := Run(s, Options{Kind: Dry, AsRead: asRead, ByCard: true})
	if err != nil {
		return RunningResult{}, err
	}
	r, err := newRig(s, false, false, watch)
	if err != nil {
		return RunningResult{}, err
	}
	r.e.SetCoolant(r.e.Coolant()) // it runs: films are what turning keeps up
	out := RunningResult{
		Scenario: s.ID, Kind: RunningKind, AsRead: asRead, IdleRPM: IdleRPM, SnapRPM: SnapRPM, SnapSeconds: SnapSeconds,
		CoolantC: r.coolantC(),
	}
	if p := s.Params(); p.Release.Lift > 0 {
		out.ReleaseRPM = unit.RPM(p.Release.Below)
	}
	out.Throttle, out.PlenumKPa = r.idle()
	for _, c := range cranked.Readings {
		x := r.pump(c.Cylinder, out.Throttle, asRead)
		x.CrankingPSI = c.FinalPSI
		if c.FinalPSI > crankingLeast {
			x.IdlePercent, x.SnapPercent = 100*x.IdlePSI/c.FinalPSI, 100*x.SnapPSI/c.FinalPSI
		}
		out.Cylinders = append(out.Cylinders, x)
	}
	out.Hydrolocked = r.e.Hydrolocked()
	return out, nil
}

// idle sets the throttle so that the manifold stands at IdlePlenumKPa, or as near
// as it gets, and returns the throttle and where the manifold stands [kPa].
func (r *rig) idle() (open, kPa float64) {
	lo, hi := 0.0, 1.0
	for range idleSteps {
		if kPa = r.settle(open); kPa > IdlePlenumKPa {
			hi = open
		} else {
			lo = open
		}
		if hi == 0 {
			return 0, kPa // it leaks in more than that
		}
		open = (lo + hi) / 2
	}
	return open, r.settle(open)
}

// settle idles with a throttle for a while and returns the mean pressure of the
// manifold over the last working cycle [kPa].
func (r *rig) settle(open float64) float64 {
	r.e.SetThrottle(open)
	cycle := ticksOf(120 / IdleRPM)
	n, sum := ticksOf(idleSettle)+cycle, 0.0
	for i := range n {
		r.step(sim.Inputs{Driven: radPerS(IdleRPM)})
		if i >= n-cycle {
			sum += r.e.PlenumPressure()
		}
	}
	return sum / float64(cycle) / 1e3
}

// pump takes the readings of one cylinder.
func (r *rig) pump(cyl int, throttle float64, asRead bool) Running {
	out := Running{Cylinder: cyl}
	r.e.SetPlug(cyl, sim.PlugGauge)
	r.e.Vent()
	r.begin(cyl)
	r.e.SetThrottle(throttle)
	bleed, pump := ticksOf(idleBleed), ticksOf(idlePump)
	for i := range 2*bleed + pump {
		r.step(sim.Inputs{Driven: radPerS(IdleRPM), Release: i >= bleed && i < 2*bleed})
	}
	out.IdlePSI = r.reading(asRead).PSI()
	rise, fall := ticksOf(SnapSeconds), ticksOf(snapFall)
	for i := range rise + fall {
		share := float64(i) / float64(rise)
		if i < rise {
			pressed := min(1, float64(i)/float64(ticksOf(snapPedal)))
			r.e.SetThrottle(throttle + float64((1-throttle)*pressed))
		} else {
			r.e.SetThrottle(throttle)
			share = 1 - float64(float64(i-rise)/float64(fall))
		}
		r.step(sim.Inputs{Driven: radPerS(IdleRPM + float64(share*(SnapRPM-IdleRPM)))})
	}
	out.SnapPSI = r.reading(asRead).PSI()
	r.e.SetPlug(cyl, sim.PlugIn)
	return out
}

func radPerS(rpm float64) float64 { return rpm / unit.RPM(1) }
