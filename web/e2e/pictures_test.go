//go:build !js

package e2e

import (
	"bytes"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// pictures of the README: a file, and the sights on it side by side.
var readmePictures = []struct {
	file string
	of   []pictured
}{
	{"bay.png", []pictured{{"bay-section", look{width: 1280, height: 800}, "en", ""}}},
	{"phone.png", []pictured{{"bay-cranking", look{width: 390, height: 844}, "en", ""}, {"bay-leakage", look{width: 390, height: 844, dark: true}, "es", ""}, {"yard", look{width: 390, height: 844}, "es", ""}}},
	{"debrief.png", []pictured{{"debrief-hasty", look{width: 1280, height: 800}, "en", ".look"}}},
	{"opinion.png", []pictured{{"opinion", look{width: 1280, height: 800, dark: true}, "en", ""}}},
}

// pictured is a sight as it is shown in a picture; at is what it is scrolled to.
type pictured struct {
	sight string
	look  look
	lang  string
	at    string
}

// Pictures of the README, of the product as it is; taken by `make pictures`.
func TestPictures(t *testing.T) {
	if os.Getenv("PICTURES") == "" {
		t.Skip("pictures of the README are taken by 'make pictures'")
	}
	p := open(t, look{}, "")
	for _, one := range readmePictures {
		var shots []image.Image
		for _, s := range one.of {
			i := slices.IndexFunc(sights, func(x sight) bool { return x.name == s.sight })
			require.GreaterOrEqual(t, i, 0, s.sight)
			p.dress(look{width: 1280, height: 800})
			p.sight(sights[i], "lang="+s.lang)
			p.dress(s.look)
			if s.at != "" {
				eval[bool](p, `(document.querySelector(`+quote(s.at)+`).scrollIntoView({block: 'center', behavior: 'instant'}), true)`)
			}
			if sights[i].draw {
				p.drawn()
			}
			shot, err := chromedp.Run(p.ctx, chromedp.CaptureScreenshot())
			require.NoError(t, err)
			m, err := png.Decode(bytes.NewReader(shot))
			require.NoError(t, err)
			shots = append(shots, m)
		}
		data := small256(t, beside(shots))
		assert.Less(t, len(data), 200_000, one.file)
		require.NoError(t, os.WriteFile(filepath.Join("..", "pictures", one.file), data, 0o644))
	}
}

// beside puts pictures side by side with a gap between them.
func beside(all []image.Image) image.Image {
	const gap = 24
	if len(all) == 1 {
		return all[0]
	}
	width, height := -gap, 0
	for _, m := range all {
		width += m.Bounds().Dx() + gap
		height = max(height, m.Bounds().Dy())
	}
	out := image.NewRGBA(image.Rect(0, 0, width, height))
	x := 0
	for _, m := range all {
		draw.Draw(out, image.Rect(x, 0, x+m.Bounds().Dx(), height), m, m.Bounds().Min, draw.Src)
		x += m.Bounds().Dx() + gap
	}
	return out
}

// small256 writes a drawing in its 256 commonest colours, rounded to 16 steps each for
// counting; flat tints and their edges lose nothing that an eye would see.
func small256(t *testing.T, m image.Image) []byte {
	t.Helper()
	type bin struct {
		sum [4]int
		n   int
	}
	bins := map[[4]uint8]*bin{}
	b := m.Bounds()
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			c := color.NRGBAModel.Convert(m.At(x, y)).(color.NRGBA)
			k := [4]uint8{c.R >> 4, c.G >> 4, c.B >> 4, c.A >> 4}
			if bins[k] == nil {
				bins[k] = &bin{}
			}
			for i, v := range []uint8{c.R, c.G, c.B, c.A} {
				bins[k].sum[i] += int(v)
			}
			bins[k].n++
		}
	}
	var all []*bin
	for _, one := range bins {
		all = append(all, one)
	}
	slices.SortFunc(all, func(x, y *bin) int { return y.n - x.n })
	var palette color.Palette
	for _, one := range all[:min(256, len(all))] {
		palette = append(palette, color.NRGBA{uint8(one.sum[0] / one.n), uint8(one.sum[1] / one.n), uint8(one.sum[2] / one.n), uint8(one.sum[3] / one.n)})
	}
	flat := image.NewPaletted(b, palette)
	draw.Draw(flat, b, m, b.Min, draw.Src)
	var out bytes.Buffer
	require.NoError(t, (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(&out, flat))
	return out.Bytes()
}
