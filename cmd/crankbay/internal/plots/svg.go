//go:build !js

package plots

import (
	"encoding/xml"
	"fmt"
	"image"
	"image/color"
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
)

// svgCanvas is a vg.Canvas that writes SVG of our own: no style attributes,
// which a page's security policy would refuse, and colours by name or by value.
type svgCanvas struct {
	width, height vg.Length
	classes       bool // tones as class names, for a page's style sheet
	body          strings.Builder
	now           pen
	kept          []pen
}

// pen is what Push keeps.
type pen struct {
	tone   Tone
	width  vg.Length
	dashes []vg.Length
	matrix [6]float64 // x' = m0 x + m2 y + m4, y' = m1 x + m3 y + m5
}

func newSVG(width, height vg.Length, classes bool) *svgCanvas {
	c := &svgCanvas{width: width, height: height, classes: classes}
	c.now = pen{width: 1, matrix: [6]float64{1, 0, 0, -1, 0, float64(height)}} // SVG counts downwards
	return c
}

var _ vg.CanvasSizer = (*svgCanvas)(nil)

func (c *svgCanvas) Size() (x, y vg.Length) { return c.width, c.height }

func (c *svgCanvas) SetLineWidth(w vg.Length) { c.now.width = w }

func (c *svgCanvas) SetLineDash(pattern []vg.Length, _ vg.Length) { c.now.dashes = pattern }

// SetColor takes tones; anything else is ink.
func (c *svgCanvas) SetColor(col color.Color) {
	t, ok := col.(Tone)
	if !ok {
		t = Ink
	}
	c.now.tone = t
}

func (c *svgCanvas) Push() { c.kept = append(c.kept, c.now) }

func (c *svgCanvas) Pop() {
	last := len(c.kept) - 1
	c.now, c.kept = c.kept[last], c.kept[:last]
}

func (c *svgCanvas) apply(a, b, d, e, x, y float64) {
	m := c.now.matrix
	c.now.matrix = [6]float64{
		m[0]*a + m[2]*b, m[1]*a + m[3]*b,
		m[0]*d + m[2]*e, m[1]*d + m[3]*e,
		m[0]*x + m[2]*y + m[4], m[1]*x + m[3]*y + m[5],
	}
}

func (c *svgCanvas) Rotate(rad float64) {
	s, k := math.Sincos(rad)
	c.apply(k, s, -s, k, 0, 0)
}

func (c *svgCanvas) Translate(pt vg.Point) { c.apply(1, 0, 0, 1, float64(pt.X), float64(pt.Y)) }

func (c *svgCanvas) Scale(x, y float64) { c.apply(x, 0, 0, y, 0, 0) }

// at returns a point in the picture's own coordinates as text.
func (c *svgCanvas) at(p vg.Point) string {
	m := c.now.matrix
	x, y := float64(p.X), float64(p.Y)
	return decimal(m[0]*x+m[2]*y+m[4]) + " " + decimal(m[1]*x+m[3]*y+m[5])
}

// decimal writes a length with two decimals at most.
func decimal(v float64) string {
	text := strconv.FormatFloat(math.Round(v*100)/100, 'f', -1, 64)
	if text == "-0" {
		return "0"
	}
	return text
}

func (c *svgCanvas) path(p vg.Path) string {
	var d strings.Builder
	for _, s := range p {
		switch s.Type {
		case vg.MoveComp:
			d.WriteString("M" + c.at(s.Pos))
		case vg.LineComp:
			d.WriteString("L" + c.at(s.Pos))
		case vg.ArcComp:
			c.arc(&d, s)
		case vg.CurveComp:
			d.WriteString("Q" + c.at(s.Control[0]) + " " + c.at(s.Pos))
		case vg.CloseComp:
			d.WriteString("Z")
		}
	}
	return d.String()
}

