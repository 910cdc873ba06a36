package population

import (
	"math"

	"crankbay/diagnose/reason"
	"crankbay/scenarios"
)

// scale is the size of a cylinder beside half a litre: leaks of one kind grow with
// the part they sit in.
func scale(e scenarios.Engine) float64 {
	return math.Pi / 4 * e.BoreMM * e.BoreMM * e.StrokeMM / 5e5
}

// mostArea is the largest leak that is drawn [mm²]; a file can give 60.
const mostArea = 55

// cylinderFaults draws what a family puts wrong with cylinder c.
func cylinderFaults(family string, s *scenarios.Scenario, c int, d dice) []scenarios.Fault {
	k := scale(s.Engine)
	leak := func(kind string, lo, hi float64) []scenarios.Fault {
		return []scenarios.Fault{{Kind: kind, Cylinder: c, AreaMM2: min(mostArea, k*d.log(lo, hi))}}
	}
	switch family {
	case reason.ExhaustLeak:
		return leak(scenarios.ExhaustSeatLeak, 0.3, 40)
	case reason.IntakeLeak:
		return leak(scenarios.IntakeSeatLeak, 0.3, 30)
	case reason.ValveHeldOpen:
		return []scenarios.Fault{{Kind: scenarios.BentValve, Cylinder: c, Valve: d.valve(0.5), GapMM: d.log(0.03, 1.2)}}
	case reason.CarbonFlake:
		return leak(scenarios.CarbonFlake, 0.4, 12)
	case reason.TightLash:
		return []scenarios.Fault{d.lash(c, 0.025, 0.3)}
	case reason.WornRings:
		return leak([]string{scenarios.WornRings, scenarios.StuckRing}[d.IntN(2)], 0.4, 9)
	case reason.BrokenLand:
		return leak([]string{scenarios.BrokenLand, scenarios.BrokenRing}[d.IntN(2)], 0.25, 25)
	case reason.GasketCoolant:
		return leak(scenarios.GasketToCoolant, 0.05, 15)
	case reason.GasketOutside:
		return leak(scenarios.GasketToOutside, 0.2, 12)
	case reason.ScoredBore:
		return []scenarios.Fault{{Kind: scenarios.ScoredBore, Cylinder: c, DepthMM: d.log(0.04, 0.6), WidthMM: d.log(4, 30)}}
	case reason.HoledPiston:
		return []scenarios.Fault{{Kind: scenarios.HoledPiston, Cylinder: c, DiameterMM: d.log(1.5, 15)}}
	}
	return restOfCylinder(family, k, c, d)
}

func restOfCylinder(family string, k float64, c int, d dice) []scenarios.Fault {
	one := scenarios.Fault{Cylinder: c}
	switch family {
	case reason.IntakeDead, reason.ExhaustDead:
		one.Kind = scenarios.IntakeLift
		if family == reason.ExhaustDead {
			one.Kind = scenarios.ExhaustLift
		}
		if d.chance(0.3) { // a lobe worn down rather than a rocker off
			one.Share = d.between(0.02, 0.25)
		}
	case reason.WeakSpring:
		one.Kind, one.Share = scenarios.WeakSpring, d.log(0.02, 0.15)
	case reason.WashedBore:
		one.Kind, one.Share = scenarios.WashedBore, d.between(0.5, 1)
		if d.chance(0.65) { // on rings that only their oil kept tight
			return []scenarios.Fault{one, {Kind: scenarios.WornRings, Cylinder: c, AreaMM2: k * d.log(0.1, 3)}}
		}
	case reason.CarbonOne:
		one.Kind, one.VolumeML = scenarios.Carbon, k*d.log(3, 12)
	case reason.LiquidOne:
		one.Kind, one.VolumeML = scenarios.Liquid, k*d.log(4, 30)
	default:
		return nil // OneOff: nothing is wrong with the engine
	}
	return []scenarios.Fault{one}
}

func (d dice) valve(intake float64) string {
	if d.chance(intake) {
		return "intake"
	}
	return "exhaust"
}

// lash draws a clearance that holds a valve off its seat. A specification leaves
// 0.08 mm before that happens (package sim).
func (d dice) lash(c int, lo, hi float64) scenarios.Fault {
	f := scenarios.Fault{Kind: scenarios.ExhaustLash, Cylinder: c, LashMM: -0.08 - d.log(lo, hi)}
	if d.valve(0.35) == "intake" {
		f.Kind = scenarios.IntakeLash
	}
	return f
}

