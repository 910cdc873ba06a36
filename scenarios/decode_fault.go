package scenarios

import (
	"fmt"

	"crankbay/scenarios/strict"
)

// fault reads one fault by the table of kinds.
func fault(v strict.Value, s *Scenario) Fault {
	o := v.Object()
	at := o.Need("kind")
	f := Fault{Kind: at.Text(40)}
	k := faultKind(f.Kind)
	if k == nil {
		if at.Present() {
			at.Fail("%.40q is no kind of fault, see the list of kinds", f.Kind)
		}
		return f
	}
	place(o, &f, k, s)
	if k.Which != "" {
		*k.which(&f) = o.Need(k.Which).OneOf(k.Choice...)
	}
	for _, n := range k.Numbers {
		if n.Whole() {
			*n.whole(&f) = int(o.Need(n.Name).Int(int64(n.Lo), int64(n.Hi)))
		} else {
			*n.float(&f) = o.Need(n.Name).Float(n.Lo, n.Hi)
		}
	}
	o.Close()
	return f
}

// place reads where the fault sits.
func place(o *strict.Object, f *Fault, k *FaultKind, s *Scenario) {
	n := s.Engine.Cylinders
	switch k.Place {
	case PlaceCylinder:
		f.Cylinder = cylinder(o.Need("cylinder"), n)
	case PlaceCylinders:
		f.Cylinder = cylinder(o.May("cylinder"), n)
	case PlaceNeighbours:
		at := o.Need("cylinders")
		f.Cylinders = cylinders(at, 2, 2, n)
		neighbours(at, f.Cylinders, s.Engine.Banks)
	case PlaceCams:
		cams(o, f, s.Engine)
	case PlaceGauge:
		at := o.Need("gauge")
		f.Tool = at.ID()
		for _, g := range s.Tools.Gauges {
			if g.ID == f.Tool {
				return
			}
		}
		at.Fail("%q is not the id of a gauge on the tray", f.Tool)
	case PlaceAdapter:
		at := o.Need("adapter")
		f.Tool = at.ID()
		for _, a := range s.Tools.Adapters {
			if a.ID == f.Tool {
				return
			}
		}
		at.Fail("%q is not the id of an adapter on the tray", f.Tool)
	}
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

func cams(o *strict.Object, f *Fault, e Engine) {
	cam := o.Need("cam")
	f.Cam = cam.OneOf("intake", "exhaust", "both")
	bank := o.Need("bank")
	f.Bank = int(bank.Int(0, 2))
	switch {
	case e.Cams != "twin" && f.Cam != "both":
		cam.Fail("%q, one cam moves both kinds of valves on this engine", f.Cam)
	case e.Cams == "block" && f.Bank != 0:
		bank.Fail("%d, one cam serves all cylinders of this engine", f.Bank)
	case f.Bank > len(e.Banks):
		bank.Fail("%d, this engine has %d bank", f.Bank, len(e.Banks))
	}
}

// dead volume that an adapter can have in all [ml], as package bench takes it.
const maxAdapterML = 15

// checkTray asks whether the tools with their faults are ones that the bench and
// the engine take.
func (s *Scenario) checkTray() error {
	b := s.Setup()
	for i, g := range b.Gauges {
		if err := g.Spec.Validate(); err != nil {
			return fmt.Errorf("tools.gauges[%d] and faults together: %s", i, first(err))
		}
		p := b.Engine
		p.Gauge = g.Plumbing
		if err := p.Validate(); err != nil {
			return fmt.Errorf("tools.gauges[%d] and faults together: %s", i, first(err))
		}
		if v := g.Plumbing.AdapterVolume; v > maxAdapterML*ml {
			return fmt.Errorf("tools.gauges[%d] and faults together: %.3g ml between plug hole and tip valve, at most %d", i, v/ml, maxAdapterML)
		}
	}
	return nil
}
