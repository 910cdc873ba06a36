package scenarios

import (
	"crankbay/scenarios/strict"
	"crankbay/sim/bench"
)

func engine(v strict.Value) Engine {
	o := v.Object()
	e := Engine{
		ID:        o.Need("id").ID(),
		Name:      words(o.Need("name"), maxTitle),
		Layout:    o.Need("layout").OneOf("inline", "v", "flat"),
		Cylinders: int(o.Need("cylinders").Int(1, 12)),
	}
	order(o, &e)
	e.BoreMM = o.Need("bore_mm").Float(35, 190)
	e.StrokeMM = o.Need("stroke_mm").Float(35, 190)
	e.RodMM = o.Need("rod_mm").Float(60, 350)
	e.Compression = o.Need("compression_ratio").Float(5, 20)
	e.Valves = valves(o.Need("valves"))
	e.PlenumL = o.Need("plenum_l").Float(0.3, 15)
	e.ThrottleMM2 = o.Need("throttle_area_mm2").Float(20, 9000)
	e.IdleMM2 = o.Need("idle_area_mm2").Float(0.5, 500)
	e.RingMM2 = o.Need("ring_area_mm2").Float(0, 20)
	e.InertiaKgM2 = o.Need("inertia_kg_m2").Float(0.01, 4)
	e.FrictionKPa = o.Need("friction_kpa").Float(5, 900)
	e.Oil = oil(o.Need("oil"))
	e.Plug = plug(o.Need("plug"))
	e.CamDrive = o.Need("cam_drive").OneOf("belt", "chain", "pushrod")
	e.Cams = o.Need("cams").OneOf("twin", "single", "block")
	e.extras(o)
	if v.Present() && e.RodMM > 0 && e.RodMM <= e.StrokeMM {
		o.Need("rod_mm").Fail("%g, shorter than a rod can be with stroke_mm %g", e.RodMM, e.StrokeMM)
	}
	o.Close()
	return e
}

// extras reads what an engine may have over and above the rest.
func (e *Engine) extras(o *strict.Object) {
	e.PinOffsetMM = o.May("pin_offset_mm").Float(-5, 5)
	e.PlugHoleMM2 = o.May("plug_hole_area_mm2").Float(11, 990)
	e.ExhaustL = o.May("exhaust_l").Float(0.3, 49)
	e.ExhaustOutletMM2 = o.May("exhaust_outlet_mm2").Float(0, 9900)
	e.RecessMM = o.May("recess_mm").Float(0, 19)
	e.CylinderRingMM2 = each(o.May("cylinder_ring_area_mm2"), e.Cylinders, 20)
	e.CylinderDepositML = each(o.May("cylinder_deposit_ml"), e.Cylinders, 20)
	e.OiledShare = o.May("oiled_share").Float(0.05, 1)
	if v := o.May("key"); v.Present() {
		e.Key = v.OneOf(string(bench.KeyFires), string(bench.KeyValves), string(bench.KeyService))
	}
	e.DriveByWire = maybe(o.May("drive_by_wire"))
	e.ThreadsMaxC = o.May("threads_max_c").Float(15, 120)
	v := o.May("release")
	if !v.Present() {
		return
	}
	r := v.Object()
	e.Release = &Release{
		LiftMM:   r.Need("lift_mm").Float(0.05, 4.9),
		FromDeg:  r.Need("from_deg").Float(-359, 359),
		ToDeg:    r.Need("to_deg").Float(-359, 359),
		BelowRPM: r.Need("below_rpm").Float(1, 4700),
	}
	if e.Release.ToDeg <= e.Release.FromDeg {
		r.Need("to_deg").Fail("%g, want more than from_deg %g", e.Release.ToDeg, e.Release.FromDeg)
	}
	r.Close()
}

// each reads one number from 0 to most for every cylinder.
func each(v strict.Value, n int, most float64) (list []float64) {
	if !v.Present() {
		return nil
	}
	for _, item := range v.List(n, n) {
		list = append(list, item.Float(0, most))
	}
	return list
}

