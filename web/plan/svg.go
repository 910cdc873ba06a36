package plan

import (
	"fmt"
	"io"
	"strings"
)

// SVG writes lists, one over the other, as a whole SVG document of the given
// size [px] on a sheet of the palette's colour.
func SVG(w io.Writer, width, height float64, colours *Palette, lists ...*List) error {
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %g %g" width="%g" height="%g">`+"\n", width, height, width, height)
	fmt.Fprintf(&b, `<rect width="%g" height="%g" fill="%v"/>`+"\n", width, height, colours[Sheet])
	for _, l := range lists {
		for _, s := range l.Shapes {
			svgShape(&b, l, s, colours)
		}
	}
	b.WriteString("</svg>\n")
	_, err := io.WriteString(w, b.String())
	return err
}

func svgShape(b *strings.Builder, l *List, s Shape, colours *Palette) {
	if s.Radius > 0 {
		fmt.Fprintf(b, `<circle cx="%.2f" cy="%.2f" r="%.2f"`, s.Center.X, s.Center.Y, s.Radius)
	} else {
		b.WriteString(`<path d="M`)
		for i, p := range l.Points(s) {
			if i > 0 {
				b.WriteByte('L')
			}
			fmt.Fprintf(b, "%.2f %.2f", p.X, p.Y)
		}
		if s.Closed {
			b.WriteByte('Z')
		}
		b.WriteByte('"')
	}
	fill := "none"
	if s.Fill != None {
		fill = colours[s.Fill].String()
	}
	fmt.Fprintf(b, ` fill="%s"`, fill)
	if s.Fill != None && s.Alpha < 1 {
		fmt.Fprintf(b, ` fill-opacity="%.3g"`, s.Alpha)
	}
	if s.Line != None && s.Width > 0 {
		fmt.Fprintf(b, ` stroke="%v" stroke-width="%.2f"`, colours[s.Line], s.Width)
		if s.Round {
			b.WriteString(` stroke-linecap="round" stroke-linejoin="round"`)
		}
	}
	b.WriteString("/>\n")
}