// pairFaults draws a gasket burnt between two neighbours. In every second case one of
// the two leaks elsewhere too, so that pairs are often unequal.
func pairFaults(s *scenarios.Scenario, a, b int, d dice) []scenarios.Fault {
	k := scale(s.Engine)
	out := []scenarios.Fault{{Kind: scenarios.GasketBetween, Cylinders: []int{a, b}, AreaMM2: min(mostArea, k*d.log(0.5, 45))}}
	if d.chance(0.5) {
		kind := []string{scenarios.GasketToCoolant, scenarios.GasketToOutside, scenarios.ExhaustSeatLeak}[d.IntN(3)]
		out = append(out, scenarios.Fault{Kind: kind, Cylinder: a, AreaMM2: k * d.log(0.3, 4)})
	}
	return out
}

// bankFaults draws what a family puts wrong with all cylinders of bank b, from 1.
func bankFaults(family string, s *scenarios.Scenario, b int, d dice) []scenarios.Fault {
	var out []scenarios.Fault
	switch family {
	case reason.BankTiming:
		return []scenarios.Fault{d.timing(b, d.teeth(5), 0.7)}
	case reason.BankLash:
		lash := d.lash(0, 0.02, 0.5)
		for _, c := range s.Engine.Banks[b-1] {
			f := lash
			f.Cylinder = c
			f.LashMM += d.normal(0.02)
			out = append(out, f)
		}
	case reason.BankBent:
		valve := d.valve(0.5)
		gap := d.log(0.03, 1.2)
		for _, c := range s.Engine.Banks[b-1] {
			out = append(out, scenarios.Fault{Kind: scenarios.BentValve, Cylinder: c, Valve: valve, GapMM: min(3, d.around(gap, 0.25))})
		}
	}
	return out
}

// teeth draws how far a cam drive has jumped: one tooth most often, late four times
// out of five.
func (d dice) teeth(most int) int {
	n := 1
	for n < most && d.chance(0.45) {
		n++
	}
	if d.chance(0.2) {
		return -n
	}
	return n
}

func (d dice) timing(bank, teeth int, both float64) scenarios.Fault {
	f := scenarios.Fault{Kind: scenarios.CamTiming, Cam: "both", Bank: bank, TeethLate: teeth, WheelTeeth: 36 + 2*d.IntN(7)}
	if !d.chance(both) {
		f.Cam = "intake"
	}
	return f
}

// engineFaults draws what a family does to a whole engine or to how it is tested.
func engineFaults(family string, s *scenarios.Scenario, d dice) []scenarios.Fault {
	k := scale(s.Engine)
	each := func(make func(c int) scenarios.Fault) (out []scenarios.Fault) {
		for c := 1; c <= s.Engine.Cylinders; c++ {
			out = append(out, make(c))
		}
		return out
	}
	switch family {
	case reason.TimingLate, reason.TimingEarly, reason.TimingFar:
		return timingFaults(family, s, d)
	case reason.RingsAll:
		area, uneven := k*d.log(0.4, 6), d.between(0.05, 0.6)
		return each(func(c int) scenarios.Fault {
			return scenarios.Fault{Kind: scenarios.WornRings, Cylinder: c, AreaMM2: d.around(area, uneven)}
		})
	case reason.BoresDry:
		area, uneven := k*d.log(0.15, 4), d.between(0.15, 1)
		share := d.between(0.4, 1)
		worn := each(func(c int) scenarios.Fault {
			return scenarios.Fault{Kind: scenarios.WornRings, Cylinder: c, AreaMM2: d.around(area, uneven)}
		})
		if d.chance(0.5) { // rings that have stuck where they stood
			for c := 1; c <= s.Engine.Cylinders; c++ {
				if d.chance(0.4) {
					worn = append(worn, scenarios.Fault{Kind: scenarios.StuckRing, Cylinder: c, AreaMM2: k * d.log(0.5, 4)})
				}
			}
		}
		return append(worn, each(func(c int) scenarios.Fault {
			return scenarios.Fault{Kind: scenarios.DryBore, Cylinder: c, Share: max(0, min(share+d.normal(0.1), 1))}
		})...)
	case reason.ValvesAll:
		area, uneven, kind := k*d.log(0.2, 8), d.between(0.2, 0.8), scenarios.ExhaustSeatLeak
		if d.chance(0.25) {
			kind = scenarios.IntakeSeatLeak
		}
		return each(func(c int) scenarios.Fault {
			return scenarios.Fault{Kind: kind, Cylinder: c, AreaMM2: d.around(area, uneven)}
		})
	case reason.LashAll:
		lash := d.lash(0, 0.025, 0.25)
		return each(func(c int) scenarios.Fault {
			f := lash
			f.Cylinder, f.LashMM = c, f.LashMM+d.normal(0.015)
			return f
		})
	case reason.CarbonAll:
		volume := k * d.log(3, 10)
		return each(func(c int) scenarios.Fault {
			return scenarios.Fault{Kind: scenarios.Carbon, Cylinder: c, VolumeML: d.around(volume, 0.2)}
		})
	case reason.SlowCranking:
		return slowFaults(s, d)
	case reason.Altitude:
		return []scenarios.Fault{{Kind: scenarios.Altitude, AltitudeM: d.between(700, 3500)}}
	case reason.ExhaustBlocked:
		return []scenarios.Fault{{Kind: scenarios.RestrictedExhaust, AreaMM2: k * d.log(5, 30)}}
	}
	return methodFaults(family, s, d)
}

