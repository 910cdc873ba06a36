package num_test

import (
	"testing"

	"crankbay/sim/num"
)

var sink float64

func BenchmarkExp(b *testing.B) { run(b, func(x float64) float64 { return num.Exp(10 * x) }) }
func BenchmarkLog(b *testing.B) { run(b, num.Log) }
func BenchmarkPow(b *testing.B) { run(b, func(x float64) float64 { return num.Pow(x, 1/1.4) }) }
func BenchmarkSin(b *testing.B) { run(b, func(x float64) float64 { return num.Sin(12 * x) }) }
func BenchmarkCos(b *testing.B) { run(b, func(x float64) float64 { return num.Cos(12 * x) }) }

func run(b *testing.B, f func(float64) float64) {
	x := 0.5
	for b.Loop() {
		sink = f(x)
		if x += 1e-4; x > 1 {
			x = 0.5
		}
	}
}
