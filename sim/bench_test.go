package sim

import "testing"

// benchmark cranks without end and reports simulated seconds per second.
func benchmark(b *testing.B, e *Engine) {
	b.ReportAllocs()
	for b.Loop() {
		e.Step(Inputs{Starter: true})
	}
	b.ReportMetric(float64(b.N)/TicksPerSecond/b.Elapsed().Seconds(), "x-realtime")
}

func BenchmarkInlineFourDry(b *testing.B) {
	e := rig(b, Reference(), 1, PlugOut)
	e.SetPlug(1, PlugGauge)
	benchmark(b, e)
}

func BenchmarkInlineFourPlugsIn(b *testing.B) {
	e := rig(b, Reference(), 1, PlugIn)
	e.SetPlug(1, PlugGauge)
	benchmark(b, e)
}
