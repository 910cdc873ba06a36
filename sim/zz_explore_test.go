package sim

import (
	"fmt"
	"math"
	"testing"
)

type rd struct{ first, final, rpm, vmin float64 }

func psiOf(e *Engine) float64 { return (e.HosePressure() - e.p.Ambient) / 6894.757 }

func runCyl(e *Engine, cyl, strokes int, plugsIn bool) rd {
	for i := 1; i <= e.p.Cylinders; i++ {
		if !plugsIn {
			e.SetPlug(i, PlugOut)
		}
	}
	e.Stand(120)
	e.SetPlug(cyl, PlugGauge)
	e.Vent()
	e.SetAngle(e.p.Cylinder[cyl-1].FiringAngle - math.Pi)
	var r rd
	r.vmin = 99
	n, sum := 0, 0.0
	count := 0
	prev := e.CylinderAngle(cyl)
	t := 0
	for count < strokes && t < 1200*20 {
		e.Step(Inputs{Starter: true})
		t++
		a := e.CylinderAngle(cyl)
		if prev < math.Pi/2 && a >= math.Pi/2 {
			count++
			if count == 1 {
				r.first = psiOf(e)
			}
		}
		prev = a
		if t > 360 {
			sum += e.Speed()
			n++
			r.vmin = min(r.vmin, e.Voltage())
		}
	}
	for i := 0; i < 3000 && !e.AtRest(); i++ {
		e.Step(Inputs{})
	}
	for range 1200 {
		e.Step(Inputs{})
	}
	r.final = psiOf(e)
	r.rpm = sum / float64(n) * 60 / turn
	if plugsIn {
		e.SetPlug(cyl, PlugIn)
	}
	return r
}

func dry(p Params, throttle float64, plugsIn bool) []rd {
	e, err := New(p)
	if err != nil {
		panic(err)
	}
	e.SetThrottle(throttle)
	e.SetCoolant(p.CoolantTemperature)
	var out []rd
	for c := 1; c <= p.Cylinders; c++ {
		out = append(out, runCyl(e, c, 6, plugsIn))
	}
	return out
}

func wet(p Params, cyl int) rd {
	e, _ := New(p)
	e.SetThrottle(1)
	e.SetCoolant(p.CoolantTemperature)
	e.Stand(300)
	for i := 1; i <= e.p.Cylinders; i++ {
		e.SetPlug(i, PlugOut)
	}
	e.AddOil(cyl, 10e-6)
	return runCyl(e, cyl, 6, false)
}

func show(name string, r []rd) {
	fmt.Printf("%-28s", name)
	for _, x := range r {
		fmt.Printf(" %5.1f/%5.1f(%2.0f%%) %3.0f %4.2fV |", x.first, x.final, 100*x.first/x.final, x.rpm, x.vmin)
	}
	fmt.Println()
}

func TestExplore(t *testing.T) {
	p := Reference()
	show("sound", dry(p, 1, false))
	q := p
	q.Cylinder[2].ExhaustSeatArea = 2.5 * mm2
	show("burnt 2.5", dry(q, 1, false))
	w2, w3 := wet(q, 2), wet(q, 3)
	fmt.Printf("   wet healthy 2: %.1f  burnt 3: %.1f\n", w2.final, w3.final)
	q = p
	q.Cylinder[2].RingArea = 1.5 * mm2
	show("rings 1.5", dry(q, 1, false))
	fmt.Printf("   wet rings 3: %.1f\n", wet(q, 3).final)
	q = p
	q.Cylinder[1].GasketTo, q.Cylinder[1].GasketArea = 3, 4*mm2
	show("gasket", dry(q, 1, false))
	q = p
	for i := range 4 {
		q.Cylinder[i].IntakeShift = 18 * deg
		q.Cylinder[i].ExhaustShift = 18 * deg
	}
	show("late", dry(q, 1, false))
	q = p
	q.Battery.Charge, q.Battery.AgeFactor = 0.4, 2.5
	show("battery", dry(q, 1, false))
	show("throttle out", dry(p, 0, false))
	show("plugs in open", dry(p, 1, true))
	show("throttle in", dry(p, 0, true))
}

func BenchmarkInlineFourDry(b *testing.B) {
	p := Reference()
	e, _ := New(p)
	e.SetThrottle(1)
	for i := 1; i <= 4; i++ {
		e.SetPlug(i, PlugOut)
	}
	e.SetPlug(1, PlugGauge)
	b.ReportAllocs()
	for b.Loop() {
		e.Step(Inputs{Starter: true})
	}
	b.ReportMetric(float64(b.N)/TicksPerSecond/b.Elapsed().Seconds(), "x-realtime")
}
