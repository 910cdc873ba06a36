package debrief

import (
	"math"
	"slices"

	"crankbay/diagnose"
	"crankbay/scenarios"
	"crankbay/sim/num"
)

// A Rival is another thing that could be wrong and gives the same dry readings.
type Rival struct {
	Family string            `json:"family"`
	Faults []scenarios.Fault `json:"faults"`
}

// Shapes of the dry readings a plan starts from.
const (
	ShapeNone = "none" // nothing stands out
	ShapeLow  = "low"  // some cylinders are low
	ShapeHigh = "high" // some are high
	ShapeAll  = "all"  // all are low, or all high
)

// shapes is what the dry test by the card shows of an engine, as its dial shows it,
// beside what the sound engine shows on the same day.
type shapes struct {
	shape    string
	suspects []int
	readings []dryness // of the suspects
	target   []float64 // what the dial shows on the suspects [psi]
}

// offShare is how far from the sound engine's reading one stands out; evenShare how
// far the readings of an even engine lie apart.
const offShare, evenShare = 0.08, 0.12

// shapeOf compares an engine with the sound one.
func (p *prober) shapeOf() (shapes, error) {
	var all []int
	for c := 1; c <= p.s.Engine.Cylinders; c++ {
		all = append(all, c)
	}
	real, err := p.dry(p.s, all)
	if err != nil {
		return shapes{}, err
	}
	sound, err := p.dry(sounder(p.s), all)
	if err != nil {
		return shapes{}, err
	}
	var low, high []int
	lo, hi := math.Inf(1), 0.0
	for i := range all {
		share := real[i].needle / math.Max(sound[i].needle, 1)
		lo, hi = min(lo, share), max(hi, share)
		if share < 1-offShare {
			low = append(low, i+1)
		} else if share > 1+offShare {
			high = append(high, i+1)
		}
	}
	x := shapes{shape: ShapeNone, suspects: all}
	switch n := len(all); {
	case n > 1 && (len(low) == n || len(high) == n) && lo > hi*(1-evenShare):
		x.shape = ShapeAll
	case len(low) > 0:
		x.shape, x.suspects = ShapeLow, low
	case len(high) > 0:
		x.shape, x.suspects = ShapeHigh, high
	}
	if x.shape == ShapeNone {
		x.suspects = p.quiet()
	}
	p.suspects = x.suspects
	for _, c := range x.suspects {
		x.readings = append(x.readings, real[c-1])
		x.target = append(x.target, real[c-1].needle)
	}
	return x, nil
}

// A maker makes a fault of a cylinder (0: of all, or of the engine) from how bad it
// is, 0 not at all and 1 as bad as a file can say.
type maker struct {
	family string
	each   bool // one for each suspect, scaled by itself
	make   func(cylinder int, bad float64) scenarios.Fault
	likely func(scenarios.Fault) bool // as bad as it would have to be, it is seen in shops; nil for always
}

// What rings, lands and a gasket's path to the coolant let past at most, Cd·A [mm²], and
// a hole that is more than a crack [mm]: twenty-five times what a sound ring pack passes
// (judgement). A cylinder that holds nothing at all is a valve held open, a hole, or one
// that draws nothing in, but not rings.
const mostPast, leastHole = 8.0, 3.0

func passable(f scenarios.Fault) bool { return f.AreaMM2 <= mostPast }

// area turns a badness into an effective area [mm²], by decades so that small leaks
// are met as well as large ones: 0.01 … 60.
func area(bad float64) float64 { return 0.01 * num.Pow(6000, bad) }

func ofCylinder(family, kind string) maker {
	return maker{family, true, func(c int, bad float64) scenarios.Fault {
		return scenarios.Fault{Kind: kind, Cylinder: c, AreaMM2: area(bad)}
	}, nil}
}

func (m maker) only(likely func(scenarios.Fault) bool) maker {
	m.likely = likely
	return m
}

