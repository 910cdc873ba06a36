package script

import (
	"fmt"
	"slices"

	"crankbay/sim/bench"
	"crankbay/sim/record"
)

const (
	// testerKPa is the air of a leakage test: 100 psi.
	testerKPa = 690.0
	// capC is a coolant temperature up to which its cap comes off without harm [°C].
	capC = 60.0
	// settleSeconds is how long an idling engine is left alone before it is read.
	settleSeconds = 2.0
	// oilSeconds of cranking bring oil to the walls before air goes on.
	oilSeconds = 3.0
)

// leakageTest puts air on a cylinder, listens and shuts it off again:
//
//	leakage on 3 [at overlap | as parked] [wrench left] [by ear PLACE…]
//
// With the tester on the engine is cranked for a moment, so that the rings are judged
// and not walls that have drained.
func (h *hands) leakageTest(w *words) {
	w.want("on")
	cylinder := w.count()
	place, wrench := "tdc", true
	if w.take("at") {
		w.want("overlap")
		place = "overlap"
	}
	if w.take("as") {
		w.want("parked")
		place = ""
	}
	if w.take("wrench") {
		w.want("left")
		wrench = false
	}
	var places []string
	if w.take("by") {
		w.want("ear")
		places, w.left = w.left, nil
	} else {
		places = []string{bench.PlaceThrottle, bench.PlaceTailpipe, bench.PlaceFiller, bench.PlaceHole, bench.PlaceEdge}
		if c := h.a.State().CoolantC; c != nil && *c < capC {
			places = append(places, bench.PlaceNeck)
		}
	}
	if w.err != nil || cylinder < 1 || cylinder > h.s.Engine.Cylinders {
		w.err = fmt.Errorf("leakage takes a cylinder: leakage on 3")
		return
	}
	h.hoseAway()
	h.on(bench.KindTesterOn, cylinder, "")
	if h.a.State().Wrench {
		h.do(bench.KindWrench, "off")
	}
	h.hold(oilSeconds)
	if place != "" {
		h.on(bench.KindTurn, cylinder, place)
	}
	if wrench && h.a.State().Wrench {
		h.do(bench.KindWrench, "off")
	}
	h.act(record.Action{Kind: bench.KindAir, Choice: "on", Number: testerKPa})
	h.a.Settle()
	for _, p := range places {
		h.listen(p, cylinder)
	}
	h.do(bench.KindAir, "off")
	h.do(bench.KindTesterOff, "")
}

// hold keeps the starter switch pressed for some seconds.
func (h *hands) hold(seconds float64) {
	h.do(bench.KindStarter, "on")
	h.wait(seconds)
	h.do(bench.KindStarter, "off")
	h.a.Settle()
}

// listen puts an ear to a place, to the open holes beside the cylinder where the
// place is a plug hole.
func (h *hands) listen(place string, cylinder int) {
	if place != bench.PlaceHole {
		h.do(bench.KindListen, place)
		return
	}
	for _, bank := range h.s.Engine.Banks {
		at := slices.Index(bank, cylinder)
		for _, i := range []int{at - 1, at + 1} {
			if at >= 0 && i >= 0 && i < len(bank) && h.plug(bank[i]) == "out" {
				h.on(bench.KindListen, bank[i], place)
			}
		}
	}
}

func (h *hands) plug(cylinder int) string {
	for _, p := range h.a.State().Plugs {
		if p.Cylinder == cylinder {
			return p.State
		}
	}
	return ""
}

// hoseAway takes the gauge out of the plug hole it is in.
func (h *hands) hoseAway() {
	if h.a.State().HoseOn != 0 {
		h.do(bench.KindRelease, "")
		h.do(bench.KindHoseOff, "")
	}
}

// plugs screws all plugs in or takes all out, but for some:
//
//	plugs in [but 2] / plugs out
func (h *hands) plugs(w *words) {
	out := w.take("out")
	if !out {
		w.want("in")
	}
	var but []int
	if w.take("but") {
		for len(w.left) > 0 && w.err == nil {
			but = append(but, w.count())
		}
	}
	if w.err != nil {
		return
	}
	for _, p := range h.a.State().Plugs {
		switch {
		case slices.Contains(but, p.Cylinder):
		case out && p.State == "in":
			h.on(bench.KindPlugOut, p.Cylinder, "ordered")
		case !out && p.State == "out":
			h.on(bench.KindPlugIn, p.Cylinder, "hand")
		}
	}
}

// watched cranks with an instrument on: current for 5 s, vacuum for 5 s.
func (h *hands) watched(kind string, w *words) {
	w.want("for")
	h.do(kind, "on")
	h.crank(w)
	h.do(kind, "off")
}

// runningTest reads a cylinder with the engine running, at idle and after a snap:
//
//	running on 2
//
// Everything else has to be in and connected before.
func (h *hands) runningTest(w *words) {
	w.want("on")
	cylinder := w.count()
	if w.err != nil {
		return
	}
	if h.a.State().HoseOn != cylinder {
		h.hoseAway()
		h.on(bench.KindHoseOn, cylinder, "")
	}
	h.on(bench.KindDisableOne, cylinder, "disabled")
	if !h.a.State().Leads {
		h.do(bench.KindLeads, "")
	}
	h.do(bench.KindEngineRun, "on")
	h.wait(settleSeconds)
	h.do(bench.KindRelease, "")
	h.wait(bench.IdleBleed + bench.IdlePump + 0.5)
	h.do(bench.KindSnap, "")
	h.wait(bench.SnapSeconds + bench.SnapFall + 0.5)
	h.do(bench.KindEngineRun, "off")
	h.a.Settle()
	h.do(bench.KindRelease, "")
	h.do(bench.KindHoseOff, "")
	h.on(bench.KindDisableOne, cylinder, "enabled")
}

// wait lets seconds pass while something turns.
func (h *hands) wait(seconds float64) {
	if h.err == nil {
		h.a.Advance(int(seconds * record.TicksPerSecond))
	}
}

// connect switches fuel and ignition back on, or off: connect, disconnect.
func (h *hands) connect(on bool) {
	st, word := h.a.State(), "disabled"
	if on {
		word = "enabled"
	}
	if st.Fuel != word {
		h.do(bench.KindFuel, word)
	}
	if st.Ignition != word {
		h.do(bench.KindIgnition, word)
	}
}
