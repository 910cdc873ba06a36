//go:build js

package benchview

import (
	"image"
	"image/color"

	"github.com/hajimehoshi/ebiten/v2"

	"crankbay/web/plan"
)

// Draw shows the newest snapshot and changes nothing but the picture.
func (v *View) Draw(screen *ebiten.Image) {
	if v.spec == nil || len(v.snap) == 0 || v.width < 1 || v.height < 1 {
		screen.Fill(v.sheet())
		return
	}
	if v.plan == nil {
		v.plan = plan.New(*v.spec, v.width, v.height)
		v.plan.Point(v.point.target, v.point.cylinder)
		v.stale = true
	}
	if v.plan.Update(v.snap, v.phase) || v.stale {
		v.drawStill(screen.Bounds())
		v.stale = false
	}
	screen.DrawImage(v.still, &ebiten.DrawImageOptions{Blend: ebiten.BlendCopy})
	v.draw(screen, &v.plan.Moving)
	screen.DrawTriangles32(v.over, v.indices, v.white, nil)
	v.frames++
}

func (v *View) drawStill(bounds image.Rectangle) {
	if v.still == nil || v.still.Bounds() != bounds {
		if v.still != nil {
			v.still.Deallocate()
		}
		v.still = ebiten.NewImageWithOptions(bounds, &ebiten.NewImageOptions{Unmanaged: true})
	}
	v.still.Fill(v.sheet())
	v.draw(v.still, &v.plan.Still)
	v.over = v.triangles(v.over[:0], &v.plan.Over)
	v.indices = append(v.indices[:0], v.mesh.Indices...)
}

func (v *View) sheet() color.Color {
	c := v.palette[plan.Sheet]
	if v.spec == nil {
		return color.Transparent
	}
	return color.RGBA{c.R, c.G, c.B, 255}
}

// draw puts a list onto an image as soft-edged triangles.
func (v *View) draw(target *ebiten.Image, l *plan.List) {
	v.vertices = v.triangles(v.vertices[:0], l)
	target.DrawTriangles32(v.vertices, v.mesh.Indices, v.white, nil)
}

// triangles appends the corners of a list's triangles, whose indices are then in
// v.mesh.
func (v *View) triangles(to []ebiten.Vertex, l *plan.List) []ebiten.Vertex {
	v.mesh.Reset()
	v.mesh.Add(l, &v.palette, v.ratio)
	for _, p := range v.mesh.Vertices {
		to = append(to, ebiten.Vertex{
			DstX: p.X, DstY: p.Y, SrcX: 1.5, SrcY: 1.5,
			ColorR: p.R, ColorG: p.G, ColorB: p.B, ColorA: p.A,
		})
	}
	return to
}
