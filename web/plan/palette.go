package plan

import (
	"fmt"
	"strconv"
)

// A Tone is the part that a colour plays; a Palette says which colour that is.
type Tone uint8

// The tones of the plate. Go is the one accent: needle, live cable, what acts.
const (
	None Tone = iota
	Paper
	Sheet
	Ink
	Ink2
	Line
	Tint
	Tint2
	Steel
	Go
	Gas
	Focus
	Hole // what one looks into: dark in both themes
	tones
)

var toneNames = [tones]string{"none", "paper", "sheet", "ink", "ink2", "line", "tint", "tint2", "steel", "go", "gas", "focus", "hole"}

// String returns the name that the page's style sheet uses for the tone.
func (t Tone) String() string { return toneNames[t] }

// An RGB is an opaque colour.
type RGB struct{ R, G, B uint8 }

// String returns #rrggbb.
func (c RGB) String() string { return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B) }

// A Palette gives every tone its colour.
type Palette [tones]RGB

func hex(codes ...uint32) Palette {
	var p Palette
	for i, c := range codes {
		p[i+1] = RGB{uint8(c >> 16), uint8(c >> 8), uint8(c)}
	}
	return p
}

// Light is ink on paper, Dark chalk on slate.
var (
	Light = hex(0xf6f2e9, 0xfffdf8, 0x22262b, 0x565d66, 0xc9c1b1, 0xe6dfd0, 0xd6ccb8, 0xb9c1c6, 0x9c3412, 0x8fb8c9, 0x0b5fa5, 0x22262b)
	Dark  = hex(0x1c2126, 0x242a30, 0xece7dc, 0xa9b0b8, 0x46505a, 0x2d343b, 0x3a434c, 0x5b6770, 0xe58a5f, 0x3f7086, 0x7dbcf0, 0x12161a)
)

// Theme returns the palette of "dark", and Light for every other name, with the
// colours named in changes ("ink": "#000000") put in place of its own. Names and
// codes that mean nothing are left out.
func Theme(name string, changes map[string]string) Palette {
	p := Light
	if name == "dark" {
		p = Dark
	}
	for t := Paper; t < tones; t++ {
		if c, ok := parseRGB(changes[t.String()]); ok {
			p[t] = c
		}
	}
	return p
}

func parseRGB(s string) (RGB, bool) {
	if len(s) != 7 || s[0] != '#' {
		return RGB{}, false
	}
	n, err := strconv.ParseUint(s[1:], 16, 32)
	return RGB{uint8(n >> 16), uint8(n >> 8), uint8(n)}, err == nil
}

// Contrast returns the WCAG 2.2 contrast ratio of two colours, 1 to 21.
func Contrast(a, b RGB) float64 {
	x, y := luminance(a), luminance(b)
	if x < y {
		x, y = y, x
	}
	return (x + 0.05) / (y + 0.05)
}
