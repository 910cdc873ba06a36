//go:build !js

package plots

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// A tag is the name of one line, or of several that end in the same place.
type tag struct {
	text string
	tone Tone
	x, y float64 // the point it belongs to, in the units of the axes

	from vg.Point // that point in the picture
	row  vg.Length
}

type tags []tag

// names lists the lines that have a name.
func (f Figure) names() tags {
	var out tags
	for _, l := range f.Lines {
		if l.Name == "" {
			continue
		}
		at := len(l.X) - 1
		if l.NameAt > 0 {
			at = l.NameAt - 1
		}
		out = append(out, tag{text: l.Name, tone: l.Tone, x: l.X[at], y: l.Y[at]})
	}
	return out
}

// width is the room the names need beside the curves. Names that share a row
// later need no more than the head and two of the longest.
func (ts tags) width(head string) vg.Length {
	most := style(Ink, textSize-1).Width(head)
	for _, t := range ts {
		most = max(most, style(t.tone, textSize).Width(t.text))
	}
	if len(ts) > 0 && head != "" {
		most = max(most, 64) // numbers of several cylinders in one row
	}
	return most
}

// draw places the names in a column right of the curves, each as near to the
// height of its point as the others let it, with a thin line back to the point.
func (ts tags) draw(c draw.Canvas, p *plot.Plot, head string) {
	x, y := p.Transforms(&c)
	for i := range ts {
		ts[i].from = vg.Point{X: min(max(x(ts[i].x), c.Min.X), c.Max.X), Y: min(max(y(ts[i].y), c.Min.Y), c.Max.Y)}
	}
	rows := ts.joined()
	rows.spread(c.Min.Y, c.Max.Y)
	left := c.Max.X + 12
	for _, t := range rows {
		if t.from.X < c.Max.X-1 || abs(t.from.Y-t.row) > 3 {
			pen := draw.LineStyle{Color: Quiet, Width: 0.8, Dashes: []vg.Length{1.5, 2.5}}
			c.StrokeLines(pen, []vg.Point{{X: t.from.X + 4, Y: t.from.Y}, {X: c.Max.X, Y: t.from.Y}, {X: left - 3, Y: t.row}})
		}
		c.FillText(style(t.tone, textSize), vg.Point{X: left, Y: t.row - textSize*0.36}, t.text)
	}
	if head != "" && len(rows) > 0 {
		c.FillText(style(Quiet, textSize-1), vg.Point{X: left, Y: rows[0].row + rowStep*0.7}, head)
	}
}

// joined makes one row of names that belong to nearly the same height and have
// the same tone, highest first.
func (ts tags) joined() tags {
	sorted := slices.Clone(ts)
	slices.SortStableFunc(sorted, func(a, b tag) int { return cmp.Compare(b.from.Y, a.from.Y) })
	var out tags
	for _, t := range sorted {
		n := len(out) - 1
		if n >= 0 && out[n].tone == t.tone && out[n].from.Y-t.from.Y < 5 {
			out[n].text = join(out[n].text, t.text)
			continue
		}
		out = append(out, t)
	}
	return out
}

// join puts two lists of names into one: numbers in order, with "1–4" for three or more that
// follow each other.
func join(a, b string) string {
	words := strings.Split(a+", "+b, ", ")
	var numbers []int
	for _, w := range words {
		from, to, ok := strings.Cut(w, "–")
		if !ok {
			to = from
		}
		lo, err := strconv.Atoi(from)
		hi, err2 := strconv.Atoi(to)
		if err != nil || err2 != nil {
			return strings.Join(words, ", ")
		}
		for ; lo <= hi; lo++ {
			numbers = append(numbers, lo)
		}
	}
	slices.Sort(numbers)
	var out []string
	for i := 0; i < len(numbers); {
		k := i
		for k+1 < len(numbers) && numbers[k+1] == numbers[k]+1 {
			k++
		}
		if k-i < 2 {
			k = i
			out = append(out, strconv.Itoa(numbers[i]))
		} else {
			out = append(out, fmt.Sprintf("%d–%d", numbers[i], numbers[k]))
		}
		i = k + 1
	}
	return strings.Join(out, ", ")
}

// spread keeps rows apart and inside.
func (ts tags) spread(low, high vg.Length) {
	for i := range ts {
		ts[i].row = ts[i].from.Y
		if i > 0 {
			ts[i].row = min(ts[i].row, ts[i-1].row-rowStep)
		}
	}
	if n := len(ts); n > 0 {
		floor := low
		for i := n - 1; i >= 0; i-- {
			ts[i].row = max(ts[i].row, floor)
			floor = ts[i].row + rowStep
		}
	}
}

func abs(v vg.Length) vg.Length {
	if v < 0 {
		return -v
	}
	return v
}
