package diagnose

import (
	"crankbay/sim/record"
	"crankbay/sim/unit"
)

// A shop makes a record and a job sheet by hand, in psi, the way a person would
// do the work. Nothing in it knows an engine.
type shop struct {
	in      Input
	tick    int64
	minutes float64
	oil     [maxCylinders + 1]float64
	rpm     float64
	volts   float64
	coolant float64
}

// bank4 and the others are the engines of the tests.
var (
	bank4  = [][]int{{1, 2, 3, 4}}
	banks6 = [][]int{{1, 3, 5}, {2, 4, 6}}
	banks8 = [][]int{{1, 3, 5, 7}, {2, 4, 6, 8}}
)

// testCard is an invented card: standard 1300 kPa, at least 980, 200 apart.
func testCard() Card {
	c := DefaultCard()
	c.Charger = true
	c.Limits = Limits{Standard: 1300e3, Minimum: 980e3, DifferenceMax: 200e3, Rule: RuleRatio75, RatioMin: 0.75}
	c.Items = []string{"glasses", "spec", "fuel", "plugs_back"}
	return c
}

func newShop(banks [][]int) *shop {
	n := 0
	for _, b := range banks {
		n += len(b)
	}
	return &shop{
		in:  Input{Card: testCard(), Banks: banks, Cylinders: n, Mode: "grade", Key: Key{Family: FamilySound}},
		rpm: 260, volts: 10.4, coolant: 88,
	}
}

// do notes an event at the present moment.
func (s *shop) do(kind, choice string, cylinder int, number float64) {
	s.in.Record.Events = append(s.in.Record.Events, record.Event{
		Tick: s.tick, Minutes: s.minutes, Kind: kind, Choice: choice, Cylinder: cylinder, Number: number,
	})
	s.minutes++
}

// prepare does everything the card asks before the crank turns.
func (s *shop) prepare() {
	for _, a := range [][2]string{
		{"glasses", "on"}, {"gear", "park"}, {"brake", "on"}, {"chocks", "on"}, {"belts-check", ""}, {"fluids-check", ""},
		{"spec-look-up", "page-1"}, {"warm-up", ""}, {"fuel", "disabled"}, {"ignition", "disabled"}, {"charger", "on"},
		{"wells-blow", ""},
	} {
		s.do(a[0], a[1], 0, 0)
	}
	for n := 1; n <= s.in.Cylinders; n++ {
		s.do("plug-out", "ordered", n, 0)
	}
	for _, a := range [][2]string{
		{"adapter", "right"}, {"gauge", "a"}, {"gauge-prove", ""}, {"throttle", "open"}, {"switch", "remote"},
		{"voltmeter", "on"}, {"tachometer", "on"},
	} {
		s.do(a[0], a[1], 0, 0)
	}
	s.write(FieldSpecStandard, 0, 1300e3)
	s.write(FieldSpecMinimum, 0, 980e3)
	s.write(FieldSpecDifference, 0, 200e3)
}

// climb makes n strokes from the first reading to the last [psi].
func climb(tick int64, n int, first, last float64) []record.Stroke {
	out := make([]record.Stroke, n)
	for i := range out {
		v := last
		if i == 0 {
			v = first
		} else if i < n-1 {
			v = last - (last-first)/float64(1+2*i)
		}
		p := v * unit.PascalPerPSI
		out[i] = record.Stroke{Tick: tick + int64(i)*500, Shown: p, Full: true, Needle: p, True: p}
	}
	return out
}

// run cranks one cylinder; change alters the run before it is put on record.
func (s *shop) run(cylinder int, first, last float64, change ...func(*record.Run)) {
	s.do("hose-on", "", cylinder, 0)
	s.do("starter", "on", 0, 0)
	r := record.Run{
		ID: len(s.in.Record.Runs) + 1, StartTick: s.tick, EndTick: s.tick + 3600, Minutes: s.minutes, Cylinder: cylinder,
		Strokes: climb(s.tick, 6, first, last), ThrottleOpen: true, PlugsOut: s.in.Cylinders, OilML: s.oil[cylinder],
		CoolantC: s.coolant, GaugeAtZero: true, FuelDisabled: true, IgnitionDisabled: true, Charger: true,
		SpeedRPM: s.rpm, BatteryMinV: s.volts,
	}
	for _, f := range change {
		f(&r)
	}
	s.tick = r.EndTick
	s.in.Record.Runs = append(s.in.Record.Runs, r)
	s.in.Record.Tick = s.tick
	s.do("starter", "off", 0, 0)
	s.do("release", "", 0, 0)
	s.do("hose-off", "", 0, 0)
}

// write puts a number on the sheet, replacing the one in its place.
func (s *shop) write(field string, cylinder int, number float64) {
	e := Entry{Field: field, Cylinder: cylinder, Number: number, Tick: s.tick}
	for i, old := range s.in.Sheet.Entries {
		if old.Field == field && old.Cylinder == cylinder {
			s.in.Sheet.Entries[i] = e
			return
		}
	}
	s.in.Sheet.Entries = append(s.in.Sheet.Entries, e)
}

