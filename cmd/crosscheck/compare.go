//go:build !js

package main

import (
	"encoding/json"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"text/tabwriter"
)

const (
	pascalPerPSI = 6894.757
	peakGoal     = 0.002 // every peak [-]
	gaugeGoal    = 0.5   // [psi]
)

// differs returns the greatest relative difference of a peak, infinite when the
// number of compressions is another one, and the difference of the gauge [psi].
func (s *solution) differs(want *solution) (peak, gauge float64) {
	if len(s.Peaks) != len(want.Peaks) {
		return math.Inf(1), math.Inf(1)
	}
	for i, p := range want.Peaks {
		peak = max(peak, math.Abs(s.Peaks[i]/p-1))
	}
	return peak, math.Abs(s.Gauge-want.Gauge) / pascalPerPSI
}

func (s *solution) meets(want *solution) bool {
	peak, gauge := s.differs(want)
	return peak <= peakGoal && gauge <= gaugeGoal
}

// fastest returns the fastest solution that meets the goals; nil if none does.
func fastest(list []solution, want *solution, usable func(*solution) bool) (best *solution) {
	for i := range list {
		s := &list[i]
		if usable(s) && s.meets(want) && (best == nil || s.Time < best.Time) {
			best = s
		}
	}
	return best
}

// A comparison is everything known of one problem.
type comparison struct {
	problem      *problem
	reference    solution   // SciPy at its smallest tolerance
	ours, alone  []solution // as the bench steps, and the cylinder alone
	scipy, cvode []solution
}

func live(s *solution) bool    { return strings.HasSuffix(s.Method, "live") }
func notLive(s *solution) bool { return !live(s) }
func whole(*solution) bool     { return true }

// A line is what is printed of a comparison. Pressures are the highest peak [Pa];
// times [s] are those of the fastest setting that meets the goals, null when
// none does.
type line struct {
	Problem  string     `json:"problem"`
	Ours     float64    `json:"ours"`
	SciPy    float64    `json:"scipy"`
	CVODE    *float64   `json:"cvode"`
	RelDiff  *float64   `json:"rel_diff"` // greatest of all peaks, ours at the sub-step in use
	GaugePSI *float64   `json:"gauge_diff_psi"`
	Speed    [2]float64 `json:"speed_rad_s"` // at the end, ours and SciPy's
	TOurs    *float64   `json:"t_ours"`
	TProduct float64    `json:"t_ours_in_use"` // at the sub-step in use
	TAlone   *float64   `json:"t_ours_alone"`  // the cylinder alone, where it is one at a given speed
	TSciPy   *float64   `json:"t_scipy"`
	TCVODE   *float64   `json:"t_cvode"`
	TLive    *float64   `json:"t_cvode_live"` // not stepping past the next tick
}

func finite(x float64) *float64 {
	if math.IsInf(x, 0) || math.IsNaN(x) {
		return nil
	}
	return &x
}

func timeOf(s *solution) *float64 {
	if s == nil {
		return nil
	}
	return &s.Time
}

// inUse returns our solution at the sub-step in use.
func (c *comparison) inUse() *solution {
	for i := range c.ours {
		if c.ours[i].Rtol == product {
			return &c.ours[i]
		}
	}
	return nil
}

// tightest returns the solution at the smallest tolerance.
func tightest(list []solution) (best *solution) {
	for i := range list {
		if best == nil || list[i].Rtol < best.Rtol {
			best = &list[i]
		}
	}
	return best
}

func (c *comparison) line() line {
	ours := c.inUse()
	peak, gauge := ours.differs(&c.reference)
	l := line{
		Problem: c.problem.Name, Ours: slices.Max(ours.Peaks), SciPy: slices.Max(c.reference.Peaks),
		RelDiff: finite(peak), Speed: [2]float64{ours.Speed, c.reference.Speed}, TProduct: ours.Time,
		TOurs:  timeOf(fastest(c.ours, &c.reference, whole)),
		TAlone: timeOf(fastest(c.alone, &c.reference, whole)),
		TSciPy: timeOf(fastest(c.scipy, &c.reference, whole)),
		TCVODE: timeOf(fastest(c.cvode, &c.reference, notLive)),
		TLive:  timeOf(fastest(c.cvode, &c.reference, live)),
	}
	if c.reference.Gauge > 0 {
		l.GaugePSI = finite(gauge)
	}
	if s := tightest(c.cvode); s != nil && len(s.Peaks) > 0 {
		top := slices.Max(s.Peaks)
		l.CVODE = &top
	}
	return l
}

func (c *comparison) printLine(w io.Writer) error { return json.NewEncoder(w).Encode(c.line()) }

// printTable prints work against precision: ours, and each peer's best method.
func printTable(w io.Writer, list []*comparison) error {
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprint(t, "problem\tprogram\tmethod\tsetting\tpeaks off [%]\tgauge off [psi]\ttime [ms]\tx real time\t\n")
	for _, c := range list {
		c.rows(t, "Crankbay", c.ours)
		c.rows(t, "Crankbay", c.alone)
		c.rows(t, "CVODE", bestMethod(c.cvode, &c.reference, notLive))
		c.rows(t, "CVODE", bestMethod(c.cvode, &c.reference, live))
		c.rows(t, "SciPy", bestMethod(c.scipy, &c.reference, whole))
	}
	return t.Flush()
}

// bestMethod returns the runs of the method that meets the goals soonest.
func bestMethod(list []solution, want *solution, usable func(*solution) bool) (runs []solution) {
	best := fastest(list, want, usable)
	if best == nil {
		return nil
	}
	for _, s := range list {
		if s.Method == best.Method {
			runs = append(runs, s)
		}
	}
	return runs
}

func (c *comparison) rows(w io.Writer, program string, list []solution) {
	seconds := float64(c.problem.Ticks) / 1200
	for _, s := range list {
		peak, gauge := s.differs(&c.reference)
		fmt.Fprintf(w, "%s\t%s\t%s\t%.3g\t%.4f\t%.3f\t%.3f\t%.0f\t\n", c.problem.Name, program, s.Method, s.Rtol,
			100*peak, gauge, 1000*s.Time, seconds/s.Time)
	}
}

// printRatios prints how many times faster the simulation is: the bench as it is,
// bound to ticks, and the cylinder alone.
func printRatios(w io.Writer, list []*comparison) error {
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprint(t, "problem\tours\t[ms]\tCVODE ÷ ours\tCVODE live ÷ ours\tSciPy ÷ ours\t\n")
	for _, c := range list {
		l := c.line()
		peers := []*float64{l.TCVODE, l.TLive, l.TSciPy}
		ratios(t, l.Problem, "bench", l.TOurs, peers)
		if c.alone != nil {
			peers[1] = nil // alone it doesn't stop at ticks either
			ratios(t, l.Problem, "cylinder alone", l.TAlone, peers)
		}
	}
	return t.Flush()
}

func ratios(w io.Writer, problem, which string, ours *float64, peers []*float64) {
	if ours == nil {
		fmt.Fprintf(w, "%s\t%s\tnone meets the goals\t\t\t\t\n", problem, which)
		return
	}
	fmt.Fprintf(w, "%s\t%s\t%.3f", problem, which, 1000**ours)
	for _, peer := range peers {
		if peer == nil {
			fmt.Fprint(w, "\t-")
		} else {
			fmt.Fprintf(w, "\t%.2f", *peer / *ours)
		}
	}
	fmt.Fprint(w, "\t\n")
}