// arc draws an arc in pieces of a third of a turn at most, which SVG's arcs
// describe without doubt.
func (c *svgCanvas) arc(d *strings.Builder, s vg.PathComp) {
	point := func(angle float64) vg.Point {
		return vg.Point{X: s.Pos.X + s.Radius*vg.Length(math.Cos(angle)), Y: s.Pos.Y + s.Radius*vg.Length(math.Sin(angle))}
	}
	letter := "M"
	if d.Len() > 0 {
		letter = "L"
	}
	d.WriteString(letter + c.at(point(s.Start)))
	pieces := math.Ceil(math.Abs(s.Angle) / 2.1)
	sweep := "0"
	if s.Angle < 0 {
		sweep = "1"
	}
	r := decimal(float64(s.Radius))
	for i := 1.0; i <= pieces; i++ {
		fmt.Fprintf(d, "A%s %s 0 0 %s %s", r, r, sweep, c.at(point(s.Start+s.Angle*i/pieces)))
	}
}

func (c *svgCanvas) Stroke(p vg.Path) {
	if c.now.width <= 0 || len(p) == 0 {
		return
	}
	dash := ""
	if len(c.now.dashes) > 0 {
		var list []string
		for _, l := range c.now.dashes {
			list = append(list, decimal(float64(l)))
		}
		dash = fmt.Sprintf(` stroke-dasharray="%s"`, strings.Join(list, " "))
	}
	fmt.Fprintf(&c.body, "<path %s stroke-width=\"%s\"%s d=\"%s\"/>\n", c.line(), decimal(float64(c.now.width)), dash, c.path(p))
}

func (c *svgCanvas) Fill(p vg.Path) {
	if c.classes && c.now.tone == White {
		return // a page has its own ground
	}
	fmt.Fprintf(&c.body, "<path %s d=\"%s\"/>\n", c.area(), c.path(p))
}

func (c *svgCanvas) line() string {
	if c.classes {
		return `class="line-` + name[c.now.tone] + `"`
	}
	return `fill="none" stroke="` + hex[c.now.tone] + `" stroke-linejoin="round"`
}

func (c *svgCanvas) area() string {
	if c.classes {
		return `class="fill-` + name[c.now.tone] + `"`
	}
	return `fill="` + hex[c.now.tone] + `"`
}

// FillString writes upright text; no axis of ours is written along.
func (c *svgCanvas) FillString(f font.Face, pt vg.Point, text string) {
	if f.Font.Size <= 0 {
		return
	}
	x, y, _ := strings.Cut(c.at(pt), " ")
	fmt.Fprintf(&c.body, "<text %s font-size=\"%s\" x=\"%s\" y=\"%s\">%s</text>\n", c.area(), decimal(float64(f.Font.Size)), x, y, escape(text))
}

// DrawImage is never asked for: figures hold lines and text alone.
func (c *svgCanvas) DrawImage(vg.Rectangle, image.Image) { panic("plots: no images in a figure") }

func escape(text string) string {
	var b strings.Builder
	if err := xml.EscapeText(&b, []byte(text)); err != nil {
		panic("plots: " + err.Error()) // a Builder takes everything
	}
	return b.String()
}

// family has the widths of the font that text was measured with, wherever the
// picture is looked at.
const family = "Liberation Sans, Arimo, Arial, Helvetica, sans-serif"

// document returns the picture with its text alternative: a title, which is what
// a screen reader says first, and a description.
func (c *svgCanvas) document(id, title, description string) []byte {
	var b strings.Builder
	w, h := decimal(float64(c.width)), decimal(float64(c.height))
	size := fmt.Sprintf(` width="%s" height="%s"`, w, h)
	if c.classes {
		size = ` class="plot"`
	}
	fmt.Fprintf(&b, "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 %s %s\"%s role=\"img\" aria-labelledby=\"%s-title %s-text\" font-family=\"%s\">\n",
		w, h, size, id, id, family)
	fmt.Fprintf(&b, "<title id=\"%s-title\">%s</title>\n<desc id=\"%s-text\">%s</desc>\n", id, escape(title), id, escape(description))
	if !c.classes {
		fmt.Fprintf(&b, "<rect width=\"%s\" height=\"%s\" fill=\"%s\"/>\n", w, h, hex[White])
	}
	b.WriteString(c.body.String())
	b.WriteString("</svg>\n")
	return []byte(b.String())
}
