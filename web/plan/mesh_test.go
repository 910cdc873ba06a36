package plan

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// covered sums area × mean alpha of all triangles: how much ink they lay down.
func covered(m *Mesh) float64 {
	sum := 0.0
	for i := 0; i+2 < len(m.Indices); i += 3 {
		a, b, c := m.Vertices[m.Indices[i]], m.Vertices[m.Indices[i+1]], m.Vertices[m.Indices[i+2]]
		area := math.Abs(float64((b.X-a.X)*(c.Y-a.Y)-(b.Y-a.Y)*(c.X-a.X))) / 2
		sum += area * float64(a.A+b.A+c.A) / 3
	}
	return sum
}

func meshOf(draw func(l *List), scale float64) *Mesh {
	var l List
	draw(&l)
	m := &Mesh{}
	m.Add(&l, &Light, scale)
	return m
}

func TestFillCoversItsArea(t *testing.T) {
	star := func(l *List) {
		for i := range 10 {
			r := 100.0
			if i%2 == 1 {
				r = 45
			}
			s, c := math.Sincos(2 * math.Pi * float64(i) / 10)
			if i == 0 {
				l.move(200+r*c, 200+r*s)
				continue
			}
			l.to(200+r*c, 200+r*s)
		}
		l.shut(Style{Fill: Ink})
	}
	for name, c := range map[string]struct {
		draw func(*List)
		want float64
	}{
		"box":       {func(l *List) { l.box(10, 10, 80, 50, 0, Style{Fill: Ink}) }, 80 * 50},
		"disc":      {func(l *List) { l.disc(100, 100, 60, Style{Fill: Ink}) }, math.Pi * 3600},
		"star":      {star, 5 * 100 * 45 * math.Sin(math.Pi/5)},
		"backwards": {func(l *List) { l.move(0, 0).to(0, 50).to(80, 50).to(80, 0).shut(Style{Fill: Ink}) }, 80 * 50},
		"half ink":  {func(l *List) { l.box(10, 10, 80, 50, 0, Style{Fill: Ink, Alpha: 0.5}) }, 40 * 50},
	} {
		assert.InEpsilon(t, c.want, covered(meshOf(c.draw, 1)), 0.012, name)
		assert.InEpsilon(t, 4*c.want, covered(meshOf(c.draw, 2)), 0.012, "%s at twice the pixels", name)
	}
}

func TestStrokeCoversLengthTimesWidth(t *testing.T) {
	for _, width := range []float64{1, 1.5, 4, 6} {
		m := meshOf(func(l *List) { l.line(10, 10, 210, 160, Style{Line: Ink, Width: width, Exact: true}) }, 1)
		assert.InEpsilon(t, 250*width, covered(m), 0.02, "width %g", width)
	}
	ring := meshOf(func(l *List) { l.disc(100, 100, 60, Style{Line: Ink, Width: 4, Exact: true}) }, 1)
	assert.InEpsilon(t, 2*math.Pi*60*4, covered(ring), 0.01)
	round := meshOf(func(l *List) { l.line(0, 0, 100, 0, Style{Line: Ink, Width: 10, Round: true, Exact: true}) }, 1)
	assert.InEpsilon(t, 1000+math.Pi*25, covered(round), 0.03, "round ends")
	turn := meshOf(func(l *List) { l.move(0, 0).to(100, 0).to(0, 3).open(Style{Line: Ink, Width: 2, Exact: true}) }, 1)
	for _, v := range turn.Vertices {
		assert.LessOrEqual(t, v.X, float32(103), "a sharp turn grows no thorn")
	}
}

func TestMeshIsSound(t *testing.T) {
	s, err := ParseSpec([]byte(`{"layout":"v","cylinders":8,"cams":"block","gauge":"a","charger":true,"switch":"remote"}`))
	require.NoError(t, err)
	p := New(s, 820, 560)
	v := make([]float64, 32+8*8)
	v[0], v[13], v[15], v[16] = 1, 8, 1, 3
	p.Update(v, Phase{})
	var m Mesh
	m.Add(&p.Still, &Dark, 2)
	m.Add(&p.Moving, &Dark, 2)
	require.Zero(t, len(m.Indices)%3)
	for _, i := range m.Indices {
		require.Less(t, int(i), len(m.Vertices))
	}
	for _, v := range m.Vertices {
		require.False(t, math.IsNaN(float64(v.X+v.Y)))
		require.True(t, v.A >= 0 && v.A <= 1)
	}
	n := cap(m.Vertices)
	m.Reset()
	m.Add(&p.Moving, &Dark, 2)
	assert.Equal(t, n, cap(m.Vertices), "memory is kept")
}

func BenchmarkMoving(b *testing.B) {
	s, _ := ParseSpec([]byte(`{"layout":"inline","cylinders":4,"gauge":"a","switch":"remote"}`))
	p := New(s, 820, 560)
	v := make([]float64, 32+8*4)
	v[0], v[13], v[15], v[16] = 1, 4, 1, 3
	var m Mesh
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		v[2] = float64(i) * 0.1
		p.Update(v, Phase{})
		m.Reset()
		m.Add(&p.Moving, &Light, 1)
	}
	b.ReportMetric(float64(len(m.Vertices)), "vertices")
}