func timingFaults(family string, s *scenarios.Scenario, d dice) []scenarios.Fault {
	switch family {
	case reason.TimingEarly:
		return []scenarios.Fault{d.timing(0, -1-d.IntN(2), 0.6)}
	case reason.TimingLate:
		if d.chance(0.25) {
			return []scenarios.Fault{{Kind: scenarios.StuckPhaser, Cam: "intake", DegLate: d.between(10, 35)}}
		}
		return []scenarios.Fault{d.timing(0, 1+d.IntN(2), 0.6)}
	}
	n := 3 + d.IntN(4)
	if d.chance(0.3) {
		n = -n
	}
	jump := d.timing(0, n, 0.8)
	for most := jump.WheelTeeth * 110 / 720; jump.TeethLate > most || jump.TeethLate < -most; { // the model turns a cam by 114° at most
		jump.TeethLate -= jump.TeethLate / max(jump.TeethLate, -jump.TeethLate)
	}
	out := []scenarios.Fault{jump}
	if d.chance(0.5) {
		out = append(out, scenarios.Fault{Kind: scenarios.Interference, RecessMM: d.between(0.8, 2)})
	}
	return out
}

func slowFaults(s *scenarios.Scenario, d dice) []scenarios.Fault {
	switch d.IntN(5) {
	case 0:
		return []scenarios.Fault{{Kind: scenarios.WeakBattery, Charge: d.between(0.05, 0.45), AgeFactor: d.between(3.5, 8)}}
	case 1:
		return []scenarios.Fault{{Kind: scenarios.CableResistance, ResistanceMOhm: d.between(18, 60)}}
	case 2:
		return []scenarios.Fault{{Kind: scenarios.GroundResistance, ResistanceMOhm: d.between(18, 60)}}
	case 3:
		return []scenarios.Fault{{Kind: scenarios.DraggingStarter, DragNm: d.between(6, 13)}}
	}
	return []scenarios.Fault{{Kind: scenarios.TightEngine, FrictionKPa: d.between(160, 350)}}
}

// methodFaults changes how the test is done, or the tools it is done with.
func methodFaults(family string, s *scenarios.Scenario, d dice) []scenarios.Fault {
	gauge := s.Tools.Gauges[0].ID
	switch family {
	case reason.ThrottleShut:
		s.Method = &scenarios.Method{Throttle: "shut", Plugs: "out"}
		s.Engine.IdleMM2 = d.around(s.Engine.IdleMM2, 0.5)
	case reason.PlugsIn:
		s.Method = &scenarios.Method{Throttle: "shut", Plugs: "in"}
		if d.chance(0.4) {
			s.Method.Throttle = "open"
		}
	case reason.FewStrokes:
		s.Card.StrokesMin = 1 + d.IntN(2)
		s.Card.StrokesMax = s.Card.StrokesMin
	case reason.GaugeShifted:
		if d.chance(0.5) {
			return []scenarios.Fault{{Kind: scenarios.ZeroError, Tool: gauge, ErrorPSI: d.sign() * d.between(8, 25)}}
		}
		return []scenarios.Fault{{Kind: scenarios.SpanError, Tool: gauge, ErrorPercent: d.sign() * d.between(6, 18)}}
	case reason.GaugeLeaks:
		switch d.IntN(4) {
		case 0:
			return []scenarios.Fault{{Kind: scenarios.TipValveLeak, Tool: gauge, AreaMM2: d.log(0.0004, 0.3)}}
		case 1:
			return []scenarios.Fault{{Kind: scenarios.ReleaseLeak, Tool: gauge, AreaMM2: d.log(0.0004, 0.3)}}
		case 2:
			return []scenarios.Fault{{Kind: scenarios.TipValveAway, Tool: gauge, VolumeML: d.log(0.3, 3)}}
		}
		for _, a := range s.Tools.Adapters {
			if a.ThreadMM == s.Engine.Plug.ThreadMM && a.ReachMM == s.Engine.Plug.ReachMM && a.ORing {
				return []scenarios.Fault{{Kind: scenarios.MissingORing, Tool: a.ID, AreaMM2: d.log(0.3, 12)}}
			}
		}
	}
	return nil
}

func (d dice) sign() float64 {
	if d.chance(0.5) {
		return -1
	}
	return 1
}
