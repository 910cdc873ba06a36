package scenarios

import (
	"crankbay/diagnose"
	"crankbay/scenarios/strict"
	"crankbay/sim/unit"
)

// MaxBytes is the largest file that Decode reads.
const MaxBytes = 1 << 20

// Bounds of texts, in characters.
const (
	maxTitle = 80
	maxStory = 1200
)

// Decode reads a scenario file. The error is one sentence that begins with the
// path of what is wrong; the caller puts the file's name in front.
func Decode(data []byte) (*Scenario, error) {
	s, err := read(data)
	if err != nil {
		return nil, err
	}
	return s, s.check()
}

// read reads a file without asking whether its parts agree.
func read(data []byte) (*Scenario, error) {
	d, err := strict.Parse(data, MaxBytes)
	if err != nil {
		return nil, err
	}
	s := &Scenario{Faults: []Fault{}}
	o := d.Root().Object()
	s.head(o)
	s.Engine = engine(o.Need("engine"))
	s.Battery = battery(o.Need("battery"))
	s.Starter = starter(o.Need("starter"))
	s.Conditions = conditions(o.Need("conditions"))
	s.Tools = tools(o.Need("tools"))
	s.pages(o)
	for _, v := range o.Need("faults").List(0, 16) {
		s.Faults = append(s.Faults, fault(v, s))
	}
	s.Method = method(o.May("method"))
	s.Work = work(o.May("work"))
	s.Card = card(o.Need("card"), s)
	s.Key = key(o.Need("key"), s.Engine.Cylinders)
	o.Close()
	return s, d.Err()
}

func (s *Scenario) head(o *strict.Object) {
	s.Format = int(o.Need("format").Int(Format, Format))
	s.ID = o.Need("id").ID()
	s.Seed = o.Need("seed").Uint64()
	s.Title = words(o.Need("title"), maxTitle)
	s.Complaint = words(o.Need("complaint"), maxStory)
	s.History = words(o.Need("history"), maxStory)
	for _, v := range o.Need("trains").List(1, 12) {
		s.Trains = append(s.Trains, v.OneOf(Trains()...))
	}
	s.Difficulty = int(o.Need("difficulty").Int(1, 3))
}

func words(v strict.Value, most int) Text {
	o := v.Object()
	t := Text{EN: o.May("en").Text(most), ES: o.May("es").Text(most)}
	o.Close()
	if v.Present() && t.EN == "" && t.ES == "" {
		v.Fail("no text in either language, want en or es")
	}
	return t
}

func battery(v strict.Value) Battery {
	o := v.Object()
	b := Battery{
		CCA:        o.Need("cca_a").Float(100, 1500),
		Charge:     o.Need("charge").Float(0, 1),
		AgeFactor:  o.Need("age_factor").Float(0.5, 20),
		CapacityAh: o.Need("capacity_ah").Float(10, 250),
		CableMOhm:  o.Need("cable_mohm").Float(0, 150),
	}
	o.Close()
	return b
}

func starter(v strict.Value) Starter {
	o := v.Object()
	s := Starter{
		ResistanceMOhm: o.Need("resistance_mohm").Float(1, 50),
		ConstantNmA:    o.Need("constant_nm_a").Float(0.002, 0.5),
		Ratio:          o.Need("ratio").Float(3, 29),
		DragNm:         o.Need("drag_nm").Float(0, 15),
		InertiaKgM2:    o.Need("inertia_kg_m2").Float(0, 2),
		SaturationA:    o.May("saturation_a").Float(51, 99e3),
		WindageNmSS:    o.May("windage_nm_s2").Float(0, 9e-3),
		PullInS:        o.May("pull_in_s").Float(0, 0.49),
	}
	o.Close()
	return s
}

