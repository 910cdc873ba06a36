package population

import (
	"math"

	"crankbay/diagnose/library"
	"crankbay/scenarios"
	"crankbay/scenarios/book"
	"crankbay/sim/bench"
	"crankbay/sim/record"
	"crankbay/sim/unit"
)

// Tests is what all tests of one engine show. Pressures are psi gauge; what could not
// be measured is NaN.
type Tests struct {
	Dry, First, Wet []float64
	Repeat          []float64 // dry, taken again
	Second          []float64 // dry, by another gauge
	RPM, Volts      float64
	Leakage         []float64 // share of the supply
	Air             [][]float64
	Hump            []float64 // of the mean
	Idle, Snap      []float64
	Vacuum          float64 // kPa
	Ambient         float64 // kPa
	Bore            []int
	LashIn, LashEx  []float64 // mm off
	Pull            []float64 // by power balance: how far the idle falls without it, of its speed
	Cooling         []bool    // cylinder leaks into the coolant enough for a cooling test
	Late            []float64 // by bank, intake cam [degrees of crank]
}

// Measure does every test by the book. asRead gives what a person reads off the
// instruments; wet tells whether oil is tried too.
func Measure(s *scenarios.Scenario, asRead bool) (Tests, error) {
	n := s.Engine.Cylinders
	t := Tests{Vacuum: math.NaN(), Dry: none(n), First: none(n), Wet: none(n), Hump: none(n), Idle: none(n), Snap: none(n), Leakage: none(n), Pull: none(n)}
	kind := book.Wet
	if s.Card.OilML == 0 {
		kind = book.Dry
	}
	r, err := book.Run(s, book.Options{Kind: kind, AsRead: asRead})
	if err != nil {
		return t, err
	}
	dry := r.Readings
	if kind == book.Wet {
		dry = r.Dry
		for _, x := range r.Readings {
			t.Wet[x.Cylinder-1] = x.FinalPSI
		}
	}
	for _, x := range dry {
		t.Dry[x.Cylinder-1], t.First[x.Cylinder-1] = x.FinalPSI, x.FirstPSI
		t.RPM += x.RPM / float64(n)
		if t.Volts == 0 || x.BatteryMinV < t.Volts {
			t.Volts = x.BatteryMinV
		}
	}
	t.Ambient, _ = s.Air()
	t.Repeat = append([]float64(nil), t.Dry...)
	if t.Second, err = second(s, t.Dry, asRead); err != nil {
		return t, err
	}
	if err := t.confirm(s, asRead); err != nil {
		return t, err
	}
	t.look(s)
	return t, t.balance(s)
}

// balance takes the cylinders away one by one while the engine idles, before anything
// comes off. An engine that does not run shows nothing.
func (t *Tests) balance(s *scenarios.Scenario) error {
	b, err := bench.New(s.Setup())
	if err != nil {
		return err
	}
	if err := b.Do(record.Action{Kind: bench.KindPowerBalance}); err != nil {
		return nil // it refused to run
	}
	if list := b.Record().Balances; len(list) > 0 {
		for i, rpm := range list[0].Without {
			t.Pull[i] = (list[0].RPM - rpm) / list[0].RPM
		}
	}
	return nil
}

// second tests the engine again with tools that nothing is wrong with. Where nothing
// was, that is the same reading.
func second(s *scenarios.Scenario, dry []float64, asRead bool) ([]float64, error) {
	c := *s
	c.Faults = nil
	for _, f := range s.Faults {
		if f.Tool == "" {
			c.Faults = append(c.Faults, f)
		}
	}
	again := append([]float64(nil), dry...)
	if len(c.Faults) == len(s.Faults) {
		return again, nil
	}
	r, err := book.Run(&c, book.Options{Kind: book.Dry, AsRead: asRead})
	if err != nil {
		return nil, err
	}
	for _, x := range r.Readings {
		again[x.Cylinder-1] = x.FinalPSI
	}
	return again, nil
}

func none(n int) []float64 {
	v := make([]float64, n)
	for i := range v {
		v[i] = math.NaN()
	}
	return v
}

// airOrder is the order of the places in package library, from Throttle on.
var airOrder = []string{
	book.AirIntake, book.AirExhaust, book.AirCrankcase, book.AirNeighbour, book.AirCoolant, book.AirOutside,
}

// confirm does leakage, current, running and vacuum tests.
func (t *Tests) confirm(s *scenarios.Scenario, asRead bool) error {
	leak, err := book.Leakage(s, book.LeakageOptions{AsRead: asRead})
	if err != nil {
		return err
	}
	for i, l := range leak.Cylinders {
		t.Leakage[i] = l.Percent / 100
		shares := make([]float64, len(airOrder))
		for _, a := range l.Air {
			for k, path := range airOrder {
				if a.Path == path {
					shares[k] += a.SharePercent / 100
				}
			}
		}
		t.Air = append(t.Air, shares)
	}
	current, err := book.Current(s, asRead, nil)
	if err != nil {
		return err
	}
	if !current.Stalled && !current.Hydrolocked && current.MeanHeightA > 5 {
		for _, h := range current.Humps {
			t.Hump[h.Cylinder-1] = h.Percent / 100
		}
	}
	running, err := book.RunningTest(s, asRead, nil)
	if err != nil {
		return err
	}
	if !running.Hydrolocked {
		for i, c := range running.Cylinders {
			t.Idle[i], t.Snap[i] = c.IdlePSI, c.SnapPSI
		}
	}
	vacuum, err := book.Vacuum(s, asRead, nil)
	if err != nil {
		return err
	}
	if !vacuum.Hydrolocked {
		t.Vacuum = vacuum.MeanKPa
	}
	return nil
}

// look notes what is seen rather than measured by gas: what a borescope finds, valve
// clearances, whether the cooling system falls, how far the cams are off.
func (t *Tests) look(s *scenarios.Scenario) {
	const (
		liquidML   = 0.5  // as the bench sees a puddle,
		carbonMM   = 0.25 // a coat all over,
		coolantMM2 = 0.01 // and a fall on the dial
		mm, mm2    = 1e3, 1e6
	)
	p := s.Params()
	n := s.Engine.Cylinders
	t.Bore, t.LashIn, t.LashEx, t.Cooling = make([]int, n), make([]float64, n), make([]float64, n), make([]bool, n)
	t.Late = make([]float64, len(s.Engine.Banks))
	bore := math.Pi / 4 * s.Engine.BoreMM * s.Engine.BoreMM
	for i := range n {
		c := p.Cylinder[i]
		switch {
		case c.Liquid*1e6 > liquidML:
			t.Bore[i] = library.BoreLiquid
		case c.Deposit*1e9/bore > carbonMM:
			t.Bore[i] = library.BoreCarbon
		}
		t.LashIn[i], t.LashEx[i] = c.IntakeLash*mm, c.ExhaustLash*mm
		t.Cooling[i] = c.CoolantArea*mm2 >= coolantMM2
		late := unit.Angle(c.IntakeShift).Degrees()
		if x := unit.Angle(c.ExhaustShift).Degrees(); math.Abs(x) > math.Abs(late) {
			late = x
		}
		t.Late[c.Bank] = late
	}
	for _, f := range s.Faults {
		switch {
		case f.Kind == scenarios.HoledPiston:
			t.Bore[f.Cylinder-1] = library.BoreHole
		case f.Kind == scenarios.ScoredBore:
			t.Bore[f.Cylinder-1] = library.BoreScored
		}
	}
}
