//go:build !js

package plots_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"image/png"
	"io"
	"math"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/cmd/crankbay/internal/plots"
	"crankbay/cmd/crankbay/internal/trace"
	"crankbay/scenarios"
	"crankbay/scenarios/book"
)

// tested does a test of any kind and returns what a figure is drawn from.
func tested(t *testing.T, id, kind string) plots.Test {
	t.Helper()
	s := scenarios.Find(id)
	require.NotNil(t, s)
	out := plots.Test{Name: "An engine & <its> name"}
	var err error
	switch kind {
	case book.LeakageKind:
		var r book.LeakageResult
		r, err = book.Leakage(s, book.LeakageOptions{Watch: out.Trace.Watch(kind)})
		out.Leakage = &r
	case book.CurrentKind:
		var r book.CurrentResult
		r, err = book.Current(s, false, out.Trace.Watch(kind))
		out.Current = &r
	case book.RunningKind:
		_, err = book.RunningTest(s, false, out.Trace.Watch(kind))
	case book.VacuumKind:
		_, err = book.Vacuum(s, false, out.Trace.Watch(kind))
	default:
		var r book.Result
		r, err = book.Run(s, book.Options{Kind: kind})
		require.NoError(t, err)
		out.Trace, err = trace.Of(s, r)
	}
	require.NoError(t, err)
	return out
}

func traced(t *testing.T, id, kind string) trace.Trace { return tested(t, id, kind).Trace }

// element is one element of a picture.
type element struct {
	name string
	attr map[string]string
	text string
}

// parse reads a picture strictly and returns its elements.
func parse(t *testing.T, svg []byte) []element {
	t.Helper()
	d := xml.NewDecoder(bytes.NewReader(svg))
	d.Strict = true
	var all []element
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return all
		}
		require.NoError(t, err)
		switch x := token.(type) {
		case xml.StartElement:
			e := element{name: x.Name.Local, attr: map[string]string{}}
			for _, a := range x.Attr {
				_, twice := e.attr[a.Name.Local]
				require.False(t, twice, "%s has %s twice", e.name, a.Name.Local)
				e.attr[a.Name.Local] = a.Value
			}
			all = append(all, e)
		case xml.CharData:
			if len(all) > 0 {
				all[len(all)-1].text += strings.TrimSpace(string(x))
			}
		}
	}
}

// Every figure of every kind of test is well-formed, has its text alternative,
// no style that a security policy would refuse, and the same bytes twice.
func TestFiguresOfTests(t *testing.T) {
	for _, c := range [][2]string{
		{"sound-v8", book.Dry}, {"burnt-exhaust-inline-four", book.Wet}, {"throttle-closed-plugs-in-inline-four", book.Dry},
		{"gasket-inline-four", book.LeakageKind}, {"burnt-exhaust-v6", book.CurrentKind}, {"worn-rings-inline-four", book.RunningKind},
		{"sound-inline-four", book.VacuumKind},
	} {
		one, two := tested(t, c[0], c[1]), tested(t, c[0], c[1])
		require.NotEmpty(t, plots.Of(c[1]), c[1])
		for _, of := range plots.Of(c[1]) {
			f, err := plots.OfTest(of, one)
			require.NoError(t, err)
			again, err := plots.OfTest(of, two)
			require.NoError(t, err)
			for _, render := range []func(plots.Figure) ([]byte, error){plots.Figure.SVG, plots.Figure.Inline} {
				a, err := render(f)
				require.NoError(t, err)
				b, err := render(again)
				require.NoError(t, err)
				assert.True(t, bytes.Equal(a, b), "%s %s", c, of)
				wellFormed(t, a)
				inside(t, a)
			}
		}
	}
}

// Every kind of test can be drawn.
func TestEveryKindHasAFigure(t *testing.T) {
	for _, kind := range book.Kinds() {
		assert.NotEmpty(t, plots.Of(kind), kind)
	}
	assert.Empty(t, plots.Of("humid"))
}

func wellFormed(t *testing.T, svg []byte) {
	t.Helper()
	all := parse(t, svg)
	require.Equal(t, "svg", all[0].name)
	assert.Equal(t, "img", all[0].attr["role"])
	assert.Contains(t, all[1].text, "An engine & <its> name")
	require.Equal(t, "desc", all[2].name)
	assert.NotEmpty(t, all[2].text)
	assert.Equal(t, all[1].attr["id"]+" "+all[2].attr["id"], all[0].attr["aria-labelledby"])
	assert.NotContains(t, string(svg), "style=")
	assert.NotContains(t, string(svg), "NaN")
	assert.NotContains(t, string(svg), "Inf")
	assert.Less(t, len(svg), 150_000)
}

var coordinates = regexp.MustCompile(`[ML](-?[0-9.]+) (-?[0-9.]+)`)

// inside checks that curves stay within the picture, cut off where they leave it.
func inside(t *testing.T, svg []byte) {
	t.Helper()
	found := 0
	for _, e := range parse(t, svg) {
		for _, m := range coordinates.FindAllStringSubmatch(e.attr["d"], -1) {
			found++
			assert.Regexp(t, `^(6[0-3]\d|[1-5]?\d?\d|640)(\.\d+)?$`, m[1])
			assert.Regexp(t, `^([1-3]?\d?\d|400)(\.\d+)?$`, m[2])
		}
	}
	assert.Greater(t, found, 15)
}

// What stands out is drawn in red, and only that; an even engine has no red.
func TestRedIsWhatStandsOut(t *testing.T) {
	for id, want := range map[string]string{"sound-inline-four": "", "burnt-exhaust-inline-four": "3", "worn-rings-inline-four": "2"} {
		f, err := plots.OfTest(plots.Gauge, tested(t, id, book.Dry))
		require.NoError(t, err)
		red := ""
		for _, l := range f.Lines {
			if l.Tone == plots.Red {
				red += l.Name
			}
		}
		assert.Equal(t, want, red, id)
	}
}

