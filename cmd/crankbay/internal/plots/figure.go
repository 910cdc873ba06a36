//go:build !js

package plots

import (
	"bytes"
	"errors"
	"fmt"
	"image/color"
	"math"
	"strconv"

	xfont "golang.org/x/image/font"
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"
)

// A Figure is a set of curves over one pair of axes.
type Figure struct {
	ID          string  // of the parts of the picture, unique on a page; letters and hyphens
	Title       string  // one line: what it shows
	Description string  // what can be seen in it, for whoever can't see it
	Width       float64 // [pt], which are CSS pixels in SVG; 0: 640
	Height      float64 // [pt]; 0: 400
	X, Y        Axis
	Lines       []Line
	Marks       []Mark
	LabelsHead  string // stands over the names of the lines; empty none
	Note        string // one line in the upper right of the curves; empty none
}

// An Axis is what stands below or at the left.
type Axis struct {
	Name     string    // quantity and unit
	Min, Max float64   // both 0: as the lines need it
	Ticks    []float64 // where numbers stand; empty: round numbers
}

// A Line is one curve, in the units of the axes.
type Line struct {
	Name   string // stands beside it; lines whose names would lie on each other share a row
	X, Y   []float64
	Tone   Tone // Ink, Quiet or Red
	Dashed bool
	Dots   bool // a dot at every point
	Bare   bool // dots without a line
	NameAt int  // the point the name belongs to, counted from 1; 0 is the last
}

// A Mark is a word above one point.
type Mark struct {
	X, Y float64
	Text string
	Tone Tone
}

// Sizes of a figure [pt].
const (
	textSize = 13
	headRoom = 26 // for the name of the vertical axis
	footRoom = 22 // for that of the horizontal one
	rowStep  = 17 // between names
)

// errEmpty is a figure of nothing.
var errEmpty = errors.New("plots: a figure needs a line, and every line as many x as y, at least one, all finite")

func (f Figure) check() error {
	if len(f.Lines) == 0 {
		return errEmpty
	}
	for _, l := range f.Lines {
		if len(l.X) == 0 || len(l.X) != len(l.Y) || l.NameAt < 0 || l.NameAt > len(l.X) {
			return errEmpty
		}
		for i := range l.X {
			if bad(l.X[i]) || bad(l.Y[i]) {
				return errEmpty
			}
		}
	}
	return nil
}

func bad(v float64) bool { return math.IsNaN(v) || math.IsInf(v, 0) }

// SVG returns the figure as a file that stands for itself, on white, for paper and
// slides.
func (f Figure) SVG() ([]byte, error) { return f.svg(false) }

// Inline returns the figure as an element of a page: its tones are classes
// (line-ink, fill-red …) that the page's style sheet colours.
func (f Figure) Inline() ([]byte, error) { return f.svg(true) }

func (f Figure) svg(classes bool) ([]byte, error) {
	width, height := f.size()
	c := newSVG(width, height, classes)
	if err := f.draw(draw.New(c)); err != nil {
		return nil, err
	}
	return c.document(f.ID, f.Title, f.Description), nil
}

// PNG returns the figure as pixels, two to the point.
func (f Figure) PNG() ([]byte, error) {
	width, height := f.size()
	c := vgimg.NewWith(vgimg.UseWH(width, height), vgimg.UseDPI(144), vgimg.UseBackgroundColor(color.White))
	if err := f.draw(draw.New(c)); err != nil {
		return nil, err
	}
	var out bytes.Buffer
	if _, err := (vgimg.PngCanvas{Canvas: c}).WriteTo(&out); err != nil {
		return nil, fmt.Errorf("plots: %w", err)
	}
	return out.Bytes(), nil
}

func (f Figure) size() (width, height vg.Length) {
	width, height = 640, 400
	if f.Width > 0 {
		width = vg.Length(f.Width)
	}
	if f.Height > 0 {
		height = vg.Length(f.Height)
	}
	return width, height
}

