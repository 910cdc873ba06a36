package debrief

import (
	"errors"
	"fmt"
	"math"

	"crankbay/scenarios"
	"crankbay/scenarios/attempt"
	"crankbay/scenarios/book"
	"crankbay/sim/bench"
	"crankbay/sim/record"
)

// Ways out of a cylinder, in the order of Inside.Flows.
const (
	PathRings   = "rings"
	PathIntake  = "intake"
	PathExhaust = "exhaust"
	PathGasket  = "gasket" // to a neighbour
	PathCoolant = "coolant"
	PathOutside = "outside"
)

// Paths lists the ways out of a cylinder.
func Paths() []string {
	return []string{PathRings, PathIntake, PathExhaust, PathGasket, PathCoolant, PathOutside}
}

// Inside is one working cycle of one cylinder as the model has it, place by place of
// the crank, beside the same cycle of the same engine with nothing wrong with it.
type Inside struct {
	Cylinder int `json:"cylinder"`
	Run      int `json:"run"` // of the attempt, 0 by the book

	Ambient  float64     `json:"ambient_pa"`
	Deg      []float64   `json:"deg"`         // of the crank after compression TDC, rising
	Pressure []float64   `json:"pressure_pa"` // absolute
	Sound    []float64   `json:"sound_pa"`    // absolute, of the sound engine at the same place
	Travel   []float64   `json:"travel"`      // of the piston, 0 at the top, 1 at the bottom
	Intake   []float64   `json:"intake_mm"`   // valve lift
	Exhaust  []float64   `json:"exhaust_mm"`  // valve lift
	Flows    [][]float64 `json:"flows_g_s"`   // out of the cylinder, by path in the order of Paths
	Hose     []float64   `json:"hose_pa"`     // gauge

	Trapped float64 `json:"trapped_g"` // gas in the cylinder at the bottom before compression
	Losses  []Loss  `json:"losses"`    // by path, in the order of Paths
	LostDeg float64 `json:"lost_deg"`  // where half of what the sound engine keeps had gone
	Lost    bool    `json:"lost"`      // enough went to say where

	PeakPa      float64 `json:"peak_pa"` // gauge
	SoundPeakPa float64 `json:"sound_peak_pa"`
}

// Loss is what left the cylinder by one path between the bottom before compression
// and the top, less what came in, as a share of the gas at the bottom.
type Loss struct {
	Path  string  `json:"path"`
	Grams float64 `json:"grams"`
	Share float64 `json:"share"`       // of the gas at the bottom
	Sound float64 `json:"sound_share"` // the same of the sound engine
}

// ErrNoTurn says that the crank did not come over the top of a cylinder: liquid or a
// dead battery stopped it.
var ErrNoTurn = errors.New("the crank never came over the top of this cylinder")

// lostLeast is a share of the gas from which a loss is worth saying where.
const lostLeast = 0.01

// InsideOf looks into one cylinder while it is cranked: in a run of the attempt, or by
// the book when run is 0.
func InsideOf(v attempt.Report, cylinder, run int) (Inside, error) {
	s := v.Session.Scenario()
	if cylinder < 1 || cylinder > s.Engine.Cylinders {
		return Inside{}, fmt.Errorf("cylinder %d, want 1 to %d", cylinder, s.Engine.Cylinders)
	}
	faulty, sound, err := filmed(v, cylinder, run)
	if err != nil {
		return Inside{}, err
	}
	if len(faulty) == 0 {
		return Inside{}, ErrNoTurn
	}
	in := Inside{Cylinder: cylinder, Run: run, Ambient: s.Params().Ambient, Flows: make([][]float64, len(Paths()))}
	for _, f := range faulty {
		in.add(f)
	}
	for _, f := range faulty {
		in.Sound = append(in.Sound, to(0.1, pressureAt(sound, f.deg)))
	}
	in.PeakPa, in.SoundPeakPa = peak(faulty)-in.Ambient, peak(sound)-in.Ambient
	in.lose(faulty, sound)
	return in, nil
}

// filmed returns the last whole cycle of a cylinder in the engine as it is and in the
// sound one.
func filmed(v attempt.Report, cylinder, run int) (faulty, sound []frame, err error) {
	s := v.Session.Scenario()
	healthy := sounder(s)
	if run == 0 {
		if faulty, err = filmBook(s, cylinder); err == nil {
			sound, err = filmBook(healthy, cylinder)
		}
		return faulty, sound, err
	}
	rec := v.Session.Record()
	if run < 0 || run > len(rec.Runs) || rec.Runs[run-1].Cylinder != cylinder {
		return nil, nil, fmt.Errorf("run %d is not one on cylinder %d", run, cylinder)
	}
	seen := newFilm(cylinder)
	t, err := recordTape(v, seen.see)
	if err != nil {
		return nil, nil, err
	}
	faulty = seen.cycle(rec.Runs[run-1])
	twin := newFilm(cylinder)
	after, err := t.watched(healthy, t.edit(), twin.see)
	if err != nil {
		return nil, nil, err
	}
	if n := after.runs[run-1]; n > 0 {
		sound = twin.cycle(after.session.Record().Runs[n-1])
	}
	return faulty, sound, nil
}