// The numbers drawn are those of the test.
func TestGaugeFigureHoldsTheReadings(t *testing.T) {
	s := scenarios.Find("worn-rings-inline-four")
	r, err := book.Run(s, book.Options{})
	require.NoError(t, err)
	f, err := plots.OfTest(plots.Gauge, tested(t, "worn-rings-inline-four", book.Dry))
	require.NoError(t, err)
	require.Len(t, f.Lines, 4)
	byName := map[string]plots.Line{}
	for _, l := range f.Lines {
		byName[l.Name] = l
	}
	for _, x := range r.Readings {
		l := byName[string(rune('0'+x.Cylinder))]
		require.Len(t, l.Y, x.Strokes+1)
		assert.InDelta(t, x.FirstPSI, l.Y[1], 1e-9)
		assert.InDelta(t, x.FinalPSI, l.Y[len(l.Y)-1], 1e-9)
	}
}

// The low hump and the leaking cylinder are marked, each with its number.
func TestMarksNameCylinders(t *testing.T) {
	for kind, row := range map[string]struct{ id, want string }{
		book.CurrentKind: {"burnt-exhaust-v6", "5"},
		book.LeakageKind: {"burnt-exhaust-inline-four", "86"},
	} {
		want := row.want
		f, err := plots.OfTest(plots.Of(kind)[0], tested(t, row.id, kind))
		require.NoError(t, err)
		require.GreaterOrEqual(t, len(f.Marks), 4)
		for _, m := range f.Marks {
			assert.Equal(t, m.Text == want, m.Tone == plots.Red, "%s: %s", kind, m.Text)
		}
	}
}

// A last stroke is one revolution in order, with the peak near TDC.
func TestLastStroke(t *testing.T) {
	for _, run := range traced(t, "sound-v6", book.Dry).Runs {
		s := plots.LastStroke(run)
		require.Greater(t, len(s), 200)
		assert.InDelta(t, -math.Pi, s[0].Angle, 0.05)
		assert.InDelta(t, math.Pi, s[len(s)-1].Angle, 0.05)
		peak := 0
		for i := 1; i < len(s); i++ {
			assert.Greater(t, s[i].Angle, s[i-1].Angle)
			if s[i].Pressure[run.Cylinder-1] > s[peak].Pressure[run.Cylinder-1] {
				peak = i
			}
		}
		assert.InDelta(t, 0, s[peak].Angle, 0.15)
	}
	assert.Empty(t, plots.LastStroke(trace.Run{}))
}

func TestPNG(t *testing.T) {
	f, err := plots.OfTest(plots.Pressure, tested(t, "sound-inline-four", book.Dry))
	require.NoError(t, err)
	data, err := f.PNG()
	require.NoError(t, err)
	img, err := png.Decode(bytes.NewReader(data))
	require.NoError(t, err)
	assert.Equal(t, 1280, img.Bounds().Dx())
	assert.Equal(t, 800, img.Bounds().Dy())
	r, g, b, _ := img.At(2, 790).RGBA()
	assert.Equal(t, []uint32{0xffff, 0xffff, 0xffff}, []uint32{r, g, b}, "white paper")
}

func TestFigureOfNothing(t *testing.T) {
	_, err := plots.OfTest(plots.Gauge, plots.Test{Trace: trace.Trace{Kind: book.Dry, Cylinders: 4}})
	assert.EqualError(t, err, "no stroke was read, so there is no gauge to draw")
	_, err = plots.OfTest("torque", tested(t, "sound-inline-four", book.Dry))
	assert.EqualError(t, err, `of a dry test "torque" can't be drawn, want gauge, pressure, current`)
	_, err = plots.OfTest(plots.Gauge, plots.Test{Trace: trace.Trace{Kind: book.RunningKind}})
	assert.EqualError(t, err, "the test gave nothing to draw")
	for _, l := range [][]plots.Line{
		nil, {{}}, {{X: []float64{1}}}, {{X: []float64{1, 2}, Y: []float64{1, math.NaN()}}},
		{{X: []float64{math.Inf(1)}, Y: []float64{1}}}, {{X: []float64{1}, Y: []float64{1}, NameAt: 2}},
	} {
		_, err := plots.Figure{Lines: l}.SVG()
		assert.Error(t, err)
	}
}

// Names that would lie on each other share a row, the others keep apart.
func TestNamesKeepApart(t *testing.T) {
	flat := func(name string, tone plots.Tone, y float64) plots.Line {
		return plots.Line{Name: name, Tone: tone, X: []float64{0, 1}, Y: []float64{y, y}}
	}
	f := plots.Figure{ID: "t", Lines: []plots.Line{
		flat("5", plots.Ink, 100), flat("1", plots.Ink, 100), flat("3", plots.Ink, 99.9), flat("2", plots.Ink, 100),
		flat("red", plots.Red, 99.8), flat("low", plots.Ink, 0), flat("lower", plots.Quiet, 0),
	}}
	svg, err := f.SVG()
	require.NoError(t, err)
	last := -100.0
	var texts []string
	for _, e := range parse(t, svg) {
		if e.name == "text" && e.attr["x"] > "500" && !strings.Contains("0 1 0.2 0.4 0.6 0.8", e.text) {
			texts = append(texts, e.text)
			y := 0.0
			for _, r := range strings.Split(e.attr["y"], ".")[0] {
				y = y*10 + float64(r-'0')
			}
			assert.GreaterOrEqual(t, y, last+15, e.text)
			last = y
		}
	}
	assert.Equal(t, []string{"1–3, 5", "red", "low", "lower"}, texts)
}
