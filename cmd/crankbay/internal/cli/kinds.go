package cli

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"crankbay/cmd/crankbay/internal/trace"
	"crankbay/scenarios"
	"crankbay/scenarios/book"
	"crankbay/sim/record"
)

// testedOn is what a test was done on.
type testedOn struct {
	Engine     string  `json:"engine"`
	AmbientKPa float64 `json:"ambient_kpa"`
}

func on(s *scenarios.Scenario) testedOn {
	kPa, _ := s.Air()
	return testedOn{Engine: s.Engine.ID, AmbientKPa: kPa}
}

// The further kinds as `test --json` prints them.
type (
	leakageTested struct {
		book.LeakageResult
		testedOn
	}
	currentTested struct {
		book.CurrentResult
		testedOn
	}
	runningTested struct {
		book.RunningResult
		testedOn
	}
	vacuumTested struct {
		book.VacuumResult
		testedOn
	}
)

// shown is a result that prints itself as a table.
type shown interface{ text(io.Writer) error }

func checkKind(kind string) error {
	if slices.Contains(book.Kinds(), kind) {
		return nil
	}
	return usagef("test: --kind %q: want one of %s", kind, strings.Join(book.Kinds(), ", "))
}

// other does a test of a kind beyond dry and wet; watch may be nil.
func other(s *scenarios.Scenario, kind string, asRead bool, afterDeg float64, watch book.Watch) (shown, error) {
	var out shown
	var err error
	switch kind {
	case book.LeakageKind:
		var r book.LeakageResult
		r, err = book.Leakage(s, book.LeakageOptions{AsRead: asRead, AfterDeg: afterDeg, Watch: watch})
		out = leakageTested{r, on(s)}
	case book.CurrentKind:
		var r book.CurrentResult
		r, err = book.Current(s, asRead, watch)
		out = currentTested{r, on(s)}
	case book.RunningKind:
		var r book.RunningResult
		r, err = book.RunningTest(s, asRead, watch)
		out = runningTested{r, on(s)}
	default:
		var r book.VacuumResult
		r, err = book.Vacuum(s, asRead, watch)
		out = vacuumTested{r, on(s)}
	}
	if err != nil {
		return nil, fmt.Errorf("%s: %w", s.ID, err)
	}
	return out, nil
}

func runOther(w io.Writer, s *scenarios.Scenario, kind string, asRead bool, afterDeg float64, f files, asJSON bool) error {
	var t trace.Trace
	var watch book.Watch
	if f.wanted() {
		watch = t.Watch(kind)
	}
	r, err := other(s, kind, asRead, afterDeg, watch)
	if err != nil {
		return err
	}
	if f.wanted() {
		if err := f.write(s, t, r); err != nil {
			return err
		}
	}
	if asJSON {
		return writeJSON(w, r)
	}
	if err := r.text(w); err != nil {
		return err
	}
	return simulated(w)
}

// runAll does every kind of test; a card without a wet test goes without.
func runAll(w io.Writer, s *scenarios.Scenario, asRead, byCard, asJSON bool) error {
	var all []any
	for _, kind := range book.Kinds() {
		var r shown
		var err error
		switch {
		case kind == book.Wet && s.Card.OilML == 0:
			continue
		case kind == book.Dry || kind == book.Wet:
			r, err = gaugeTest(s, book.Options{Kind: kind, AsRead: asRead, ByCard: byCard})
		default:
			r, err = other(s, kind, asRead, 0, nil)
		}
		if err != nil {
			return err
		}
		all = append(all, r)
		if asJSON {
			continue
		}
		if err := r.text(w); err != nil {
			return err
		}
		fmt.Fprintln(w)
	}
	if asJSON {
		return writeJSON(w, all)
	}
	return simulated(w)
}

func simulated(w io.Writer) error {
	_, err := fmt.Fprintln(w, "\nSimulated. Check a real engine by its own service information.")
	return err
}

func how(asRead bool) string {
	if asRead {
		return "as read"
	}
	return "true values"
}

// heard says where a person hears the air.
var heard = map[string]string{
	book.AirIntake: "throttle", book.AirExhaust: "tailpipe", book.AirCrankcase: "oil filler",
	book.AirNeighbour: "plug hole of", book.AirCoolant: "bubbles in the coolant", book.AirOutside: "outside, at the gasket",
}

func (r leakageTested) text(w io.Writer) error {
	fmt.Fprintf(w, "%s: leakage test, %g psi through a %.1f mm restrictor (%.2f mm² effective), coolant %.0f °C, %s\n\n",
		r.Scenario, r.SupplyPSI, r.BoreMM, r.EffectiveMM2, r.CoolantC, how(r.AsRead))
	t := table{head: []string{"cylinder", "held psi", "leakage", "where the air goes"}}
	for _, c := range r.Cylinders {
		var ways []string
		for _, a := range c.Air {
			if a.SharePercent < 0.5 {
				continue
			}
			way := heard[a.Path]
			if a.Cylinder > 0 {
				way += fmt.Sprintf(" %d", a.Cylinder)
			}
			ways = append(ways, fmt.Sprintf("%s %.0f %%", way, a.SharePercent))
		}
		if c.TurnedAway {
			ways = append(ways, fmt.Sprintf("the air turned the crank by %.0f°", c.TurnedDeg))
		}
		t.add(fmt.Sprint(c.Cylinder), fmt.Sprintf("%.1f", c.HeldPSI), fmt.Sprintf("%.0f %%", c.Percent), strings.Join(ways, ", "))
	}
	return t.write(w)
}

