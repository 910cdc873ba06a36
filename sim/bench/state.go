package bench

import (
	"math"

	"crankbay/sim"
)

// A State is where hands, tools and plugs are, for whoever shows the bench. What
// can't be seen without the right instrument is null.
type State struct {
	Glasses    bool        `json:"glasses"`
	Gear       string      `json:"gear"` // park, neutral, drive
	Brake      bool        `json:"brake"`
	Chocks     bool        `json:"chocks"`
	Belts      bool        `json:"belts"`    // checked
	Fluids     bool        `json:"fluids"`   // checked
	Fuel       string      `json:"fuel"`     // enabled, disabled
	Ignition   string      `json:"ignition"` // enabled, disabled
	Charger    bool        `json:"charger"`
	Wells      bool        `json:"wells"` // blown clean
	Plugs      []PlugPlace `json:"plugs"`
	Leads      bool        `json:"leads"`   // coils and connectors on the plugs
	Torqued    bool        `json:"torqued"` // no plug is merely screwed in
	Page       string      `json:"page"`    // specification page last looked up
	Adapter    string      `json:"adapter"` // id, or empty
	Gauge      string      `json:"gauge"`   // id, or empty
	Proved     bool        `json:"proved"`
	HoseOn     int         `json:"hose_on"`  // cylinder, 0 none
	Release    bool        `json:"release"`  // pressed
	Throttle   string      `json:"throttle"` // open, pedal, shut
	Switch     string      `json:"switch"`   // remote, key
	Voltmeter  bool        `json:"voltmeter"`
	Tachometer bool        `json:"tachometer"`
	VoltsLow   *float64    `json:"volts_low"` // lowest of the last run, held by the voltmeter [V]
	RPMMean    *float64    `json:"rpm_mean"`  // mean of the last run, held by the tachometer [rpm]
	CoolantC   *float64    `json:"coolant_c"` // as the instrument panel shows it [°C]
	Starter    bool        `json:"starter"`   // switch held
	Moving     bool        `json:"moving"`    // ticks would pass
	OilML      []float64   `json:"oil_ml"`    // poured into each cylinder [ml]
	Minutes    float64     `json:"minutes"`
	Started    string      `json:"started"` // how the last start went: runs, rough, refuses, slow, or empty
	Codes      bool        `json:"codes"`   // stored in the control unit
	Runs       int         `json:"runs"`
	Tester     int         `json:"tester"`        // cylinder the leakage tester is on, 0 none
	AirKPa     float64     `json:"air_kpa"`       // at the tester, 0 shut off [kPa]
	Wrench     bool        `json:"wrench"`        // on the crank bolt
	Clamp      bool        `json:"clamp"`         // meter round the starter cable
	Vacuum     bool        `json:"vacuum_gauge"`  // on the manifold
	Disabled   int         `json:"disabled"`      // cylinder without spark and fuel, 0 none
	Running    bool        `json:"running"`       // by itself
	Neck       bool        `json:"coolant_watch"` // coolant neck watched
	HandedIn   bool        `json:"handed_in"`     // set by whoever keeps the job sheet
}

// PlugPlace is where one plug is.
type PlugPlace struct {
	Cylinder int    `json:"cylinder"`
	State    string `json:"state"`   // in, out, gauge, tester
	Order    string `json:"order"`   // ordered or loose once it was out, else empty
	Torqued  bool   `json:"torqued"` // false when merely screwed in
}

// State returns where everything is.
func (b *Bench) State() State {
	h := &b.hands
	s := State{
		Glasses: h.glasses, Gear: h.gear, Brake: h.brake, Chocks: h.chocks, Belts: h.belts, Fluids: h.fluids,
		Fuel: word(h.fuelOff, "disabled", "enabled"), Ignition: word(h.ignitionOff, "disabled", "enabled"),
		Charger: h.charger, Wells: h.wells, Leads: h.leads, Torqued: true, Page: h.page, Proved: h.proved,
		HoseOn: h.hose, Release: b.release > 0, Throttle: throttleWord(h),
		Switch: word(h.remote, "remote", "key"), Voltmeter: h.voltmeter, Tachometer: h.tachometer,
		Starter: h.starter, Moving: !b.AtRest(), Minutes: b.Minutes(), Started: startWord(h.started), Codes: h.codes,
		Runs: len(b.rec.Runs), Plugs: []PlugPlace{}, OilML: []float64{},
		Tester: b.tests.tester, AirKPa: b.tests.supply / 1e3, Wrench: b.tests.wrench, Clamp: b.tests.clamp, Vacuum: b.tests.vacuumGauge,
		Disabled: b.tests.dead, Running: b.tests.pump.on, Neck: b.tests.neck,
	}
	if h.adapter >= 0 {
		s.Adapter = b.setup.Adapters[h.adapter].ID
	}
	if h.gauge >= 0 {
		s.Gauge = b.setup.Gauges[h.gauge].ID
	}
	if b.meters.lowSeen {
		s.VoltsLow = &[]float64{b.meters.lowVolts}[0]
	}
	if b.meters.meanSeen {
		s.RPMMean = &[]float64{b.meters.meanRPM}[0]
	}
	s.CoolantC = &[]float64{math.Floor(b.coolantC() + 0.5)}[0]
	for i := range b.cyl {
		c := &b.cyl[i]
		s.Plugs = append(s.Plugs, PlugPlace{i + 1, plugWord(b.engine.Plug(i + 1)), c.order, !c.loose})
		s.OilML = append(s.OilML, c.oil)
		s.Torqued = s.Torqued && !c.loose
	}
	return s
}

func throttleWord(h *hands) string {
	switch {
	case h.open && h.pedal:
		return throttlePedal
	case h.open:
		return throttleOpen
	}
	return throttleShut
}

func word(yes bool, one, other string) string {
	if yes {
		return one
	}
	return other
}

func plugWord(p sim.PlugState) string {
	switch p {
	case sim.PlugOut:
		return "out"
	case sim.PlugGauge:
		return "gauge"
	case sim.PlugAir:
		return "tester"
	}
	return "in"
}

// startWord shortens the fact of the last start.
func startWord(fact string) string {
	switch fact {
	case "engine_runs":
		return "runs"
	case "engine_rough":
		return "rough"
	case "engine_refuses":
		return "refuses"
	case "engine_cranks_slow":
		return "slow"
	}
	return ""
}
