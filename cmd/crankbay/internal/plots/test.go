//go:build !js

package plots

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"crankbay/cmd/crankbay/internal/trace"
	"crankbay/scenarios/book"
	"crankbay/sim/record"
	"crankbay/sim/unit"
)

// What a figure of a test can show.
const (
	Pressure = "pressure" // in the cylinder against crank angle
	Gauge    = "gauge"    // the gauge against compression strokes, or against time
	Current  = "current"  // of the starter against time
	Vacuum   = "vacuum"   // in the manifold against time
	Leakage  = "leakage"  // of the air put in, by cylinder
)

// ways says what can be drawn of each kind of test, what it is about first.
var ways = []struct {
	test string
	of   []string
}{
	{book.Dry, []string{Gauge, Pressure, Current}},
	{book.Wet, []string{Gauge, Pressure, Current}},
	{book.LeakageKind, []string{Leakage}},
	{book.CurrentKind, []string{Current}},
	{book.RunningKind, []string{Gauge}},
	{book.VacuumKind, []string{Vacuum}},
}

// Of lists what can be drawn of a kind of test, what it is about first.
func Of(test string) []string {
	for _, w := range ways {
		if w.test == test {
			return w.of
		}
	}
	return nil
}

// A Test is what a figure is drawn from.
type Test struct {
	Name    string // of the engine
	Trace   trace.Trace
	Leakage *book.LeakageResult // of a leakage test
	Current *book.CurrentResult // of a test of the starter current
}

// OfTest returns the figure of a test; what it shows is one of Of.
func OfTest(of string, t Test) (Figure, error) {
	if list := Of(t.Trace.Kind); !slices.Contains(list, of) {
		return Figure{}, fmt.Errorf("of a %s test %q can't be drawn, want %s", t.Trace.Kind, of, strings.Join(list, ", "))
	}
	name := fmt.Sprintf("%s, %s test", t.Name, t.Trace.Kind)
	switch t.Trace.Kind {
	case book.LeakageKind:
		return leakageFigure(name, t.Leakage), nil
	case book.CurrentKind:
		return humpFigure(name, t.Current), nil
	case book.RunningKind:
		return runningFigure(name, t.Trace)
	case book.VacuumKind:
		return vacuumFigure(name, t.Trace)
	}
	runs := lastRound(t.Trace)
	if len(runs) == 0 {
		return Figure{}, fmt.Errorf("no stroke was read, so there is no %s to draw", of)
	}
	odd := standsOut(runs, final)
	switch of {
	case Pressure:
		return pressureFigure(name, t.Trace, runs, odd), nil
	case Gauge:
		return gaugeFigure(name, t.Trace, runs, odd), nil
	}
	return currentFigure(name, runs, odd), nil
}

// lastRound returns the last gauged run of every cylinder, in order: of a wet test
// those with oil.
func lastRound(t trace.Trace) []trace.Run {
	byCylinder := make([]*trace.Run, t.Cylinders+1)
	for i := range t.Runs {
		if r := &t.Runs[i]; r.Cylinder > 0 && len(r.Strokes) > 0 {
			byCylinder[r.Cylinder] = r
		}
	}
	var out []trace.Run
	for _, r := range byCylinder {
		if r != nil {
			out = append(out, *r)
		}
	}
	return out
}

// final is what the run ended with [Pa].
func final(r trace.Run) float64 { return r.Strokes[len(r.Strokes)-1].True }

// outstanding is how far below the highest a cylinder must end to be drawn in red.
// It is a matter of drawing, no judgement of the engine.
const outstanding = 0.9

// standsOut returns the cylinder to be drawn in red: the lowest, if it is clearly
// lower than the highest; 0 none.
func standsOut(runs []trace.Run, value func(trace.Run) float64) int {
	low, high := 0, 0
	for i := range runs {
		if value(runs[i]) < value(runs[low]) {
			low = i
		}
		if value(runs[i]) > value(runs[high]) {
			high = i
		}
	}
	if value(runs[low]) < outstanding*value(runs[high]) {
		return runs[low].Cylinder
	}
	return 0
}

func tone(cylinder, odd int) Tone {
	if cylinder == odd {
		return Red
	}
	return Ink
}

// inOrder puts the line that stands out last, so that it lies on top.
func inOrder(lines []Line) []Line {
	var out, top []Line
	for _, l := range lines {
		if l.Tone == Red {
			top = append(top, l)
			continue
		}
		out = append(out, l)
	}
	return append(out, top...)
}

const psi = unit.PascalPerPSI

// pressureFigure shows the revolution about compression TDC of each cylinder's
// last full stroke.
func pressureFigure(name string, t trace.Trace, runs []trace.Run, odd int) Figure {
	f := Figure{
		ID: Pressure, Title: name + ": pressure in the cylinder against crank angle",
		X:          Axis{Name: "crank angle after compression TDC, degrees", Min: -180, Max: 180, Ticks: []float64{-180, -90, 0, 90, 180}},
		Y:          Axis{Name: "pressure in the cylinder, psi over ambient"},
		LabelsHead: "cylinder",
	}
	for _, r := range runs {
		l := Line{Name: strconv.Itoa(r.Cylinder), Tone: tone(r.Cylinder, odd)}
		peak := math.Inf(-1)
		for _, s := range LastStroke(r) {
			p := float64(s.Pressure[r.Cylinder-1]-t.Ambient) / psi
			l.X, l.Y = append(l.X, unit.Angle(s.Angle).Degrees()), append(l.Y, p)
			if p > peak {
				peak, l.NameAt = p, len(l.X)
			}
		}
		if len(l.X) == 0 {
			continue
		}
		f.Lines = append(f.Lines, l)
		f.Description += fmt.Sprintf("Cylinder %d peaks at %.0f psi. ", r.Cylinder, peak)
	}
	f.Lines = inOrder(f.Lines)
	return f
}

