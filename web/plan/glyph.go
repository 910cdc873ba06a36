package plan

import (
	"fmt"
	"strconv"
	"strings"
)

// Glyphs are drawn with one stroke on a field 10 high, baseline at 10, origin top
// left: M move, L line, C cubic curve.
var glyphCode = map[rune]struct {
	width float64
	code  string
}{
	'0': {6, "M3 0 C1.1 0 0 1.7 0 5 C0 8.3 1.1 10 3 10 C4.9 10 6 8.3 6 5 C6 1.7 4.9 0 3 0"},
	'1': {4, "M0.6 2.2 C1.8 1.7 2.6 1 3.2 0 L3.2 10"},
	'2': {6, "M0.2 2.7 C0.3 1 1.4 0 3 0 C4.7 0 5.7 1.1 5.7 2.7 C5.7 4.6 4 6.2 0.1 10 L6 10"},
	'3': {6, "M0.5 1.7 C1 0.6 1.9 0 3 0 C4.6 0 5.6 1 5.6 2.3 C5.6 3.8 4.4 4.6 2.4 4.6 C4.8 4.6 6 5.6 6 7.2 C6 8.9 4.8 10 2.9 10 C1.5 10 0.5 9.4 0 8.2"},
	'4': {6.3, "M4.7 10 L4.7 0 L0 7.1 L6.3 7.1"},
	'5': {6, "M5.4 0 L1.1 0 L0.7 4.5 C1.3 3.9 2.1 3.6 3 3.6 C4.8 3.6 6 4.9 6 6.7 C6 8.7 4.8 10 2.9 10 C1.6 10 0.6 9.5 0 8.4"},
	'6': {6, "M5.3 1.1 C4.8 0.4 4.1 0 3.2 0 C1.2 0 0 2.1 0 5.6 C0 8.5 1.1 10 3 10 C4.8 10 6 8.7 6 6.9 C6 5.1 4.8 3.9 3.1 3.9 C1.5 3.9 0.2 5 0 6.7"},
	'7': {6, "M0 0 L6 0 C4.1 2.9 2.7 6.2 2.1 10"},
	'8': {6, "M3 4.6 C1.5 4.6 0.5 3.6 0.5 2.3 C0.5 1 1.4 0 3 0 C4.6 0 5.5 1 5.5 2.3 C5.5 3.6 4.5 4.6 3 4.6 C1.2 4.6 0 5.7 0 7.3 C0 8.9 1.2 10 3 10 C4.8 10 6 8.9 6 7.3 C6 5.7 4.8 4.6 3 4.6"},
	'9': {6, "M0.7 8.9 C1.2 9.6 1.9 10 2.8 10 C4.8 10 6 7.9 6 4.4 C6 1.5 4.9 0 3 0 C1.2 0 0 1.3 0 3.1 C0 4.9 1.2 6.1 2.9 6.1 C4.5 6.1 5.8 5 6 3.3"},
	'.': {1, "M0.5 9.7 L0.5 10"},
	'-': {4, "M0 6 L4 6"},
	'+': {5, "M0 6 L5 6 M2.5 3.5 L2.5 8.5"},
	'/': {4, "M0 11 L4 -0.5"},
	'p': {5.2, "M0 3.2 L0 13 M0 6.4 C0 4.3 1 3.2 2.6 3.2 C4.2 3.2 5.2 4.5 5.2 6.6 C5.2 8.7 4.2 10 2.6 10 C1 10 0 8.8 0 6.8"},
	's': {4.4, "M4.2 4.4 C3.8 3.6 3.1 3.2 2.2 3.2 C1.1 3.2 0.3 3.8 0.3 4.8 C0.3 7 4.4 5.9 4.4 8.2 C4.4 9.3 3.5 10 2.2 10 C1.1 10 0.4 9.5 0 8.7"},
	'i': {1, "M0.5 3.2 L0.5 10 M0.5 0.6 L0.5 0.9"},
	'k': {4.6, "M0 0 L0 10 M4.2 3.2 L0 7.2 M1.7 5.7 L4.6 10"},
	'P': {5.4, "M0 10 L0 0 L2.8 0 C4.5 0 5.4 1.1 5.4 2.7 C5.4 4.4 4.5 5.4 2.8 5.4 L0 5.4"},
	'a': {5, "M5 3.4 L5 10 M5 6.6 C5 4.5 4 3.2 2.5 3.2 C1 3.2 0 4.6 0 6.6 C0 8.6 1 10 2.5 10 C4 10 5 8.7 5 6.6"},
	'b': {5.2, "M0 0 L0 10 M0 6.4 C0 4.3 1 3.2 2.6 3.2 C4.2 3.2 5.2 4.5 5.2 6.6 C5.2 8.7 4.2 10 2.6 10 C1 10 0 8.8 0 6.8"},
	'r': {3.2, "M0 3.2 L0 10 M0 6.6 C0 4.6 1.3 3.2 3.2 3.2"},
	'm': {7.4, "M0 3.2 L0 10 M0 5.8 C0.3 4 1.1 3.2 2.1 3.2 C3.2 3.2 3.7 3.9 3.7 5.3 L3.7 10 M3.7 5.8 C4 4 4.8 3.2 5.8 3.2 C6.9 3.2 7.4 3.9 7.4 5.3 L7.4 10"},
	'V': {6.2, "M0 0 L3.1 10 L6.2 0"},
	'A': {6.2, "M0 10 L3.1 0 L6.2 10 M1.1 6.6 L5.1 6.6"},
	'%': {8, "M1.7 0 C0.6 0 0 1 0 2.3 C0 3.6 0.6 4.6 1.7 4.6 C2.8 4.6 3.4 3.6 3.4 2.3 C3.4 1 2.8 0 1.7 0 M6.7 0 L1.3 10 M6.3 5.4 C5.2 5.4 4.6 6.4 4.6 7.7 C4.6 9 5.2 10 6.3 10 C7.4 10 8 9 8 7.7 C8 6.4 7.4 5.4 6.3 5.4"},
	' ': {2.5, ""},
}

