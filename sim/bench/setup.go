package bench

import (
	"errors"
	"fmt"
	"slices"

	"crankbay/sim"
	"crankbay/sim/instrument"
)

// A Setup is the bench as the student finds it.
type Setup struct {
	Engine    sim.Params // with its faults; its Gauge is replaced by the tools below
	Plug      PlugSpec
	Gauges    []GaugeTool   // at least one
	Adapters  []AdapterTool // at least one
	Pages     []string      // specification pages that can be looked up
	RightPage string        // the one of this engine
	Gear      string        // where the selector stands: park, neutral or drive
	IdleWarmC float64       // coolant temperature the thermostat holds [°C], (40, 125)

	LashCheck  bool      // its valve clearances can be measured; no hydraulic tappets
	Lash       Lash      // what its page asks for them, zero for the usual
	WheelTeeth int       // of its cam wheels, 0 for 40
	Seen       []Visible // by cylinder; may be short
	Minutes    TestMinutes

	Key         Key     // what the ignition key does to cranking
	DriveByWire bool    // the throttle plate is moved by a motor that listens to the pedal
	ThreadsMaxC float64 // hottest coolant at which a plug comes out without harm to the head's threads [°C], 0 for the usual
	NoStart     bool    // it cranks but doesn't start, whatever is connected

	Seed uint64 // of the scenario; part of every digest
}

// PlugSpec is the spark plug this engine takes.
type PlugSpec struct {
	ThreadMM float64 // thread diameter [mm], [8, 22]
	ReachMM  float64 // thread length [mm], [6, 40]
}

// A GaugeTool is one compression gauge on the tray.
type GaugeTool struct {
	ID       string
	Spec     instrument.GaugeSpec // scale and its own errors
	Plumbing sim.GaugeParams      // hose, valves, leaks
}

// An AdapterTool screws the hose into the plug hole.
type AdapterTool struct {
	ID       string
	ThreadMM float64 // thread diameter [mm]
	ReachMM  float64 // thread length [mm]
	ORing    bool    // its O-ring is there

	ThreadLeak float64 // what its thread lets past without the O-ring, Cd·A [m²]; 0: the usual
}

// Where the gear selector can stand.
const (
	GearPark    = "park"
	GearNeutral = "neutral"
	GearDrive   = "drive"
)

// validate reports everything wrong with what is not the engine's own.
func (s Setup) validate() error {
	var errs []error
	add := func(bad bool, format string, args ...any) {
		if bad {
			errs = append(errs, fmt.Errorf("bench: "+format, args...))
		}
	}
	inside := func(name string, v, lo, hi float64) {
		add(!(v >= lo && v <= hi), "%s = %g, want inside [%g, %g]", name, v, lo, hi)
	}
	inside("Plug.ThreadMM", s.Plug.ThreadMM, 8, 22)
	inside("Plug.ReachMM", s.Plug.ReachMM, 6, 40)
	inside("IdleWarmC", s.IdleWarmC, 40, 125)
	add(s.Gear != GearPark && s.Gear != GearNeutral && s.Gear != GearDrive, "Gear = %q, want park, neutral or drive", s.Gear)
	add(len(s.Gauges) == 0, "no gauge on the tray")
	add(len(s.Adapters) == 0, "no adapter on the tray")
	var ids []string
	for i, g := range s.Gauges {
		ids = append(ids, g.ID)
		if err := g.Spec.Validate(); err != nil {
			add(true, "Gauges[%d]: %v", i, err)
		}
	}
	errs = append(errs, named("Gauges", ids)...)
	ids = nil
	for i, a := range s.Adapters {
		ids = append(ids, a.ID)
		inside(fmt.Sprintf("Adapters[%d].ThreadMM", i), a.ThreadMM, 8, 22)
		inside(fmt.Sprintf("Adapters[%d].ReachMM", i), a.ReachMM, 6, 40)
	}
	errs = append(errs, named("Adapters", ids)...)
	errs = append(errs, named("Pages", s.Pages)...)
	for _, m := range s.Minutes.all() {
		add(!(m >= 0 && m <= mostTestMinutes), "Minutes: %g, want inside [0, %g]", m, mostTestMinutes)
	}
	add(s.RightPage != "" && !slices.Contains(s.Pages, s.RightPage), "RightPage = %q is not among the pages", s.RightPage)
	return errors.Join(errs...)
}

// named reports names that are empty, too long or given twice.
func named(list string, ids []string) (errs []error) {
	for i, id := range ids {
		switch {
		case id == "" || len(id) > maxChoice:
			errs = append(errs, fmt.Errorf("bench: %s[%d]: a name has 1 to %d bytes", list, i, maxChoice))
		case slices.Contains(ids[:i], id):
			errs = append(errs, fmt.Errorf("bench: %s[%d] = %q is there twice", list, i, id))
		}
	}
	return errs
}

const (
	// noRingLeak is what an adapter lets past its thread without its O-ring,
	// Cd·A [m²]: a M14 thread's clearance of about 0.1 mm over a fine pitch
	// (judgement, no source).
	noRingLeak = 0.35e-6
	// threadDepth is how much smaller than its thread a plug hole's core is [mm].
	threadDepth = 1.35
	// sameThread and sameReach are how far two sizes may lie apart and still be
	// one size [mm].
	sameThread = 0.1
	sameReach  = 1.5
	// maxRecess bounds the volume an adapter adds; the engine takes up to 20 ml.
	maxRecess = 15e-6
)

// plumbing returns gauge and adapter as the engine sees them. An adapter that is
// shorter than the plug leaves a recess in the hole.
func (s Setup) plumbing(g GaugeTool, a *AdapterTool) sim.GaugeParams {
	const pi = 3.14159265358979323846
	p := g.Plumbing
	if a == nil {
		return p
	}
	core := (s.Plug.ThreadMM - threadDepth) * 1e-3
	recess := float64(pi / 4 * core * core * (s.Plug.ReachMM - a.ReachMM) * 1e-3)
	p.AdapterVolume = min(max(p.AdapterVolume+float64(recess), 0), maxRecess)
	switch {
	case a.ORing:
	case a.ThreadLeak > 0:
		p.SealLeak += a.ThreadLeak
	default:
		p.SealLeak += noRingLeak
	}
	return p
}
