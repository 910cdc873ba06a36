package script

import (
	"fmt"

	"crankbay/diagnose"
	"crankbay/scenarios/attempt"
)

// confirming writes down what a confirming test showed last; false for other words.
func (h *hands) confirming(what string, w *words) bool {
	switch what {
	case "leakage":
		h.leakage(w)
	case "humps":
		h.humps(w)
	case "running":
		h.running(w)
	case "vacuum":
		h.vacuum(w)
	case "repeat":
		h.last(w, diagnose.FieldRepeatLast)
	case "second":
		h.last(w, diagnose.FieldSecondLast)
	case "refit":
		h.last(w, diagnose.FieldRefitLast)
	default:
		return false
	}
	return true
}

// leakage writes percent and supply of the last leakage test of a cylinder, and
// where air was heard in it.
func (h *hands) leakage(w *words) {
	cylinder := w.count()
	leaks := h.a.Record().Leaks
	for i := len(leaks) - 1; i >= 0 && w.err == nil; i-- {
		l := leaks[i]
		if l.Cylinder != cylinder {
			continue
		}
		h.entry(diagnose.FieldLeakage, cylinder, l.Percent)
		h.entry(diagnose.FieldLeakageSupply, 0, l.SupplyPa)
		written := map[string]bool{}
		for _, p := range l.Heard {
			place := p.Place
			if p.Cylinder != 0 {
				place = diagnose.HeardNeighbour
			}
			if p.Air && !written[place] {
				written[place] = true
				h.on(attempt.KindHeard, cylinder, place)
			}
		}
		if len(l.Heard) > 0 && len(written) == 0 {
			h.on(attempt.KindHeard, cylinder, diagnose.HeardNowhere)
		}
		return
	}
	if w.err == nil {
		w.err = fmt.Errorf("no air was put on cylinder %d", cylinder)
	}
}

// humps writes the hump of every cylinder from the last current trace.
func (h *hands) humps(w *words) {
	list := h.a.Record().Currents
	for i := len(list) - 1; i >= 0; i-- {
		if len(list[i].Humps) == 0 {
			continue
		}
		for _, hump := range list[i].Humps {
			h.entry(diagnose.FieldHump, hump.Cylinder, hump.Percent)
		}
		return
	}
	w.err = fmt.Errorf("no trace of the starter current compares the cylinders")
}

// running writes the last idle and snap reading of a cylinder.
func (h *hands) running(w *words) {
	cylinder := w.count()
	wrote := false
	for _, how := range []struct{ how, field string }{
		{"idle", diagnose.FieldRunningIdle}, {"snap", diagnose.FieldRunningSnap},
	} {
		list := h.a.Record().Pumped
		for i := len(list) - 1; i >= 0 && w.err == nil; i-- {
			if list[i].Cylinder == cylinder && list[i].How == how.how {
				h.entry(how.field, cylinder, list[i].Shown)
				wrote = true
				break
			}
		}
	}
	if w.err == nil && !wrote {
		w.err = fmt.Errorf("cylinder %d was not read with the engine running", cylinder)
	}
}

// vacuum writes the mean of the last cranking with the vacuum gauge on.
func (h *hands) vacuum(w *words) {
	list := h.a.Record().Vacuums
	if len(list) == 0 {
		w.err = fmt.Errorf("the vacuum gauge saw nothing")
		return
	}
	h.entry(diagnose.FieldVacuum, 0, list[len(list)-1].MeanPa)
}

// last writes the last reading of the last run on a cylinder into a field.
func (h *hands) last(w *words, field string) {
	cylinder := w.count()
	runs := h.a.Record().Runs
	for i := len(runs) - 1; i >= 0 && w.err == nil; i-- {
		if r := runs[i]; r.Cylinder == cylinder && r.Full() > 0 {
			h.entry(field, cylinder, r.Strokes[len(r.Strokes)-1].Shown)
			return
		}
	}
	if w.err == nil {
		w.err = fmt.Errorf("cylinder %d was not cranked with the gauge on", cylinder)
	}
}
