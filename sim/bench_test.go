package sim

import "testing"

// realtime steps without end and reports simulated seconds per second.
func realtime(b *testing.B, e *Engine, in Inputs) {
	b.ReportAllocs()
	for b.Loop() {
		e.Step(in)
	}
	b.ReportMetric(float64(b.N)/TicksPerSecond/b.Elapsed().Seconds(), "x-realtime")
}

// gauged puts the gauge on cylinder 1; what the other holes hold is said.
func gauged(b *testing.B, p Params, others PlugState) *Engine {
	e := rig(b, p, 1, others)
	e.SetPlug(1, PlugGauge)
	return e
}

func BenchmarkInlineFourDry(b *testing.B) {
	realtime(b, gauged(b, Reference(), PlugOut), Inputs{Starter: true})
}

func BenchmarkPlugsIn(b *testing.B) {
	realtime(b, gauged(b, Reference(), PlugIn), Inputs{Starter: true})
}

// eight is the reference with four more cylinders, fired 90° apart, and what
// they need of everything.
func eight() Params {
	p := Reference()
	p.Cylinders = 8
	p.PlenumVolume, p.ThrottleArea, p.IdleArea = 2*p.PlenumVolume, 2*p.ThrottleArea, 2*p.IdleArea
	p.Crank.Inertia, p.Battery.CCA = 0.35, 800
	for i, c := range [8]int{1, 8, 4, 3, 6, 5, 7, 2} {
		p.Cylinder[c-1] = SoundCylinder(float64(i) * 90 * deg)
	}
	return p
}

func BenchmarkV8Dry(b *testing.B) {
	realtime(b, gauged(b, eight(), PlugOut), Inputs{Starter: true})
}

func BenchmarkV8PlugsIn(b *testing.B) {
	realtime(b, gauged(b, eight(), PlugIn), Inputs{Starter: true})
}

// Air on a cylinder at TDC, the others open, the crank at rest.
func BenchmarkLeakageTest(b *testing.B) {
	e := rig(b, Reference(), 1, PlugOut)
	e.SetAngle(0)
	e.SetAir(550e3, testerArea)
	e.SetPlug(1, PlugAir)
	realtime(b, e, Inputs{})
}

// The gauge on one cylinder while the others hold the crank at idle, 745 rpm.
func BenchmarkRunning(b *testing.B) {
	realtime(b, gauged(b, Reference(), PlugIn), Inputs{Driven: 78})
}
