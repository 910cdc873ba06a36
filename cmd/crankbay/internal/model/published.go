//go:build !js

package model

import (
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"crankbay/sim"
	"crankbay/sim/simtest"
	"crankbay/sim/unit"
)

// A band is an engine with printed timing and a printed band of readings.
type band struct {
	name      string
	low, high float64    // printed [psi]
	rpm       [3]float64 // lowest, middle, highest of the printed speeds
	got       [3]float64 // computed [psi]

	retard, advance float64 // printed intake closing at either end of the phaser [° after BDC]
	early, late     float64 // closings between which it would be inside, where it isn't; 0 if nowhere
}

// inside says whether every computed reading lies in the printed band.
func (b band) inside() bool {
	return slices.Min(b.got[:]) >= b.low && slices.Max(b.got[:]) <= b.high
}

// An orifice is one row of the leakage tester's closed form.
type orifice struct{ ratio, want, got float64 } // area over area, [psi], [psi]

// A height is one altitude at equal temperature and speed.
type height struct {
	feet     float64
	pressure float64 // ambient, share of that at sea level
	computed float64 // reading, share of that at sea level
	trade    float64 // printed factor; 0 none
}

// A tableOf describes one file of numbers the tests hold the model against.
type tableOf struct {
	name, kind, source, mark string
	rows                     int
}

func (s *study) published(testdata string) error {
	read := func(folder, name string) (simtest.Table, error) {
		data, err := os.ReadFile(filepath.Join(testdata, folder, name))
		if err != nil {
			return simtest.Table{}, err
		}
		t, err := simtest.Parse(data)
		if err != nil {
			return t, fmt.Errorf("%s/%s: %w", folder, name, err)
		}
		return t, nil
	}
	engines, err := read("published", "engines-printed-timing.csv")
	if err != nil {
		return err
	}
	s.bandsOf(engines)
	two, err := read("derived", "two-orifice.csv")
	if err != nil {
		return err
	}
	s.orificesOf(two)
	ratio, err := read("derived", "altitude-pressure-ratio.csv")
	if err != nil {
		return err
	}
	trade, err := read("published", "altitude-trade-factors.csv")
	if err != nil {
		return err
	}
	s.heights(ratio, trade)
	if s.families, err = families(testdata); err != nil {
		return err
	}
	for _, folder := range []string{"published", "derived"} {
		files, err := filepath.Glob(filepath.Join(testdata, folder, "*.csv"))
		if err != nil {
			return err
		}
		for _, file := range files {
			t, err := read(folder, filepath.Base(file))
			if err != nil {
				return err
			}
			s.tables = append(s.tables, tableOf{
				name: strings.TrimSuffix(filepath.Base(file), ".csv"), kind: folder, source: t.Source, mark: t.Mark, rows: len(t.Rows),
			})
		}
	}
	return nil
}

// printed builds an engine from printed geometry and intake closing by the rule
// of the test of the bands: intake cam parked at full retard, an intake event of
// 245°, rod 1.65 × stroke, seats 0.37 and 0.32 of the bore, lift a tenth of it.
func printed(row simtest.Row) sim.Params {
	p := sim.Reference()
	bore, stroke := row["bore_mm"]*mm, row["stroke_mm"]*mm
	p.Bore, p.Stroke, p.Rod, p.Compression = bore, stroke, 1.65*stroke, row["ratio"]
	p.Intake.Diameter, p.Intake.Lift = 0.37*bore, 0.1*bore
	p.Exhaust.Diameter, p.Exhaust.Lift = 0.32*bore, 0.1*bore
	p.Intake.Closes = (540 + row["ivc_retard_deg"]) * degree
	p.Intake.Opens = p.Intake.Closes - 245*degree
	return p
}