// dry tests every cylinder and writes it all down; first strokes read seven
// tenths of the last.
func (s *shop) dry(last []float64, change ...func(*record.Run)) {
	for i, v := range last {
		first := float64(int(v*0.7/2.5)) * 2.5
		s.run(i+1, first, v, change...)
		s.write(FieldDryFirst, i+1, first*unit.PascalPerPSI)
		s.write(FieldDryLast, i+1, v*unit.PascalPerPSI)
		s.write(FieldStrokes, i+1, float64(s.in.Record.Runs[len(s.in.Record.Runs)-1].Full()))
	}
	s.write(FieldRPM, 0, s.rpm)
	s.write(FieldBatteryV, 0, s.volts)
	s.write(FieldCoolantC, 0, s.coolant)
	s.write(FieldThrottle, 0, 1)
}

// again repeats the dry test of one cylinder.
func (s *shop) again(cylinder int, last float64) { s.run(cylinder, last*0.7, last) }

// wet puts the card's oil into a cylinder, tests it and writes it down.
func (s *shop) wet(cylinder int, last float64) {
	s.oil[cylinder] += s.in.Card.OilML
	s.do("oil", "", cylinder, s.in.Card.OilML)
	first := float64(int(last*0.7/2.5)) * 2.5
	s.run(cylinder, first, last)
	s.write(FieldWetFirst, cylinder, first*unit.PascalPerPSI)
	s.write(FieldWetLast, cylinder, last*unit.PascalPerPSI)
	s.write(FieldOilML, cylinder, s.in.Card.OilML)
}

// conclude puts a finding down.
func (s *shop) conclude(family string, sure, next string, cylinders ...int) {
	s.in.Sheet.Findings = append(s.in.Sheet.Findings, Finding{Family: family, Cylinders: cylinders})
	s.in.Sheet.Sure, s.in.Sheet.NextTest, s.in.Sheet.ConcludedTick = sure, next, s.tick
	s.in.Sheet.Evidence = []string{"dry", "first_stroke", "speed", "voltage", "throttle", "spec"}
	for _, r := range s.in.Record.Runs {
		if r.OilML > 0 {
			s.in.Sheet.Evidence = append(s.in.Sheet.Evidence, "wet")
			break
		}
	}
	s.do("finding", family, 0, 0)
}

// putBack makes the engine whole again and hands the sheet in.
func (s *shop) putBack() {
	for n := 1; n <= s.in.Cylinders; n++ {
		s.do("plug-in", "hand", n, 0)
	}
	for _, a := range [][2]string{
		{"plug-torque", ""}, {"plug-leads-on", ""}, {"throttle", "shut"}, {"fuel", "enabled"}, {"ignition", "enabled"},
		{"engine-start", ""}, {"codes-clear", ""},
	} {
		s.do(a[0], a[1], 0, 0)
	}
	s.in.Sheet.Remark = "A little oil went in; it may smoke at the first start."
	s.in.Sheet.Ticks = []string{"glasses", "spec", "fuel", "plugs_back"}
	s.in.Sheet.HandedIn = true
}

// The whole attempts that the tests start from; each earns every point.

func soundAttempt() *shop {
	s := newShop(bank4)
	s.prepare()
	s.dry([]float64{185, 187.5, 185, 182.5})
	s.conclude(FamilySound, SureCertain, "none")
	s.putBack()
	return s
}

func valveAttempt() *shop {
	s := newShop(bank4)
	s.in.Key = Key{Family: FamilyValveLeak, Cylinders: []int{3}}
	s.prepare()
	s.dry([]float64{185, 187.5, 110, 182.5})
	s.again(3, 110)
	s.wet(3, 117.5)
	s.wet(2, 205)
	s.conclude(FamilyValveLeak, SureLikely, "leakage", 3)
	s.putBack()
	return s
}

func ringAttempt() *shop {
	s := newShop(bank4)
	s.in.Key = Key{Family: FamilyRingOrBore, Cylinders: []int{2}}
	s.prepare()
	s.dry([]float64{185, 135, 187.5, 182.5})
	s.again(2, 135)
	s.wet(2, 175)
	s.wet(3, 205)
	s.conclude(FamilyRingOrBore, SureLikely, "leakage", 2)
	s.putBack()
	return s
}

// line returns what a rule said, and whether it said anything.
func line(r Result, rule string) (Line, bool) {
	for _, row := range r.Rows {
		for _, l := range row.Lines {
			if l.Rule == rule {
				return l, true
			}
		}
	}
	for _, l := range r.Gates {
		if l.Rule == rule {
			return l, true
		}
	}
	return Line{}, false
}

// missed lists the rules that were not fully kept, in order.
func missed(r Result) []string {
	out := []string{}
	for _, g := range r.Gates {
		if !g.Passed {
			out = append(out, g.Rule)
		}
	}
	for _, row := range r.Rows {
		for _, l := range row.Lines {
			if !l.Passed {
				out = append(out, l.Rule)
			}
		}
	}
	return out
}