// LastStroke returns the samples from half a turn before the last compression TDC
// that was read to half a turn after it; none if no stroke was whole.
func LastStroke(r trace.Run) []trace.Sample {
	if len(r.Strokes) == 0 || len(r.Samples) == 0 {
		return nil
	}
	read := r.Strokes[len(r.Strokes)-1].Tick - r.StartTick
	from, first, last := -1, 0, 0
	if r.Samples[0].Angle < 0 {
		from = 0 // the book starts at the bottom
	}
	for i := 1; i < len(r.Samples) && r.Samples[i].Tick <= read; i++ {
		before, now := r.Samples[i-1].Angle, r.Samples[i].Angle
		switch {
		case before < -math.Pi && now >= -math.Pi:
			from = i
		case from >= 0 && before < math.Pi && now >= math.Pi:
			first, last, from = from, i, -1
		}
	}
	return r.Samples[first:last]
}

// gaugeFigure shows what the hose held after every compression stroke.
func gaugeFigure(name string, t trace.Trace, runs []trace.Run, odd int) Figure {
	f := Figure{
		ID: Gauge, Title: name + ": gauge against compression strokes",
		X:          Axis{Name: "compression strokes"},
		Y:          Axis{Name: "pressure in the gauge, psi"},
		LabelsHead: "cylinder",
	}
	wet := false
	for _, r := range runs {
		wet = wet || r.OilML > 0
		l := byStroke(r)
		l.Name, l.Tone = strconv.Itoa(r.Cylinder), tone(r.Cylinder, odd)
		f.Lines = append(f.Lines, l)
		f.Description += fmt.Sprintf("Cylinder %d: %.0f psi after the first stroke, %.0f at the end. ", r.Cylinder, l.Y[1], l.Y[len(l.Y)-1])
	}
	if wet {
		f.Lines = append(dryLines(t, odd), f.Lines...)
		f.Note = "dashed: before the oil"
	}
	longest := 0.0
	for _, l := range f.Lines {
		longest = max(longest, l.X[len(l.X)-1])
	}
	f.X.Max = longest
	for k := 0.0; k <= longest; k++ {
		f.X.Ticks = append(f.X.Ticks, k)
	}
	f.Lines = inOrder(f.Lines)
	return f
}

// dryLines are the runs before any oil, dashed and without names.
func dryLines(t trace.Trace, odd int) []Line {
	var out []Line
	for _, r := range t.Runs {
		if r.Cylinder > 0 && r.OilMLAny == 0 && len(r.Strokes) > 0 {
			l := byStroke(r)
			l.Tone, l.Dashed, l.Dots = Quiet, true, false
			if r.Cylinder == odd {
				l.Tone = Red
			}
			out = append(out, l)
		}
	}
	return out
}

func byStroke(r trace.Run) Line {
	l := Line{X: []float64{0}, Y: []float64{0}, Dots: true}
	for i, s := range r.Strokes {
		l.X, l.Y = append(l.X, float64(i+1)), append(l.Y, s.True/psi)
	}
	return l
}

// currentFigure shows the starter current of each run. The rush when the switch
// closes goes far beyond the rest: it is cut off and told.
func currentFigure(name string, runs []trace.Run, odd int) Figure {
	f := Figure{
		ID: Current, Title: name + ": starter current against time",
		X:          Axis{Name: "seconds since the switch closed"},
		Y:          Axis{Name: "starter current, A"},
		LabelsHead: "gauge on",
	}
	rush, steady, end := 0.0, 0.0, 0.0
	for _, r := range runs {
		l := Line{Name: strconv.Itoa(r.Cylinder), Tone: tone(r.Cylinder, odd)}
		for _, s := range r.Samples {
			l.X, l.Y = append(l.X, s.Seconds()), append(l.Y, s.Current)
			rush = max(rush, s.Current)
			if s.Tick > record.TicksPerSecond*3/10 {
				steady = max(steady, s.Current)
			}
			if s.Current > 0 {
				end = max(end, s.Seconds())
			}
		}
		l.NameAt = lastHump(r)
		f.Lines = append(f.Lines, l)
	}
	f.Lines = inOrder(f.Lines)
	f.X.Max = end + 0.1
	f.Y.Max = 1.25 * steady
	if rush > f.Y.Max {
		f.Note = fmt.Sprintf("rush at the start: up to %.0f A", rush)
	}
	f.Description = fmt.Sprintf("The current jumps to %.0f A when the switch closes, then swings up to %.0f A with every compression.", rush, steady)
	return f
}

// lastHump returns the highest sample of the last half second of current, counted
// from 1.
func lastHump(r trace.Run) int {
	end := len(r.Samples)
	for end > 0 && r.Samples[end-1].Current <= 0 {
		end--
	}
	at := max(0, end-record.TicksPerSecond/2)
	for i := at; i < end; i++ {
		if r.Samples[i].Current > r.Samples[at].Current {
			at = i
		}
	}
	return at + 1
}
