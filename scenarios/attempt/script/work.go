package script

import (
	"fmt"
	"slices"

	"crankbay/diagnose"
	"crankbay/sim/bench"
	"crankbay/sim/record"
)

// Parts are what prepare can leave out.
func Parts() []string {
	return []string{
		"glasses", "gear", "brake", "chocks", "belts", "fluids", "spec", "gauge_prove", "meters", "switch", "warm",
		"fuel", "ignition", "wells", "charger", "plugs", "order", "throttle",
	}
}

// prepare does what the card asks for before the first hose, less some of it.
func (h *hands) prepare(w *words) {
	var without []string
	if w.take("without") {
		for len(w.left) > 0 {
			part := w.next()
			if !slices.Contains(Parts(), part) {
				w.err = fmt.Errorf("%q is nothing that prepare does", part)
				return
			}
			without = append(without, part)
		}
	}
	does := func(part string) bool { return !slices.Contains(without, part) }
	h.secure(does)
	h.tools(does)
	h.disable(does)
}

func (h *hands) secure(does func(string) bool) {
	for _, step := range []record.Action{
		{Kind: bench.KindGlasses, Choice: "on"}, {Kind: bench.KindGear, Choice: bench.GearPark},
		{Kind: bench.KindBrake, Choice: "on"}, {Kind: bench.KindChocks, Choice: "on"},
		{Kind: bench.KindBelts}, {Kind: bench.KindFluids},
		{Kind: bench.KindSpec, Choice: h.s.RightPage},
	} {
		part := map[string]string{
			bench.KindBelts: "belts", bench.KindFluids: "fluids", bench.KindSpec: "spec",
		}[step.Kind]
		if part == "" {
			part = step.Kind
		}
		if does(part) {
			h.act(step)
		}
	}
}

func (h *hands) tools(does func(string) bool) {
	h.do(bench.KindGauge, h.s.Tools.Gauges[0].ID)
	if does("gauge_prove") {
		h.do(bench.KindProve, "")
	}
	h.do(bench.KindAdapter, h.adapter())
	if does("meters") {
		h.do(bench.KindVoltmeter, "on")
		h.do(bench.KindTachometer, "on")
	}
	if does("switch") && h.s.Card.Switch != diagnose.SwitchKey {
		h.do(bench.KindSwitch, "remote")
	}
	if !does("warm") {
		return
	}
	for range 5 {
		if *h.a.State().CoolantC < h.s.Conditions.WarmC-3 && h.s.Card.CoolantMinC > h.s.Conditions.AmbientC {
			h.number(bench.KindWarmUp, 10)
		}
	}
}

// adapter returns the first on the tray that fits by the card.
func (h *hands) adapter() string {
	c := h.s.Card
	for _, a := range h.s.Tools.Adapters {
		if a.ThreadMM == c.ThreadMM && a.ReachMM == c.ReachMM && (a.ORing || !c.ORing) {
			return a.ID
		}
	}
	return h.s.Tools.Adapters[0].ID
}

func (h *hands) disable(does func(string) bool) {
	c := h.s.Card
	if does("fuel") && c.FuelDisable {
		h.do(bench.KindFuel, "disabled")
	}
	if does("ignition") && c.IgnitionDisable {
		h.do(bench.KindIgnition, "disabled")
	}
	if does("charger") && c.Charger {
		h.do(bench.KindCharger, "on")
	}
	if does("wells") {
		h.do(bench.KindWells, "")
	}
	order := "ordered"
	if !does("order") {
		order = "loose"
	}
	for cyl := 1; cyl <= h.s.Engine.Cylinders && does("plugs") && c.PlugsOut; cyl++ {
		h.on(bench.KindPlugOut, cyl, order)
	}
	if does("throttle") && c.ThrottleOpen {
		h.do(bench.KindThrottle, c.ThrottleChoice())
	}
}

// strokes tests one cylinder.
func (h *hands) strokes(n, cylinder int, parked, stay bool) {
	if h.a.State().HoseOn != cylinder {
		h.on(bench.KindHoseOn, cylinder, "")
	}
	if !parked {
		h.on(bench.KindTurn, cylinder, "bdc")
		h.do(bench.KindWrench, "off")
	}
	h.do(bench.KindStarter, "on")
	for range n {
		if h.err == nil {
			h.a.StrokeStep()
		}
	}
	h.do(bench.KindStarter, "off")
	h.a.Settle()
	if !stay {
		h.do(bench.KindRelease, "")
		h.do(bench.KindHoseOff, "")
	}
}

// crank holds the switch for a while.
func (h *hands) crank(w *words) {
	seconds := w.number()
	w.want("s")
	if w.err != nil || !(seconds > 0 && seconds <= 1800) {
		w.err = fmt.Errorf("crank takes a number of seconds up to 1800: crank 2.5 s")
		return
	}
	h.hold(seconds)
}

// putBack undoes everything, in order, and starts the engine.
func (h *hands) putBack() {
	st := h.a.State()
	if st.HoseOn != 0 {
		h.do(bench.KindRelease, "")
		h.do(bench.KindHoseOff, "")
	}
	if st.Throttle != "shut" {
		h.do(bench.KindThrottle, "shut")
	}
	for _, p := range h.a.State().Plugs {
		if p.State == "out" {
			h.on(bench.KindPlugIn, p.Cylinder, "hand")
		}
	}
	if !h.a.State().Torqued {
		h.do(bench.KindPlugTorque, "")
	}
	if !st.Leads {
		h.do(bench.KindLeads, "")
	}
	if st.Fuel == "disabled" {
		h.do(bench.KindFuel, "enabled")
	}
	if st.Ignition == "disabled" {
		h.do(bench.KindIgnition, "enabled")
	}
	if st.Charger {
		h.do(bench.KindCharger, "off")
	}
	h.do(bench.KindCodesClear, "")
	h.do(bench.KindEngineStart, "")
}