func (s *study) bandsOf(t simtest.Table) {
	for i, row := range t.Rows {
		b := band{name: t.Names[i], low: row["low_psi"], high: row["high_psi"]}
		b.rpm = [3]float64{row["low_rpm"], (row["low_rpm"] + row["high_rpm"]) / 2, row["high_rpm"]}
		b.retard, b.advance = row["ivc_retard_deg"], row["ivc_advance_deg"]
		b.measure(row)
		if !b.inside() {
			b.search(row)
		}
		s.bands = append(s.bands, b)
	}
}

// measure tests the engine at every speed.
func (b *band) measure(row simtest.Row) {
	for k, rpm := range b.rpm {
		b.got[k] = run(printed(row), test{rpm: rpm}).final.PSI()
	}
}

// search finds at which whole degrees of intake closing, within the phaser's range,
// an engine outside its band would be inside. That is no proof of anything: it says
// how much hangs on what the source does not print.
func (b *band) search(row simtest.Row) {
	moved := maps.Clone(row)
	for closes := b.retard; closes >= b.advance; closes-- {
		moved["ivc_retard_deg"] = closes
		try := *b
		try.measure(moved)
		switch {
		case try.inside() && b.late == 0:
			b.late, b.early = closes, closes
		case try.inside():
			b.early = closes
		case b.late != 0:
			return
		}
	}
}

// outsider are the numbers about the engine outside its band that sentences name.
func (s study) outsider() map[string]string {
	for _, b := range s.bands {
		if !b.inside() {
			return map[string]string{
				"outside": b.name, "retard": number(b.retard, 0), "swing": number(b.retard-b.advance, 0),
				"least": number(b.low-slices.Max(b.got[:]), 0), "far": number(b.low-slices.Min(b.got[:]), 0),
				"early": number(b.early, 0), "late": number(b.late, 0),
			}
		}
	}
	return map[string]string{}
}

// testerArea is a bore of 0.040 in [m²]; equal coefficients cancel.
const testerArea = 0.8107 * mm2

// orificesOf puts 80 psi of air on a cylinder with one leak.
func (s *study) orificesOf(t simtest.Table) {
	for _, row := range t.Rows {
		p := sim.Reference()
		p.Heat.Factor, p.CoolantTemperature = 0, p.AmbientTemperature
		p.Cylinder[0].RingArea = 0
		p.Cylinder[0].IntakeLift, p.Cylinder[0].ExhaustLift = 0, 0
		p.Cylinder[0].OutsideArea = row["leak_over_restrictor"] * testerArea
		e := bench(p, test{plugsIn: true})
		e.SetAngle(p.Cylinder[0].FiringAngle)
		e.SetAir(float64(unit.PSI(80)), testerArea)
		e.SetPlug(1, sim.PlugAir)
		for range 6 * sim.TicksPerSecond {
			e.Step(sim.Inputs{})
		}
		got := unit.Gauge(e.Pressure(1) - p.Ambient).PSI()
		s.orifices = append(s.orifices, orifice{row["leak_over_restrictor"], row["reading_psi"], got})
	}
}

// heightRPM is the speed held for the comparison by altitude: 26 rad/s.
const heightRPM = 248

func (s *study) heights(ratio, trade simtest.Table) {
	read := func(share float64) float64 {
		p := sim.Reference()
		p.Ambient *= share
		return run(p, test{rpm: heightRPM}).final.PSI()
	}
	sea := read(1)
	s.altitude = []height{{0, 1, 1, 1}}
	for _, row := range ratio.Rows {
		h := height{feet: row["altitude_ft"], pressure: row["ratio"], computed: read(row["ratio"]) / sea}
		for _, r := range trade.Rows {
			if r["altitude_ft"] == h.feet {
				h.trade = r["factor"]
			}
		}
		s.altitude = append(s.altitude, h)
	}
}

// milder is how much more the trade's table leaves of a reading at 5000 ft than
// the model does [%].
func (s *study) milder() float64 {
	for _, h := range s.altitude {
		if h.feet == 5000 {
			return 100 * (h.trade/h.computed - 1)
		}
	}
	panic("model: no row at 5000 ft")
}
