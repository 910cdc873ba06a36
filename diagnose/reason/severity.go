package reason

import (
	"crankbay/diagnose/library"
	"crankbay/sim/num"
)

// A severity says how bad a fault of one family is when somebody comes to measure it: the
// shares of the cases that read, of their healthy neighbours (a whole engine: of its
// design), under 8 %, to 35, 60, 78, 90 and 105 %, and over that. The examples of the library cover the whole range evenly on a
// logarithmic scale of leaks, so that none is missing; how often each is met is another
// matter, and readings in the field are weighed by it.
//
// Common practice, no source. What burns or bends leaks a lot soon after it leaks at all,
// so that few valves are caught early; rings and bores wear for years and hold something
// to the end; a gasket between two cylinders is seldom found before it is felt. A throttle
// that was shut, or a gauge that leaks, is asked about where it shows.
type severity [7]float64

var bandEdges = [6]float64{0.08, 0.35, 0.60, 0.78, 0.90, 1.05}

// severityOf returns the severities of a family; ok is false where the examples stand for
// themselves.
func severityOf(family string) (s severity, ok bool) {
	switch family {
	case ExhaustLeak, CarbonFlake:
		return severity{0.14, 0.30, 0.26, 0.16, 0.10, 0.04, 0}, true
	case IntakeLeak:
		return severity{0.12, 0.26, 0.26, 0.19, 0.12, 0.05, 0}, true
	case ValveHeldOpen:
		return severity{0.50, 0.26, 0.14, 0.07, 0.02, 0.01, 0}, true
	case TightLash:
		return severity{0.30, 0.25, 0.20, 0.12, 0.08, 0.05, 0}, true
	case IntakeDead:
		return severity{0.18, 0.30, 0.22, 0.10, 0.05, 0.15, 0}, true
	case ExhaustDead:
		return severity{0, 0, 0, 0, 0.03, 0.82, 0.15}, true
	case WornRings:
		return severity{0.01, 0.06, 0.22, 0.34, 0.28, 0.09, 0}, true
	case BrokenLand:
		return severity{0.05, 0.12, 0.20, 0.26, 0.27, 0.10, 0}, true
	case ScoredBore:
		return severity{0.02, 0.10, 0.28, 0.32, 0.22, 0.06, 0}, true
	case HoledPiston:
		return severity{0.50, 0.28, 0.15, 0.05, 0.02, 0, 0}, true
	case WashedBore:
		return severity{0.04, 0.14, 0.25, 0.27, 0.20, 0.10, 0}, true
	case GasketCoolant, GasketOutside:
		return severity{0.01, 0.08, 0.15, 0.22, 0.24, 0.30, 0}, true
	case GasketBetween:
		return severity{0.08, 0.40, 0.32, 0.12, 0.06, 0.02, 0}, true
	case OneOff:
		return severity{0.08, 0.08, 0.14, 0.24, 0.34, 0.04, 0.08}, true
	case BankTiming:
		return severity{0.25, 0.15, 0.15, 0.20, 0.15, 0.02, 0.08}, true
	case BankLash:
		return severity{0.30, 0.20, 0.20, 0.15, 0.10, 0.05, 0}, true
	case ThrottleShut:
		return severity{0, 0.02, 0.18, 0.40, 0.32, 0.08, 0}, true
	case PlugsIn, FewStrokes, SlowCranking:
		return severity{0, 0.05, 0.22, 0.35, 0.25, 0.13, 0}, true
	case GaugeLeaks:
		return severity{0.22, 0.15, 0.22, 0.23, 0.12, 0.06, 0}, true
	case GaugeShifted:
		return severity{0, 0, 0, 0.20, 0.30, 0.20, 0.30}, true
	case TimingLate:
		return severity{0.03, 0.12, 0.25, 0.35, 0.20, 0.05, 0}, true
	case RingsAll:
		return severity{0, 0.10, 0.34, 0.34, 0.17, 0.05, 0}, true
	case BoresDry:
		return severity{0.05, 0.25, 0.35, 0.20, 0.10, 0.05, 0}, true
	case ValvesAll:
		return severity{0.01, 0.06, 0.15, 0.26, 0.32, 0.20, 0}, true
	case LashAll:
		return severity{0.20, 0.25, 0.25, 0.15, 0.10, 0.05, 0}, true
	}
	return s, false
}

// leastMet and mostMet bound the weight of an example: the few of a rare band bring along
// whatever else they happen to show.
const leastMet, mostMet = 0.1, 3

// weightsOf says how often each example of a family is met, on average 1: on this bench
// as often as any other. Examples of a pair go by the first half of the row, those of one
// band alike.
func weightsOf(k *kind, rough bool) []float64 {
	w := make([]float64, len(k.rows))
	s, ok := severityOf(k.Name)
	if !ok || !rough {
		for i := range w {
			w[i] = 1
		}
		return w
	}
	var count [len(s)]float64
	band := make([]int, len(w))
	for i, row := range k.rows {
		share := row[library.Dry]
		if k.Scope == ScopeEngine {
			share = num.Exp(row[library.Level])
		}
		for band[i] < len(bandEdges) && share >= bandEdges[band[i]] {
			band[i]++
		}
		count[band[i]]++
	}
	total := 0.0 // of the bands that have an example
	for b := range s {
		if count[b] > 0 {
			total += s[b]
		}
	}
	if total == 0 { // none is as the family is met: one is as good as another
		total = 1
	}
	n := float64(len(w))
	sum := 0.0
	for i := range w {
		w[i] = max(leastMet, min(float64(s[band[i]]/total)*n/count[band[i]], mostMet))
		sum += w[i]
	}
	for i := range w {
		w[i] *= n / sum
	}
	return w
}
