package scenarios

import "crankbay/scenarios/strict"

// Severities a fault can have, in the unit of the file.
const (
	maxLeakMM2   = 60.0
	maxRingMM2   = 60.0
	maxCarbonML  = 60.0
	maxTeeth     = 6
	minWheel     = 16
	maxWheel     = 72
	maxAgeFactor = 20.0
)

func fault(v strict.Value, s *Scenario) Fault {
	o := v.Object()
	f := Fault{Kind: o.Need("kind").OneOf(Kinds()...)}
	n := s.Engine.Cylinders
	switch f.Kind {
	case ExhaustSeatLeak, IntakeSeatLeak:
		f.Cylinder = cylinder(o.Need("cylinder"), n)
		f.AreaMM2 = o.Need("area_mm2").Float(0, maxLeakMM2)
	case WornRings:
		f.Cylinder = cylinder(o.May("cylinder"), n)
		f.AreaMM2 = o.Need("area_mm2").Float(0, maxRingMM2)
	case GasketBetween:
		at := o.Need("cylinders")
		f.Cylinders = cylinders(at, 2, 2, n)
		f.AreaMM2 = o.Need("area_mm2").Float(0, maxLeakMM2)
		neighbours(at, f.Cylinders, s.Engine.Banks)
	case CamTiming:
		camTiming(o, &f, s.Engine)
	case WeakBattery:
		f.Charge = o.Need("charge").Float(0, 1)
		f.AgeFactor = o.Need("age_factor").Float(0.5, maxAgeFactor)
	case IntakeLift, ExhaustLift:
		f.Cylinder = cylinder(o.Need("cylinder"), n)
		f.Share = o.Need("share").Float(0, 1)
	case Carbon:
		f.Cylinder = cylinder(o.May("cylinder"), n)
		f.VolumeML = o.Need("volume_ml").Float(0, maxCarbonML)
	default:
		return f
	}
	o.Close()
	return f
}

// neighbours notes a fault unless the two stand side by side in one bank.
func neighbours(v strict.Value, two []int, banks [][]int) {
	if len(two) != 2 {
		return
	}
	for _, bank := range banks {
		for i := 1; i < len(bank); i++ {
			a, b := bank[i-1], bank[i]
			if a == two[0] && b == two[1] || a == two[1] && b == two[0] {
				return
			}
		}
	}
	v.Fail("%d and %d are not side by side in one bank", two[0], two[1])
}

func camTiming(o *strict.Object, f *Fault, e Engine) {
	cam := o.Need("cam")
	f.Cam = cam.OneOf("intake", "exhaust", "both")
	bank := o.Need("bank")
	f.Bank = int(bank.Int(0, 2))
	f.TeethLate = int(o.Need("teeth_late").Int(-maxTeeth, maxTeeth))
	f.WheelTeeth = int(o.Need("wheel_teeth").Int(minWheel, maxWheel))
	switch {
	case e.Cams != "twin" && f.Cam != "both":
		cam.Fail("%q, one cam moves both kinds of valves on this engine", f.Cam)
	case e.Cams == "block" && f.Bank != 0:
		bank.Fail("%d, one cam serves all cylinders of this engine", f.Bank)
	case f.Bank > len(e.Banks):
		bank.Fail("%d, this engine has %d bank", f.Bank, len(e.Banks))
	}
}