func conditions(v strict.Value) Conditions {
	o := v.Object()
	c := Conditions{
		AmbientKPa: o.Need("ambient_kpa").Float(50, 110),
		AmbientC:   o.Need("ambient_c").Float(-35, 50),
		CoolantC:   o.Need("coolant_c").Float(-35, 115),
		WarmC:      o.Need("warm_c").Float(60, 115),
		Gear:       o.Need("gear").OneOf("park", "neutral", "drive"),
		ParkedDeg:  o.Need("parked_deg").Float(0, 719.99),
		NoStart:    maybe(o.May("no_start")),
	}
	o.Close()
	return c
}

func tools(v strict.Value) Tools {
	o := v.Object()
	var t Tools
	for _, g := range o.Need("gauges").List(1, 6) {
		t.Gauges = append(t.Gauges, gauge(g))
	}
	for _, a := range o.Need("adapters").List(1, 8) {
		m := a.Object()
		t.Adapters = append(t.Adapters, Adapter{
			ID:       m.Need("id").ID(),
			ThreadMM: m.Need("thread_mm").Float(8, 22),
			ReachMM:  m.Need("reach_mm").Float(6, 40),
			ORing:    m.Need("o_ring").Bool(),
		})
		m.Close()
	}
	o.Close()
	return t
}

func gauge(v strict.Value) Gauge {
	o := v.Object()
	g := Gauge{
		ID:               o.Need("id").ID(),
		RangePSI:         o.Need("range_psi").Float(60, 1000),
		GraduationPSI:    o.Need("graduation_psi").Float(0.5, 50),
		HoseML:           o.Need("hose_ml").Float(0.1, 90),
		AdapterML:        o.Need("adapter_ml").Float(0, 15),
		ZeroErrorPSI:     o.Need("zero_error_psi").Float(-20, 20),
		SpanErrorPercent: o.Need("span_error_percent").Float(-10, 10),
		FrictionPSI:      o.Need("friction_psi").Float(0, 10),
	}
	o.Close()
	return g
}

func (s *Scenario) pages(o *strict.Object) {
	for _, v := range o.Need("spec_pages").List(1, 8) {
		p := v.Object()
		s.SpecPages = append(s.SpecPages, SpecPage{
			ID:            p.Need("id").ID(),
			EngineCode:    p.Need("engine_code").Text(20),
			StandardKPa:   p.Need("standard_kpa").Float(0, 3000),
			MinimumKPa:    p.Need("minimum_kpa").Float(0, 3000),
			DifferenceKPa: p.Need("difference_kpa").Float(0, 1000),
		})
		p.Close()
	}
	v := o.Need("right_page")
	s.RightPage = v.ID()
	if s.RightPage != "" && s.page(s.RightPage) == nil {
		v.Fail("%q is not the id of a spec page", s.RightPage)
	}
}

// page finds a page by id, or returns nil.
func (s *Scenario) page(id string) *SpecPage {
	for i := range s.SpecPages {
		if s.SpecPages[i].ID == id {
			return &s.SpecPages[i]
		}
	}
	return nil
}

func method(v strict.Value) *Method {
	if !v.Present() {
		return nil
	}
	o := v.Object()
	m := &Method{
		Throttle: o.Need("throttle").OneOf("open", "shut"),
		Plugs:    o.Need("plugs").OneOf("out", "in"),
	}
	o.Close()
	return m
}

func kPa(v strict.Value) unit.Gauge { return unit.Gauge(v.Float(0, 3000) * 1000) }

func limits(v strict.Value) diagnose.Limits {
	o := v.Object()
	l := diagnose.Limits{
		Standard:      kPa(o.Need("standard_kpa")),
		Minimum:       kPa(o.Need("minimum_kpa")),
		DifferenceMax: kPa(o.Need("difference_kpa")),
		Rule:          o.Need("rule").OneOf(diagnose.RuleIDs()...),
		RatioMin:      o.May("ratio_min").Float(0, 0.99),
		PrintedAt:     unit.Pressure(o.May("printed_at_kpa").Float(50, 110) * kilo),
	}
	o.Close()
	return l
}
