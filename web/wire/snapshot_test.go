package wire_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/web/wire"
)

func sample() wire.Snapshot {
	s := wire.Snapshot{
		Tick: 4812, CrankAngle: 3.25, Speed: 26.5, Starter: true, Current: 143, Volts: 10.5, RPM: 253,
		Throttle: 1, Needle: 9.1e5, Gauged: 3, Minutes: 41, Release: false, FullScale: 2.07e6,
		Section: true, Selected: 2, Hiss: 0.004, Leaks: wire.Leaks{Rings: 1e-4, Intake: 2e-5, Exhaust: 3e-3, Gasket: 4e-6},
		Tests: wire.Tests{Tester: 4, Supply: 5.5e5, Held: 5e5, Vacuum: 8e3, Clamp: true, Wrench: true, Running: true, Neck: true, Bubbles: 1e-6},
	}
	for i := range 4 {
		f := float64(i)
		s.Cylinders = append(s.Cylinders, wire.Cylinder{
			Travel: f / 4, IntakeLift: f / 1000, ExhaustLift: f / 900, Pressure: 1e5 + f, Plug: i % 3, Angle: f - 2, Oil: f * 3, Bank: 1 + i%2,
		})
	}
	return s
}

func TestDecodeReturnsWhatWasEncoded(t *testing.T) {
	s := sample()
	buf := make([]float64, wire.Size(wire.MaxCylinders))
	for i := range buf {
		buf[i] = 77 // leftovers must not shine through the reserved slots
	}
	n := s.Encode(buf)
	require.Equal(t, wire.Size(4), n)
	got, err := wire.Decode(buf[:n])
	require.NoError(t, err)
	assert.Equal(t, s, got)
	for slot := wire.SlotBubbles + 1; slot < wire.Head; slot++ {
		assert.Zero(t, buf[slot], "reserved slot %d", slot)
	}
	assert.Equal(t, 77.0, buf[n], "wrote past its end")
	assert.Zero(t, testing.AllocsPerRun(10, func() { s.Encode(buf) }))
}

func TestEncodeAndViewAgree(t *testing.T) {
	s := sample()
	s.Volts = math.NaN()
	buf := make(wire.View, wire.Size(4))
	s.Encode(buf)
	require.True(t, buf.Valid())
	assert.Equal(t, 4, buf.Cylinders())
	assert.Equal(t, s.Cylinders[2].Angle, buf.Cyl(3, wire.SlotAngle))
	_, ok := buf.Shown(wire.SlotVolts)
	assert.False(t, ok)
	got, err := wire.Decode(buf)
	require.NoError(t, err)
	assert.True(t, math.IsNaN(got.Volts))
}

func TestEncodeRefusesWhatDoesNotFit(t *testing.T) {
	s := sample()
	assert.Zero(t, s.Encode(make([]float64, wire.Size(4)-1)))
	s.Cylinders = nil
	assert.Zero(t, s.Encode(make([]float64, 400)))
	s.Cylinders = make([]wire.Cylinder, wire.MaxCylinders+1)
	assert.Zero(t, s.Encode(make([]float64, 400)))
}

func TestDecodeNamesWhatIsWrong(t *testing.T) {
	good := func() []float64 {
		s := sample()
		b := make([]float64, wire.Size(4))
		s.Encode(b)
		return b
	}
	for _, c := range []struct {
		name string
		bad  func([]float64) []float64
		want string
	}{
		{"empty", func([]float64) []float64 { return nil }, "0 slots"},
		{"version", func(b []float64) []float64 { b[0] = 2; return b }, "version"},
		{"cut", func(b []float64) []float64 { return b[:len(b)-1] }, "4 cylinders in"},
		{"no number of cylinders", func(b []float64) []float64 { b[wire.SlotCylinders] = math.NaN(); return b }, "NaN cylinders"},
		{"gauged", func(b []float64) []float64 { b[wire.SlotGauged] = 1.5; return b }, "slot 10"},
		{"tick", func(b []float64) []float64 { b[wire.SlotTick] = math.Inf(1); return b }, "slot 1"},
		{"plug", func(b []float64) []float64 { b[wire.At(2, wire.SlotPlug)] = math.NaN(); return b }, "cylinder 2"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := wire.Decode(c.bad(good()))
			assert.ErrorContains(t, err, c.want)
		})
	}
}

func FuzzDecode(f *testing.F) {
	f.Add(4.0, 0.0, 3.0, 64)
	f.Add(math.NaN(), -1.0, 1e300, 200)
	f.Fuzz(func(t *testing.T, cylinders, gauged, plug float64, length int) {
		if length < 0 || length > 300 {
			return
		}
		b := make([]float64, length)
		put := func(i int, x float64) {
			if i < len(b) {
				b[i] = x
			}
		}
		put(0, wire.Version)
		put(wire.SlotCylinders, cylinders)
		put(wire.SlotGauged, gauged)
		put(wire.At(1, wire.SlotPlug), plug)
		s, err := wire.Decode(b)
		if err != nil {
			return
		}
		again := make([]float64, len(b))
		n := s.Encode(again)
		if n == 0 {
			t.Fatalf("decoded %d cylinders that cannot be encoded", len(s.Cylinders))
		}
		for i := range n {
			if b[i] != again[i] && !(i == wire.SlotCylinders || i >= wire.SlotLeakGasket+1 && i < wire.Head) {
				t.Fatalf("slot %d: %v came back as %v", i, b[i], again[i])
			}
		}
	})
}
