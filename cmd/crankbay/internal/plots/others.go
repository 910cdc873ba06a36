//go:build !js

package plots

import (
	"errors"
	"fmt"
	"strconv"

	"crankbay/cmd/crankbay/internal/trace"
	"crankbay/scenarios/book"
	"crankbay/sim/record"
)

// errNothing is a test that gave nothing to draw.
var errNothing = errors.New("the test gave nothing to draw")

// leakageFigure shows how much of its air each cylinder loses.
func leakageFigure(name string, r *book.LeakageResult) Figure {
	f := Figure{
		ID: Leakage, Title: name + ": air lost by each cylinder",
		X: Axis{Name: "cylinder", Min: 0.5, Max: float64(len(r.Cylinders)) + 0.5},
		Y: Axis{Name: "leakage, % of the supply"},
	}
	least, most := r.Cylinders[0], r.Cylinders[0]
	for _, c := range r.Cylinders {
		if c.Percent < least.Percent {
			least = c
		}
		if c.Percent > most.Percent {
			most = c
		}
	}
	f.Y.Max = max(20, 1.15*most.Percent)
	dots := map[Tone]Line{}
	for _, c := range r.Cylinders {
		t := Ink
		if c.Percent > least.Percent+100*(1-outstanding) && c.Percent > most.Percent*outstanding {
			t = Red
		}
		l := dots[t]
		l.Tone, l.Bare = t, true
		l.X, l.Y = append(l.X, float64(c.Cylinder)), append(l.Y, max(0, c.Percent))
		dots[t] = l
		f.X.Ticks = append(f.X.Ticks, float64(c.Cylinder))
		f.Marks = append(f.Marks, Mark{X: float64(c.Cylinder), Y: max(0, c.Percent), Text: fmt.Sprintf("%.0f", c.Percent), Tone: t})
		f.Description += fmt.Sprintf("Cylinder %d loses %.0f %%. ", c.Cylinder, c.Percent)
	}
	for _, t := range []Tone{Ink, Red} {
		if l, ok := dots[t]; ok {
			f.Lines = append(f.Lines, l)
		}
	}
	return f
}

// humpCycles is how many working cycles the figure of the humps shows.
const humpCycles = 2

// humpFigure shows the last cycles of a test of the starter current, each hump with
// its cylinder; in red those that the test itself marks as low.
func humpFigure(name string, r *book.CurrentResult) Figure {
	f := Figure{
		ID: Current, Title: name + ": starter current against time",
		X: Axis{Name: "seconds since the switch closed"}, Y: Axis{Name: "starter current, A"},
		Note: "numbers: cylinder",
	}
	low := map[int]bool{}
	for _, h := range r.Humps {
		low[h.Cylinder] = h.Low
		f.Description += humpWords(r.Compare, h)
	}
	from, to := 0, len(r.Trace)
	shown := humpCycles * len(r.Humps)
	tops := r.TopTicks
	if n := len(tops); n > shown+1 {
		gap := (tops[n-1].Tick - tops[n-1-shown].Tick) / shown
		from, to = tops[n-1-shown].Tick-gap/2, tops[n-1].Tick-gap/2
		tops = tops[n-1-shown : n-1]
	} else {
		tops, f.Note = nil, "the crank hardly turns"
	}
	l := Line{Tone: Ink}
	for i := max(from, 0); i < to; i++ {
		l.X, l.Y = append(l.X, seconds(i)), append(l.Y, r.Trace[i])
	}
	f.Lines = []Line{l}
	highest := 0.0
	for i, top := range tops {
		at := peak(r.Trace, from+(to-from)*i/shown, from+(to-from)*(i+1)/shown)
		t := Ink
		if low[top.Cylinder] {
			t = Red
		}
		f.Marks = append(f.Marks, Mark{X: seconds(at), Y: r.Trace[at], Text: strconv.Itoa(top.Cylinder), Tone: t})
		highest = max(highest, r.Trace[at])
	}
	f.X.Min, f.X.Max = l.X[0], l.X[len(l.X)-1]
	if highest > 0 {
		f.Y.Max = 1.12 * highest
	}
	return f
}

// humpWords says how high a hump is, beside what it can be held against.
func humpWords(how string, h book.Hump) string {
	switch {
	case how == record.CompareGroups:
		return fmt.Sprintf("The hump of cylinder %d has %.0f %% of the middle height of its like. ", h.Cylinder, h.Percent)
	case record.Comparable(how):
		return fmt.Sprintf("The hump of cylinder %d has %.0f %% of the mean height. ", h.Cylinder, h.Percent)
	}
	return fmt.Sprintf("The hump of cylinder %d is %.0f A high, which can't be compared. ", h.Cylinder, h.HeightA)
}

func seconds(index int) float64 { return float64(index+1) / record.TicksPerSecond }

func peak(list []float64, from, to int) int {
	at := max(from, 0)
	for i := at; i < min(to, len(list)); i++ {
		if list[i] > list[at] {
			at = i
		}
	}
	return at
}

// runningFigure shows the needle while each cylinder is pumped by the running
// engine: filled at idle, bled, filled again, then the throttle snapped open.
func runningFigure(name string, t trace.Trace) (Figure, error) {
	if len(t.Runs) == 0 {
		return Figure{}, errNothing
	}
	f := Figure{
		ID: Gauge, Title: name + ": gauge while the engine runs",
		X: Axis{Name: "seconds; bled once at idle, then the throttle snapped open"}, Y: Axis{Name: "needle, psi"},
		LabelsHead: "cylinder",
	}
	last := func(r trace.Run) float64 { return float64(r.Samples[len(r.Samples)-1].Needle) }
	odd := standsOut(t.Runs, last)
	for _, r := range t.Runs {
		l := Line{Name: strconv.Itoa(r.Cylinder), Tone: tone(r.Cylinder, odd)}
		for _, s := range r.Samples {
			l.X, l.Y = append(l.X, s.Seconds()), append(l.Y, s.Needle.PSI())
		}
		f.Lines = append(f.Lines, l)
		f.Description += fmt.Sprintf("Cylinder %d shows %.0f psi after the snap. ", r.Cylinder, last(r)/psi)
	}
	f.X.Max = f.Lines[0].X[len(f.Lines[0].X)-1]
	f.Lines = inOrder(f.Lines)
	return f, nil
}

// pascalPerInHg is an inch of mercury at 0 °C [Pa].
const pascalPerInHg = 3386.389

// vacuumFigure shows how far the starter pumps the manifold down.
func vacuumFigure(name string, t trace.Trace) (Figure, error) {
	if len(t.Runs) == 0 {
		return Figure{}, errNothing
	}
	f := Figure{
		ID: Vacuum, Title: name + ": vacuum in the manifold against time",
		X: Axis{Name: "seconds since the switch closed"}, Y: Axis{Name: "vacuum in the manifold, inHg"},
	}
	l := Line{Tone: Ink}
	for _, s := range t.Runs[0].Samples {
		l.X, l.Y = append(l.X, s.Seconds()), append(l.Y, float64(t.Ambient-s.Plenum)/pascalPerInHg)
	}
	f.Lines = []Line{l}
	f.X.Max = l.X[len(l.X)-1]
	f.Description = fmt.Sprintf("It rises from nothing and stands at about %.1f inHg at the end.", l.Y[len(l.Y)-1])
	return f, nil
}
