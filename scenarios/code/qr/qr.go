// Package qr draws texts as QR codes. It chooses version and mask; the bits and the
// error correction are rsc.io/qr/coding.
package qr

import (
	"fmt"
	"strconv"
	"strings"

	"rsc.io/qr/coding"
)

// quiet is the white border that readers need [modules] (ISO/IEC 18004, from memory).
const quiet = 4

// A Square is a QR code: Size by Size modules, without its white border.
type Square struct {
	Size    int
	Version int // 1 to 40
	dark    []bool
}

// Dark tells whether a module is.
func (s *Square) Dark(x, y int) bool {
	return x >= 0 && y >= 0 && x < s.Size && y < s.Size && s.dark[y*s.Size+x]
}

// Rows returns the modules as texts of 0 and 1, for a page to draw.
func (s *Square) Rows() []string {
	rows := make([]string, s.Size)
	for y := range rows {
		row := make([]byte, s.Size)
		for x := range row {
			row[x] = '0'
			if s.Dark(x, y) {
				row[x] = '1'
			}
		}
		rows[y] = string(row)
	}
	return rows
}

// Draw makes the smallest code that holds a text, with the least error correction:
// what is read off a screen or a fresh print is clean, and small modules are the worse
// trouble. Texts of capitals, digits and a few signs take less room (see code.QR). The
// error says when no code is big enough.
func Draw(text string) (*Square, error) {
	var enc coding.Encoding = coding.String(text)
	if coding.Alpha(text).Check() == nil {
		enc = coding.Alpha(text)
	}
	for v := coding.Version(coding.MinVersion); v <= coding.MaxVersion; v++ {
		if enc.Bits(v) > v.DataBytes(coding.L)*8 {
			continue
		}
		return best(enc, v)
	}
	return nil, fmt.Errorf("qr: %d characters are more than a QR code holds", len(text))
}

// best tries the eight masks and keeps the most even one.
func best(enc coding.Encoding, v coding.Version) (*Square, error) {
	var kept *Square
	least := 0
	for mask := range coding.Mask(8) {
		plan, err := coding.NewPlan(v, coding.L, mask)
		if err != nil {
			return nil, fmt.Errorf("qr: %w", err)
		}
		c, err := plan.Encode(enc)
		if err != nil {
			return nil, fmt.Errorf("qr: %w", err)
		}
		s := &Square{Size: c.Size, Version: int(v), dark: make([]bool, c.Size*c.Size)}
		for y := range c.Size {
			for x := range c.Size {
				s.dark[y*c.Size+x] = c.Black(x, y)
			}
		}
		if p := s.penalty(); kept == nil || p < least {
			kept, least = s, p
		}
	}
	return kept, nil
}

// penalty counts what makes a code hard to read: runs of five and more, squares of
// one colour, an uneven share of dark (ISO/IEC 18004, from memory; what looks like a
// corner mark is left out).
func (s *Square) penalty() (sum int) {
	dark := 0
	for a := range s.Size {
		across, down := 0, 0
		for b := range s.Size {
			if b > 0 && s.Dark(b, a) == s.Dark(b-1, a) {
				across++
			} else {
				across = 1
			}
			if b > 0 && s.Dark(a, b) == s.Dark(a, b-1) {
				down++
			} else {
				down = 1
			}
			sum += run(across) + run(down)
			if s.Dark(b, a) {
				dark++
			}
			if d := s.Dark(b, a); a+1 < s.Size && b+1 < s.Size && d == s.Dark(b+1, a) && d == s.Dark(b, a+1) && d == s.Dark(b+1, a+1) {
				sum += 3
			}
		}
	}
	off := 100*dark/(s.Size*s.Size) - 50
	return sum + max(off, -off)/5*10
}

func run(n int) int {
	switch {
	case n == 5:
		return 3
	case n > 5:
		return 1
	}
	return 0
}

// SVG returns the code as a picture that scales, with its white border, and a text for
// who can't see it. It needs no style and no script.
func (s *Square) SVG(title string) string {
	side := strconv.Itoa(s.Size + 2*quiet)
	var b strings.Builder
	b.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ` + side + " " + side + `" shape-rendering="crispEdges" role="img"><title>`)
	b.WriteString(strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;").Replace(title))
	b.WriteString(`</title><rect width="` + side + `" height="` + side + `" fill="#fff"/><path fill="#000" d="`)
	for y := range s.Size {
		for x := 0; x < s.Size; x++ {
			n := 0
			for s.Dark(x+n, y) {
				n++
			}
			if n > 0 {
				fmt.Fprintf(&b, "M%d %dh%dv1h-%dz", x+quiet, y+quiet, n, n)
				x += n
			}
		}
	}
	b.WriteString(`"/></svg>`)
	return b.String()
}