// lowMakers are what makes single cylinders low.
func lowMakers(s *scenarios.Scenario, suspects []int) []maker {
	list := []maker{
		ofCylinder(diagnose.FamilyValveLeak, scenarios.ExhaustSeatLeak),
		ofCylinder(diagnose.FamilyValveLeak, scenarios.IntakeSeatLeak),
		ofCylinder(diagnose.FamilyRingOrBore, scenarios.WornRings).only(passable),
	}
	if len(suspects) <= 2 { // on more cylinders at once nobody has seen these
		list = append(list,
			ofCylinder(diagnose.FamilyRingOrBore, scenarios.BrokenLand).only(passable),
			ofCylinder(diagnose.FamilyHeadGasket, scenarios.GasketToCoolant).only(passable),
			maker{diagnose.FamilyRingOrBore, true, func(c int, bad float64) scenarios.Fault {
				return scenarios.Fault{Kind: scenarios.HoledPiston, Cylinder: c, DiameterMM: 25 * bad * bad}
			}, func(f scenarios.Fault) bool { return f.DiameterMM >= leastHole }})
	}
	if len(suspects) == 1 {
		list = append(list,
			maker{diagnose.FamilyValveNotOpening, true, func(c int, bad float64) scenarios.Fault {
				return scenarios.Fault{Kind: scenarios.IntakeLift, Cylinder: c, Share: 1 - bad}
			}, nil})
	}
	if s.Card.LashCheck {
		list = append(list, maker{diagnose.FamilyTightLash, true, func(c int, bad float64) scenarios.Fault {
			return scenarios.Fault{Kind: scenarios.ExhaustLash, Cylinder: c, LashMM: -1.5 * bad}
		}, nil})
	}
	if len(suspects) == 2 && slices.Contains(neighbours(s.Engine, suspects[0]), suspects[1]) {
		pair := slices.Clone(suspects)
		list = append(list, maker{diagnose.FamilyHeadGasket, false, func(_ int, bad float64) scenarios.Fault {
			return scenarios.Fault{Kind: scenarios.GasketBetween, Cylinders: pair, AreaMM2: area(bad)}
		}, nil})
	}
	for i, bank := range s.Engine.Banks {
		if len(s.Engine.Banks) > 1 && len(bank) == len(suspects) && slices.Contains(bank, suspects[0]) {
			list = append(list, cam(i+1, 60))
		}
	}
	return list
}

// cam makes the intake cams of a bank (0: all) late, or early when most is negative.
func cam(bank int, most float64) maker {
	return maker{diagnose.FamilyValveTiming, false, func(_ int, bad float64) scenarios.Fault {
		return scenarios.Fault{Kind: scenarios.StuckPhaser, Cam: "intake", Bank: bank, DegLate: most * bad}
	}, nil}
}

// allMakers are what makes a whole engine read low, or high.
func allMakers(s *scenarios.Scenario, low bool) []maker {
	gauge := s.Tools.Gauges[0].ID
	span := func(most float64) maker {
		return maker{diagnose.FamilyMethodOrGauge, false, func(_ int, bad float64) scenarios.Fault {
			return scenarios.Fault{Kind: scenarios.SpanError, Tool: gauge, ErrorPercent: most * bad}
		}, nil}
	}
	if !low {
		return []maker{cam(0, -60), span(20), {diagnose.FamilyCarbonOrLiquid, false, func(_ int, bad float64) scenarios.Fault {
			return scenarios.Fault{Kind: scenarios.Carbon, VolumeML: 60 * bad}
		}, nil}}
	}
	return []maker{
		cam(0, 60), span(-20),
		{diagnose.FamilyRingOrBore, false, func(_ int, bad float64) scenarios.Fault {
			return scenarios.Fault{Kind: scenarios.WornRings, AreaMM2: area(bad)}
		}, nil},
		{diagnose.FamilyWashedOrDry, false, func(_ int, bad float64) scenarios.Fault {
			return scenarios.Fault{Kind: scenarios.WashedBore, Share: bad}
		}, nil},
		{diagnose.FamilySlowCranking, false, func(_ int, bad float64) scenarios.Fault {
			return scenarios.Fault{Kind: scenarios.CableResistance, ResistanceMOhm: 190 * bad}
		}, nil},
	}
}

func highMakers() []maker {
	return []maker{
		{diagnose.FamilyCarbonOrLiquid, true, func(c int, bad float64) scenarios.Fault {
			return scenarios.Fault{Kind: scenarios.Carbon, Cylinder: c, VolumeML: 60 * bad}
		}, nil},
		{diagnose.FamilyCarbonOrLiquid, true, func(c int, bad float64) scenarios.Fault {
			return scenarios.Fault{Kind: scenarios.Liquid, Cylinder: c, VolumeML: 60 * bad}
		}, nil},
	}
}

// same is how near a rival has to come to a reading for a dial to show no more than the
// same [psi]: half a division of a usual gauge, and a thirtieth of the reading up to 4 psi.
// A cylinder that holds nothing is not one that holds a little.
func same(reading float64) float64 { return min(4, max(1.25, reading/30)) }

