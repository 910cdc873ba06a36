package library_test

import (
	"crypto/sha256"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/diagnose/library"
)

// small makes a library with one family of each scope.
func small() *library.Library {
	l := &library.Library{Model: 3, Seed: 7, Engines: []string{"four", "six"}}
	for s := library.OfCylinder; s <= library.OfEngine; s++ {
		f := library.Family{Name: string(rune('a' + s)), Scope: s, Count: 5}
		for i := range f.Count {
			f.EngineOf = append(f.EngineOf, uint8(i%2))
			table := library.RoleFeatures()
			if s == library.OfEngine {
				table = library.EngineFeatures()
			}
			for k := range s.Width() {
				x := table[k%len(table)]
				f.Values = append(f.Values, x.Low+(x.High-x.Low)*float64(i*k%7)/10)
			}
		}
		f.Values[3] = math.NaN()
		l.Families = append(l.Families, f)
	}
	return l
}

// What is written is read back: names and counts as they were, numbers to half a step of
// their feature, a missing one missing.
func TestRoundTrip(t *testing.T) {
	in := small()
	data, err := in.Encode()
	require.NoError(t, err)
	out, err := library.Open(data)
	require.NoError(t, err)
	assert.Equal(t, in.Digest, out.Digest)
	assert.Equal(t, in.Engines, out.Engines)
	assert.Equal(t, in.Model, out.Model)
	require.Len(t, out.Families, len(in.Families))
	for i, f := range in.Families {
		g := out.Families[i]
		assert.Equal(t, f.Name, g.Name)
		assert.Equal(t, f.EngineOf, g.EngineOf)
		for k, v := range f.Values {
			if math.IsNaN(v) {
				assert.True(t, math.IsNaN(g.Values[k]), "%s %d", f.Name, k)
				continue
			}
			assert.InDelta(t, v, g.Values[k], 240.0/65534/2*1.001, "%s %d", f.Name, k) // the widest feature spans 240°
		}
	}
	again, err := out.Encode()
	require.NoError(t, err)
	assert.Equal(t, data, again, "encoding is stable")
}

// A number that does not fit is held at the end of its feature.
func TestHeldInside(t *testing.T) {
	in := small()
	in.Families[0].Values[library.Dry] = 99
	data, err := in.Encode()
	require.NoError(t, err)
	out, err := library.Open(data)
	require.NoError(t, err)
	assert.Equal(t, library.RoleFeatures()[library.Dry].High, out.Families[0].Row(0)[library.Dry])
}

// The width of a number is half the distance to its few nearest neighbours, so it is none
// where all examples agree.
func TestWidths(t *testing.T) {
	in := small()
	f := &in.Families[0]
	for i := range f.Count {
		f.Values[i*f.Scope.Width()+library.Dry] = float64(i)
		f.Values[i*f.Scope.Width()+library.Bore] = 2
	}
	data, err := in.Encode()
	require.NoError(t, err)
	out, err := library.Open(data)
	require.NoError(t, err)
	g := out.Families[0]
	assert.InDelta(t, 0, g.Width(1)[library.Bore], 1e-12)
	// Values 0 1 2 2 2 (held at 2): the third nearest of 0 is 2 off, of 2 it is 1.
	assert.InDelta(t, 1, g.Width(0)[library.Dry], 1e-4)
	assert.InDelta(t, 0.25, g.Width(4)[library.Dry], 1e-4)
}

// Whatever is wrong with the bytes gives one sentence.
func TestDamage(t *testing.T) {
	data, err := small().Encode()
	require.NoError(t, err)
	cut := func(n int) []byte { return data[:n] }
	flipped := append([]byte(nil), data...)
	flipped[len(flipped)/2] ^= 1
	newer := append([]byte(nil), data...)
	newer[4] = 9
	for _, c := range []struct {
		name, says string
		data       []byte
	}{
		{"empty", "not a likelihood library", nil},
		{"something else", "not a likelihood library", []byte("a quite ordinary text that is long enough to hold a digest")},
		{"cut", "digest does not fit", cut(len(data) - 1)},
		{"flipped", "digest does not fit", flipped},
		{"newer", "format 9, want 1", newer},
	} {
		_, err := library.Open(c.data)
		assert.ErrorContains(t, err, c.says, c.name)
	}
}

// Families that don't hang together are not written.
func TestNotWritten(t *testing.T) {
	for _, spoil := range []func(*library.Family){
		func(f *library.Family) { f.Count++ },
		func(f *library.Family) { f.Values = f.Values[1:] },
		func(f *library.Family) { f.Scope = 9 },
	} {
		l := small()
		spoil(&l.Families[1])
		_, err := l.Encode()
		assert.Error(t, err)
	}
}

func FuzzOpen(f *testing.F) {
	data, err := small().Encode()
	require.NoError(f, err)
	f.Add(data)
	f.Add(data[:40])
	f.Add(data[:len(data)-sha256.Size])
	f.Add(data[:len(data)-sha256.Size-9]) // its last family is cut
	f.Fuzz(func(t *testing.T, data []byte) {
		signed := sha256.Sum256(data) // else nothing comes past the digest
		for _, data := range [][]byte{data, append(slices.Clone(data), signed[:]...)} {
			l, err := library.Open(data)
			if err != nil {
				continue
			}
			again, err := l.Encode()
			require.NoError(t, err)
			assert.Equal(t, len(data), len(again))
		}
	})
}