func (r currentTested) text(w io.Writer) error {
	fmt.Fprintf(w, "%s: starter current, plugs in, fuel off, throttle %s, %g s, coolant %.0f °C, %s\n\n",
		r.Scenario, r.Throttle, r.Seconds, r.CoolantC, how(r.AsRead))
	fmt.Fprintf(w, "inrush %.0f A, mean %.0f A, %.0f rpm, battery %.1f V\n\n", r.PeakA, r.MeanA, r.RPM, r.BatteryMinV)
	if r.Hydrolocked {
		_, err := fmt.Fprintln(w, "Liquid in a cylinder stops the crank: don't crank on.")
		return err
	}
	if r.Stalled {
		_, err := fmt.Fprintln(w, "The starter doesn't turn this engine far enough for a comparison.")
		return err
	}
	t := r.humps()
	if err := t.write(w); err != nil {
		return err
	}
	_, err := fmt.Fprintln(w, "\nIn firing order. "+r.compared())
	return err
}

// humps is the table of the heights, with what they are held against.
func (r currentTested) humps() table {
	var t table
	of, against := "of the mean", "the mean"
	if r.Compare == record.CompareGroups {
		of, against = "of its like", "the middle one of its like"
	}
	t.head = []string{"cylinder", "hump A"}
	if record.Comparable(r.Compare) {
		t.head = append(t.head, of, "")
	}
	for _, h := range r.Humps {
		row := []string{fmt.Sprint(h.Cylinder), fmt.Sprintf("%.0f", h.HeightA)}
		if record.Comparable(r.Compare) {
			mark := ""
			if h.Low {
				mark = fmt.Sprintf("%g %% or more under %s", book.HumpLowPercent, against)
			}
			row = append(row, fmt.Sprintf("%.0f %%", h.Percent), mark)
		}
		t.add(row...)
	}
	return t
}

// compared says what the heights can be held against.
func (r currentTested) compared() string {
	switch r.Compare {
	case record.CompareSingle:
		return "One cylinder: nothing to compare with."
	case record.CompareUneven:
		return "Each cylinder fires at an interval of its own, so there is no like to compare with."
	case record.CompareOverlap:
		text := "It fires so often that each hump lies on its neighbors: what one cylinder\n" +
			"gives back helps the next, so heights can't be compared one by one. Nothing is marked."
		if r.Tower > 0 {
			text += fmt.Sprintf("\nBut the hump of cylinder %d stands over all others, and the one before it is there:\na second piston comes up against a shut valve with it.", r.Tower)
		}
		return text
	case record.CompareGroups:
		return "It fires unevenly, so like is compared with like: " + r.groups() + ".\nA cylinder that is missing lifts the hump behind it. What all lose alike doesn't show."
	}
	return "What all cylinders lose alike doesn't show."
}

// groups names the cylinders that can be compared with each other.
func (r currentTested) groups() string {
	var list []string
	for group := 1; ; group++ {
		var those []string
		for _, h := range r.Humps {
			if h.Group == group {
				those = append(those, fmt.Sprint(h.Cylinder))
			}
		}
		if those == nil {
			return strings.Join(list, ", ")
		}
		list = append(list, strings.Join(those, "-"))
	}
}

func (r runningTested) text(w io.Writer) error {
	if r.NoStart {
		_, err := fmt.Fprintf(w, "%s: running compression: it doesn't start, so there is none.\n", r.Scenario)
		return err
	}
	if r.Hydrolocked {
		_, err := fmt.Fprintf(w, "%s: running compression: liquid in a cylinder stops the crank, it can't run.\n", r.Scenario)
		return err
	}
	fmt.Fprintf(w, "%s: running compression, idle %g rpm with %.0f kPa in the manifold, snap to %g rpm in %g s, coolant %.0f °C, %s\n\n",
		r.Scenario, r.IdleRPM, r.PlenumKPa, r.SnapRPM, r.SnapSeconds, r.CoolantC, how(r.AsRead))
	t := table{head: []string{"cylinder", "cranking psi", "idle psi", "of cranking", "snap psi", "of cranking"}}
	for _, c := range r.Cylinders {
		t.add(fmt.Sprint(c.Cylinder), fmt.Sprintf("%.1f", c.CrankingPSI), fmt.Sprintf("%.1f", c.IdlePSI), fmt.Sprintf("%.0f %%", c.IdlePercent),
			fmt.Sprintf("%.1f", c.SnapPSI), fmt.Sprintf("%.0f %%", c.SnapPercent))
	}
	if err := t.write(w); err != nil || r.ReleaseRPM == 0 {
		return err
	}
	_, err := fmt.Fprintf(w, "\nIts compression release holds a valve open below %.0f rpm: cranking reads low by design\nand running does not, so percent of cranking says nothing on this engine.\n", r.ReleaseRPM)
	return err
}

func (r vacuumTested) text(w io.Writer) error {
	if r.Hydrolocked {
		_, err := fmt.Fprintf(w, "%s: cranking vacuum: liquid in a cylinder stops the crank.\n", r.Scenario)
		return err
	}
	_, err := fmt.Fprintf(w, "%s: cranking vacuum, throttle shut, plugs in, %g s, %.0f rpm, coolant %.0f °C, %s\n\nmean %.1f kPa (%.1f inHg), ripple %.1f kPa\n",
		r.Scenario, r.Seconds, r.RPM, r.CoolantC, how(r.AsRead), r.MeanKPa, r.MeanInHg, r.RippleKPa)
	return err
}
