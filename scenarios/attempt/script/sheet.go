package script

import (
	"fmt"

	"crankbay/diagnose"
	"crankbay/scenarios/attempt"
	"crankbay/sim/record"
)

func (h *hands) entry(field string, cylinder int, number float64) {
	h.act(record.Action{Kind: attempt.KindWrite, Choice: field, Cylinder: cylinder, Number: number})
}

// write puts on the sheet what a careful student would have read.
func (h *hands) write(w *words) {
	what := w.next()
	switch what {
	case "dry":
		h.readings(w, diagnose.FieldDryFirst, diagnose.FieldDryLast, diagnose.FieldStrokes)
	case "wet":
		h.readings(w, diagnose.FieldWetFirst, diagnose.FieldWetLast, diagnose.FieldWetStrokes)
	case "speed", "voltage":
		h.meter(w, what)
	case "temperature":
		h.entry(diagnose.FieldCoolantC, 0, *h.a.State().CoolantC)
	case "throttle":
		open := 0.0
		if h.a.State().Throttle != "shut" {
			open = 1
		}
		h.entry(diagnose.FieldThrottle, 0, open)
	case "spec":
		h.spec(w)
	case "oil":
		if cylinder := w.count(); w.err == nil && cylinder >= 1 && cylinder <= h.s.Engine.Cylinders {
			h.entry(diagnose.FieldOilML, cylinder, h.a.State().OilML[cylinder-1])
		}
	default:
		if !h.confirming(what, w) {
			h.field(what, w)
		}
	}
}

// field writes any number in any field: write dry_last 2 1030000.
func (h *hands) field(field string, w *words) {
	cylinder := 0
	if len(w.left) > 1 {
		cylinder = w.count()
	}
	value := w.number()
	if w.err == nil {
		h.entry(field, cylinder, value)
	}
}

// readings writes the last run on a cylinder down, as the dial showed it.
func (h *hands) readings(w *words, first, last, strokes string) {
	cylinder := w.count()
	if w.err != nil {
		return
	}
	runs := h.a.Record().Runs
	for i := len(runs) - 1; i >= 0; i-- {
		if runs[i].Cylinder != cylinder {
			continue
		}
		n := 0.0
		for _, s := range runs[i].Strokes {
			if !s.Full {
				continue
			}
			if n == 0 {
				h.entry(first, cylinder, s.Shown)
			}
			n++
		}
		if n > 0 {
			h.entry(last, cylinder, runs[i].Strokes[len(runs[i].Strokes)-1].Shown)
		}
		h.entry(strokes, cylinder, n)
		return
	}
	w.err = fmt.Errorf("cylinder %d was not cranked with the gauge on", cylinder)
}

// meter writes what a meter holds of the last run.
func (h *hands) meter(w *words, what string) {
	st := h.a.State()
	switch {
	case what == "speed" && st.RPMMean != nil:
		h.entry(diagnose.FieldRPM, 0, *st.RPMMean)
	case what == "voltage" && st.VoltsLow != nil:
		h.entry(diagnose.FieldBatteryV, 0, *st.VoltsLow)
	default:
		w.err = fmt.Errorf("the meter for the %s saw nothing", what)
	}
}

// spec copies the page that was looked up last.
func (h *hands) spec(w *words) {
	const kilo = 1e3
	for _, p := range h.s.SpecPages {
		if p.ID == h.a.State().Page {
			h.entry(diagnose.FieldSpecStandard, 0, p.StandardKPa*kilo)
			h.entry(diagnose.FieldSpecMinimum, 0, p.MinimumKPa*kilo)
			h.entry(diagnose.FieldSpecDifference, 0, p.DifferenceKPa*kilo)
			return
		}
	}
	w.err = fmt.Errorf("no page was looked up")
}

// tick ticks items of the card, or all of them.
func (h *hands) tick(w *words) {
	items := w.left
	w.left = nil
	if len(items) == 1 && items[0] == "all" {
		items = h.s.Card.Items
	}
	for _, item := range items {
		h.act(record.Action{Kind: attempt.KindTick, Choice: item, Number: 1})
	}
}

// conclude names a family and its cylinders.
func (h *hands) conclude(w *words) {
	family := w.next()
	if len(w.left) == 0 {
		h.do(attempt.KindFinding, family)
	}
	for len(w.left) > 0 && w.err == nil {
		h.on(attempt.KindFinding, w.count(), family)
	}
}