func (f Figure) draw(c draw.Canvas) error {
	if err := f.check(); err != nil {
		return err
	}
	p := plot.New()
	p.BackgroundColor = White
	f.ranges(p)
	dress(&p.X, f.X)
	dress(&p.Y, f.Y)
	names := f.names()
	area := draw.Crop(c, 4, -names.width(f.LabelsHead)-14, footRoom, -headRoom)
	p.Add(grid{})
	for _, l := range f.Lines {
		p.Add(curve{l})
	}
	p.Add(marks(f.Marks))
	p.Draw(area)
	data := p.DataCanvas(area)
	f.words(c, data)
	names.draw(data, p, f.LabelsHead)
	return nil
}

// ranges sets both axes before anything is added.
func (f Figure) ranges(p *plot.Plot) {
	x, y := span{math.Inf(1), math.Inf(-1)}, span{math.Inf(1), math.Inf(-1)}
	for _, l := range f.Lines {
		for i := range l.X {
			x.take(l.X[i])
			y.take(l.Y[i])
		}
	}
	y.take(0) // a pressure's or current's size is seen from its zero
	p.X.Min, p.X.Max = x.low, x.high
	p.Y.Min, p.Y.Max = y.low, y.high+0.04*(y.high-y.low)
	if f.X.Min != f.X.Max {
		p.X.Min, p.X.Max = f.X.Min, f.X.Max
	}
	if f.Y.Min != f.Y.Max {
		p.Y.Min, p.Y.Max = f.Y.Min, f.Y.Max
	}
}

type span struct{ low, high float64 }

func (s *span) take(v float64) { s.low, s.high = min(s.low, v), max(s.high, v) }

func dress(a *plot.Axis, want Axis) {
	a.Padding = 0
	a.LineStyle = draw.LineStyle{Color: Quiet, Width: 1}
	a.Tick.LineStyle = draw.LineStyle{Color: Quiet, Width: 1}
	a.Tick.Length = 4
	a.Tick.Label.Color = Ink
	a.Tick.Label.Font = sans(textSize)
	a.Tick.Marker = ticker(want.Ticks)
}

// words writes the name of the vertical axis over it, where it can be read
// without turning the head, at the right the note, and under the horizontal axis
// its name.
func (f Figure) words(c, data draw.Canvas) {
	foot := style(Ink, textSize)
	at := (data.Min.X + data.Max.X - foot.Width(f.X.Name)) / 2
	at = max(c.Min.X+4, min(at, c.Max.X-4-foot.Width(f.X.Name)))
	c.FillText(foot, vg.Point{X: at, Y: c.Min.Y + 4}, f.X.Name)
	c.FillText(style(Ink, textSize), vg.Point{X: c.Min.X + 4, Y: c.Max.Y - textSize - 2}, f.Y.Name)
	if f.Note != "" {
		s := style(Quiet, textSize-1)
		c.FillText(s, vg.Point{X: data.Max.X - s.Width(f.Note) - 2, Y: c.Max.Y - textSize - 2}, f.Note)
	}
}

func sans(size vg.Length) font.Font {
	return font.Font{Typeface: "Liberation", Variant: "Sans", Weight: xfont.WeightNormal, Size: size}
}

func style(t Tone, size vg.Length) draw.TextStyle {
	return draw.TextStyle{Color: t, Font: sans(size), Handler: plot.DefaultTextHandler}
}

// ticker puts numbers where they are wanted, or at some round places.
type ticker []float64

// Ticks is called by the axis.
func (t ticker) Ticks(low, high float64) []plot.Tick {
	places := []float64(t)
	if len(places) == 0 {
		places = round(low, high)
	}
	var out []plot.Tick
	for _, v := range places {
		if v >= low && v <= high {
			out = append(out, plot.Tick{Value: v, Label: number(v)})
		}
	}
	return out
}

// round returns multiples of 1, 2 or 5 times a power of ten, seven at most.
func round(low, high float64) []float64 {
	step := math.Pow(10, math.Floor(math.Log10((high-low)/6)))
	for _, m := range []float64{1, 2, 5, 10} {
		if (high-low)/(step*m) <= 6 {
			step *= m
			break
		}
	}
	var out []float64
	for k := math.Ceil(low / step); k*step <= high; k++ {
		out = append(out, k*step)
	}
	return out
}

// number writes a tick: a true minus sign, no needless decimals.
func number(v float64) string {
	text := strconv.FormatFloat(math.Abs(v), 'g', 6, 64)
	if v < 0 {
		return "−" + text
	}
	return text
}