// order reads banks, firing order and firing angles, each of which has to name
// every cylinder once.
func order(o *strict.Object, e *Engine) {
	most := 1
	if e.Layout != "inline" {
		most = 2
	}
	v := o.Need("banks")
	var all []int
	for _, b := range v.List(1, most) {
		bank := cylinders(b, 1, 12, e.Cylinders)
		e.Banks = append(e.Banks, bank)
		all = append(all, bank...)
	}
	everyOnce(v, all, e.Cylinders)
	v = o.Need("firing_order")
	e.FiringOrder = cylinders(v, 1, 12, e.Cylinders)
	everyOnce(v, e.FiringOrder, e.Cylinders)
	if len(e.FiringOrder) > 0 && e.FiringOrder[0] != 1 {
		v.Fail("begins with %d, want 1", e.FiringOrder[0])
	}
	v = o.May("firing_angles_deg")
	if !v.Present() {
		return
	}
	for i, a := range v.List(e.Cylinders, e.Cylinders) {
		deg := a.Float(0, 719.9)
		if i == 0 && deg != 0 {
			a.Fail("%g, want 0 for cylinder 1", deg)
		}
		if i > 0 && deg <= e.FiringAnglesDeg[i-1] {
			a.Fail("%g, want more than the angle before it", deg)
		}
		e.FiringAnglesDeg = append(e.FiringAnglesDeg, deg)
	}
}

// cylinder reads the number of a cylinder of an engine that has n.
func cylinder(v strict.Value, n int) int {
	c := int(v.Int(-1<<31, 1<<31))
	if v.Present() && (c < 1 || c > n) {
		v.Fail("%d, this engine has cylinders 1 to %d", c, n)
		return 0
	}
	return c
}

// cylinders reads a list of lo to hi different cylinders.
func cylinders(v strict.Value, lo, hi, n int) []int {
	list := []int{}
	for _, item := range v.List(lo, hi) {
		c := cylinder(item, n)
		for _, before := range list {
			if before == c {
				item.Fail("%d, named twice", c)
			}
		}
		list = append(list, c)
	}
	return list
}

func everyOnce(v strict.Value, list []int, n int) {
	if len(list) != n {
		v.Fail("names %d cylinders, this engine has %d", len(list), n)
		return
	}
	seen := make([]bool, n+1)
	for _, c := range list {
		if c < 1 || c > n || seen[c] {
			v.Fail("want every cylinder from 1 to %d once", n)
			return
		}
		seen[c] = true
	}
}

func valves(v strict.Value) Valves {
	o := v.Object()
	in, ex := o.Need("intake").Object(), o.Need("exhaust").Object()
	all := Valves{
		Intake: IntakeValve{
			Count:         int(in.Need("count").Int(1, 3)),
			DiameterMM:    in.Need("diameter_mm").Float(11, 79),
			LiftMM:        in.Need("lift_mm").Float(3.1, 19),
			OpensDegBTDC:  in.Need("opens_deg_btdc").Float(-60, 90),
			ClosesDegABDC: in.Need("closes_deg_abdc").Float(-30, 130),
		},
		Exhaust: ExhaustValve{
			Count:         int(ex.Need("count").Int(1, 3)),
			DiameterMM:    ex.Need("diameter_mm").Float(11, 79),
			LiftMM:        ex.Need("lift_mm").Float(3.1, 19),
			OpensDegBBDC:  ex.Need("opens_deg_bbdc").Float(-30, 120),
			ClosesDegATDC: ex.Need("closes_deg_atdc").Float(-60, 90),
		},
	}
	in.Close()
	ex.Close()
	o.Close()
	return all
}

func oil(v strict.Value) Oil {
	o := v.Object()
	f := Oil{KV40: o.Need("kv40_mm2_s").Float(11, 290), KV100: o.Need("kv100_mm2_s").Float(3.1, 29)}
	if v.Present() && f.KV100 >= f.KV40 && f.KV40 > 0 {
		o.Need("kv100_mm2_s").Fail("%g, hot oil is thinner than kv40_mm2_s %g", f.KV100, f.KV40)
	}
	o.Close()
	return f
}

func plug(v strict.Value) Plug {
	o := v.Object()
	p := Plug{
		ThreadMM: o.Need("thread_mm").Float(8, 22),
		ReachMM:  o.Need("reach_mm").Float(6, 40),
		TorqueNm: o.Need("torque_nm").Float(5, 60),
	}
	o.Close()
	return p
}
