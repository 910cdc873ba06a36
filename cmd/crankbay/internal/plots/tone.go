//go:build !js

package plots

// A Tone is one of the few colours of a figure. It is a color.Color, so that any
// canvas can draw with it; our own writes its name instead.
type Tone int

// The tones of a figure.
const (
	Ink   Tone = iota // lines and text
	Quiet             // what stands behind: axes, units, second lines
	Faint             // grid
	Red               // the one line that stands out
	White             // ground
)

// hex and rgb are the light palette, also that of paper.
var (
	hex  = [...]string{"#22262b", "#535a63", "#d5cdbd", "#9c3412", "#ffffff"}
	rgb  = [...][3]uint32{{0x22, 0x26, 0x2b}, {0x53, 0x5a, 0x63}, {0xd5, 0xcd, 0xbd}, {0x9c, 0x34, 0x12}, {0xff, 0xff, 0xff}}
	name = [...]string{"ink", "quiet", "faint", "red", "white"}
)

// RGBA is the tone in the light palette.
func (t Tone) RGBA() (r, g, b, a uint32) {
	c := rgb[t]
	return c[0] * 0x101, c[1] * 0x101, c[2] * 0x101, 0xffff
}