// sounder returns the scenario with nothing wrong with its engine and tools.
func sounder(s *scenarios.Scenario) *scenarios.Scenario {
	healthy := *s
	healthy.Faults = nil
	return &healthy
}

// filmBook films the dry test by the book.
func filmBook(s *scenarios.Scenario, cylinder int) ([]frame, error) {
	r, err := book.Run(s, book.Options{Kind: book.Dry, ByCard: true})
	if err != nil {
		return nil, err
	}
	b, err := bench.New(s.Setup())
	if err != nil {
		return nil, err
	}
	film := newFilm(cylinder)
	b.Tap(func() { film.see(b) })
	for _, a := range r.Log {
		if err := b.AdvanceTo(a.Tick); err != nil {
			return nil, err
		}
		if err := b.Do(a); err != nil {
			return nil, err
		}
	}
	for _, run := range b.Record().Runs {
		if run.Cylinder == cylinder {
			return film.cycle(run), nil
		}
	}
	return nil, nil
}

// to rounds to so many parts of a unit, so that JSON has few digits.
func to(parts, v float64) float64 { return math.Floor(float64(v*parts)+0.5) / parts }

// add puts a frame into the columns, rounded to what can be drawn.
func (in *Inside) add(f frame) {
	in.Deg = append(in.Deg, to(100, f.deg))
	in.Pressure = append(in.Pressure, to(0.1, f.pressure))
	in.Travel = append(in.Travel, to(10000, f.travel))
	in.Intake = append(in.Intake, to(1000, f.intake*1e3))
	in.Exhaust = append(in.Exhaust, to(1000, f.exhaust*1e3))
	in.Hose = append(in.Hose, to(0.1, f.hose-in.Ambient))
	for k, flow := range f.flows {
		in.Flows[k] = append(in.Flows[k], to(1000, flow*1e3))
	}
}

// pressureAt returns the pressure of a film at a place of the crank.
func pressureAt(frames []frame, deg float64) float64 {
	if len(frames) == 0 {
		return 0
	}
	for i := 1; i < len(frames); i++ {
		if a, b := frames[i-1], frames[i]; b.deg >= deg && b.deg > a.deg {
			share := min(max((deg-a.deg)/(b.deg-a.deg), 0), 1)
			return a.pressure + float64(share*(b.pressure-a.pressure))
		}
	}
	return frames[len(frames)-1].pressure
}

func peak(frames []frame) float64 {
	p := 0.0
	for _, f := range frames {
		p = max(p, f.pressure)
	}
	return p
}

// gone returns what had left by each path from the bottom before compression up to a
// place of the crank [kg], and the gas there was at the bottom.
func gone(frames []frame, until float64) (by [6]float64, trapped float64) {
	for _, f := range frames {
		if f.deg < -180 || f.deg > until {
			continue
		}
		if trapped == 0 {
			trapped = f.mass
		}
		for k, flow := range f.flows {
			by[k] += flow / record.TicksPerSecond
		}
	}
	return by, trapped
}

// lose fills in what was lost by which path and where.
func (in *Inside) lose(faulty, sound []frame) {
	by, trapped := gone(faulty, 0)
	twin, held := gone(sound, 0)
	in.Trapped = trapped * 1e3
	in.Losses = []Loss{}
	for k, path := range Paths() {
		l := Loss{Path: path, Grams: by[k] * 1e3}
		if trapped > 0 {
			l.Share = by[k] / trapped
		}
		if held > 0 {
			l.Sound = twin[k] / held
		}
		in.Losses = append(in.Losses, l)
	}
	in.LostDeg, in.Lost = lostAt(faulty, sound, trapped)
}

// lostAt returns where half of what went beyond the sound engine's loss had gone.
func lostAt(faulty, sound []frame, trapped float64) (float64, bool) {
	beyond := func(deg float64) float64 {
		a, _ := gone(faulty, deg)
		b, _ := gone(sound, deg)
		sum := 0.0
		for k := range a {
			sum += a[k] - b[k]
		}
		return sum
	}
	all := beyond(0)
	if trapped <= 0 || all < lostLeast*trapped {
		return 0, false
	}
	for _, f := range faulty {
		if f.deg >= -180 && f.deg <= 0 && beyond(f.deg) >= all/2 {
			return to(1, f.deg), true
		}
	}
	return 0, true
}