const glyphGap = 2.1 // between two glyphs, of the field of 10

type glyphStep struct {
	op byte
	at [6]float64
}

var glyphs = parseGlyphs()

func parseGlyphs() map[rune][]glyphStep {
	out := make(map[rune][]glyphStep, len(glyphCode))
	for r, g := range glyphCode {
		steps, err := parseGlyph(g.code)
		if err != nil {
			panic(fmt.Sprintf("plan: glyph %q: %v", r, err))
		}
		out[r] = steps
	}
	return out
}

func parseGlyph(code string) ([]glyphStep, error) {
	var out []glyphStep
	fields := strings.Fields(code)
	for i := 0; i < len(fields); {
		step := glyphStep{op: fields[i][0]}
		fields[i] = fields[i][1:]
		want := map[byte]int{'M': 2, 'L': 2, 'C': 6}[step.op]
		if want == 0 || i+want > len(fields) {
			return nil, fmt.Errorf("bad step %q", step.op)
		}
		for k := range want {
			x, err := strconv.ParseFloat(fields[i+k], 64)
			if err != nil {
				return nil, err
			}
			step.at[k] = x
		}
		out, i = append(out, step), i+want
	}
	return out, nil
}

// textWidth returns how wide a row of glyphs of that height is.
func textWidth(s string, height float64) float64 {
	w := 0.0
	for _, r := range s {
		w += glyphCode[r].width + glyphGap
	}
	return (w - glyphGap) * height / 10
}

// text draws glyphs, centred on (x, y) both ways. A rune without a glyph panics:
// the canvas carries numerals and unit signs only.
func (l *List) text(s string, x, y, height, width float64, tone Tone) {
	style := Style{Line: tone, Width: width, Round: true}
	k := height / 10
	wide := textWidth(s, height)
	x, y = x-wide/2, y-height/2
	l.Labels = append(l.Labels, Rect{x, y, wide, height})
	for _, r := range s {
		steps, ok := glyphs[r]
		if !ok {
			panic(fmt.Sprintf("plan: no glyph for %q", r))
		}
		for i, st := range steps {
			a := st.at
			switch st.op {
			case 'M':
				if i > 0 {
					l.open(style)
				}
				l.move(x+a[0]*k, y+a[1]*k)
			case 'L':
				l.to(x+a[0]*k, y+a[1]*k)
			case 'C':
				l.curve(x+a[0]*k, y+a[1]*k, x+a[2]*k, y+a[3]*k, x+a[4]*k, y+a[5]*k)
			}
		}
		l.open(style)
		x += (glyphCode[r].width + glyphGap) * k
	}
}