// rivals returns everything that could be wrong and reads the same, each scaled to
// the readings of the suspects. An engine that reads as it should is its own rival,
// beside what no cranking test with a gauge finds.
func (p *prober) rivals(x shapes, tell func()) ([]Rival, error) {
	var makers []maker
	switch x.shape {
	case ShapeNone:
		return p.quietRivals(), nil
	case ShapeLow:
		makers = lowMakers(p.s, x.suspects)
	case ShapeHigh:
		makers = highMakers()
	case ShapeAll:
		sound, err := p.dry(sounder(p.s), x.suspects)
		if err != nil {
			return nil, err
		}
		makers = allMakers(p.s, needleMean(x.readings) < needleMean(sound))
	}
	var out []Rival
	for _, m := range makers {
		tell()
		faults, ok, err := p.scale(m, x)
		if err != nil {
			return nil, err
		}
		if ok {
			out = append(out, Rival{m.family, faults})
		}
	}
	return out, nil
}

// quietRivals read normal while cranking. Where compression has passed and the answer
// is no more than that, there is nothing to be told apart.
func (p *prober) quietRivals() []Rival {
	dead := Rival{diagnose.FamilyValveNotOpening, []scenarios.Fault{{Kind: scenarios.ExhaustLift, Cylinder: p.quiet()[0], Share: 0}}}
	switch p.s.Key.Family {
	case diagnose.FamilyNotCompression:
		if len(p.s.Faults) > 0 { // something of the engine, which a good reading doesn't find
			return []Rival{{diagnose.FamilySound, []scenarios.Fault{}}, dead}
		}
		return []Rival{dead}
	case diagnose.FamilyValveNotOpening:
		return []Rival{
			{diagnose.FamilySound, []scenarios.Fault{}},
			{diagnose.FamilyNotCompression, []scenarios.Fault{{Kind: scenarios.RestrictedExhaust, AreaMM2: 60}}},
		}
	}
	return []Rival{}
}

// quiet returns the cylinders to look at when no reading stands out: those that the
// answer names, else the first.
func (p *prober) quiet() []int {
	if len(p.s.Key.Cylinders) > 0 {
		return p.s.Key.Cylinders
	}
	return []int{1}
}

// halvings is how often the interval of a badness is halved: to a thousandth.
const halvings = 10

// scale finds how bad a fault has to be for the dial to show the same on every
// suspect; false when it can't.
func (p *prober) scale(m maker, x shapes) ([]scenarios.Fault, bool, error) {
	if !m.each {
		f, ok, err := p.meet(m, 0, x.suspects, mean(x.target[:min(len(x.target), meetOn)]))
		return []scenarios.Fault{f}, ok, err
	}
	var out []scenarios.Fault
	for i, c := range x.suspects {
		f, ok, err := p.meet(m, c, []int{c}, x.target[i])
		if err != nil || !ok {
			return nil, false, err
		}
		out = append(out, f)
	}
	return out, true, nil
}

// meetOn is how many cylinders a fault of more than one is met on.
const meetOn = 2

func mean(list []float64) float64 {
	sum := 0.0
	for _, v := range list {
		sum += v
	}
	return sum / math.Max(1, float64(len(list)))
}

// meet halves the interval of a badness until the mean of some cylinders meets a
// reading [psi].
func (p *prober) meet(m maker, cylinder int, on []int, target float64) (scenarios.Fault, bool, error) {
	on = on[:min(len(on), meetOn)]
	at := func(bad float64) (float64, error) {
		d, err := p.dry(p.with([]scenarios.Fault{m.make(cylinder, bad)}), on)
		return needleMean(d), err
	}
	lo, hi := 0.0, 1.0
	a, err := at(lo)
	if err != nil {
		return scenarios.Fault{}, false, err
	}
	b, err := at(hi)
	for range halvings { // some engines take less of it than a file can say
		if err == nil {
			break
		}
		hi *= 0.8
		b, err = at(hi)
	}
	if err != nil {
		return scenarios.Fault{}, false, nil
	}
	rising := b > a
	bad, got := hi, b
	for range halvings {
		if math.Abs(got-target) < same(target)/2 {
			break
		}
		bad = (lo + hi) / 2
		if got, err = at(bad); err != nil {
			return scenarios.Fault{}, false, err
		}
		if (got < target) == rising {
			lo = bad
		} else {
			hi = bad
		}
	}
	f := m.make(cylinder, bad)
	return f, math.Abs(got-target) < same(target) && (m.likely == nil || m.likely(f)), nil
}
