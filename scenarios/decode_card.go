package scenarios

import (
	"fmt"
	"strings"

	"crankbay/diagnose"
	"crankbay/scenarios/strict"
	"crankbay/sim/bench"
)

func card(v strict.Value, s *Scenario) diagnose.Card {
	o := v.Object()
	c := diagnose.Card{
		CoolantMinC:     o.Need("coolant_min_c").Float(-40, 130),
		CoolantMaxC:     o.Need("coolant_max_c").Float(-40, 140),
		FuelDisable:     o.Need("fuel_disable").Bool(),
		IgnitionDisable: o.Need("ignition_disable").Bool(),
		Switch:          o.Need("switch").OneOf(diagnose.SwitchRemote, diagnose.SwitchKey, diagnose.SwitchEither),
		ThrottleOpen:    o.Need("throttle_open").Bool(),
		PlugsOut:        o.Need("plugs_out").Bool(),
		StrokesMin:      int(o.Need("strokes_min").Int(1, 30)),
		StrokesMax:      int(o.Need("strokes_max").Int(1, 30)),
		OilML:           o.Need("oil_ml").Float(0, 50),
		OilMLMin:        o.Need("oil_ml_min").Float(0, 50),
		OilMLMax:        o.Need("oil_ml_max").Float(0, 50),
		ThreadMM:        o.Need("thread_mm").Float(8, 22),
		ReachMM:         o.Need("reach_mm").Float(6, 40),
		ORing:           o.Need("o_ring").Bool(),
		Charger:         o.Need("charger").Bool(),
		PlugTorqueNm:    o.Need("plug_torque_nm").Float(5, 60),
		ThrottleBy:      throttleBy(o.May("throttle_by")),
		LashCheck:       maybe(o.May("lash_check")),
		Lash:            asked(o.May("lash")),
		Minutes:         minutes(o.May("minutes")),
		Limits:          limits(o.Need("limits")),
		Items:           []string{},
	}
	for _, item := range o.Need("items").List(0, 40) {
		c.Items = append(c.Items, item.OneOf(Items()...))
	}
	o.Close()
	return c
}

// throttleBy reads how the throttle is held; a card that does not say means the
// linkage.
func throttleBy(v strict.Value) string {
	if !v.Present() {
		return diagnose.ThrottleLinkage
	}
	return v.OneOf(diagnose.ThrottleLinkage, diagnose.ThrottlePedal)
}

// minutes reads what the confirming tests cost; a card that does not say is that of
// an ordinary engine.
func minutes(v strict.Value) diagnose.TestMinutes {
	m := diagnose.DefaultMinutes()
	if !v.Present() {
		return m
	}
	o := v.Object()
	for _, f := range []struct {
		name string
		at   *float64
	}{
		{"wet", &m.Wet}, {"repeat", &m.Repeat}, {"leakage_setup", &m.LeakageSetup}, {"leakage_each", &m.LeakageEach},
		{"current", &m.Current}, {"running_each", &m.RunningEach}, {"vacuum", &m.Vacuum}, {"lash", &m.Lash},
		{"timing_marks", &m.TimingMarks}, {"borescope_each", &m.BorescopeEach}, {"cooling_pressure", &m.CoolingPressure},
		{"second_gauge", &m.SecondGauge}, {"refit", &m.Refit}, {"power_balance", &m.PowerBalance},
	} {
		*f.at = o.Need(f.name).Float(0.5, 480)
	}
	o.Close()
	return m
}

// asked reads what the page asks for between cam and valve; a card that does not say is
// that of an ordinary engine.
func asked(v strict.Value) diagnose.Lash {
	if !v.Present() {
		return diagnose.DefaultLash()
	}
	o := v.Object()
	l := diagnose.Lash{
		IntakeMM:  o.Need("intake_mm").Float(0.05, 0.9),
		ExhaustMM: o.Need("exhaust_mm").Float(0.05, 0.9),
		WithinMM:  o.Need("within_mm").Float(0.01, 0.1),
	}
	o.Close()
	return l
}

// maybe reads a yes or no that may be absent.
func maybe(v strict.Value) bool { return v.Present() && v.Bool() }

func key(v strict.Value, n int) diagnose.Key {
	o := v.Object()
	k := diagnose.Key{
		Family:    o.Need("family").OneOf(diagnose.Families()...),
		Cylinders: cylinders(o.Need("cylinders"), 0, 12, n),
	}
	for _, a := range o.May("accept").List(0, 12) {
		m := a.Object()
		k.Accept = append(k.Accept, diagnose.Finding{
			Family:    m.Need("family").OneOf(diagnose.Families()...),
			Cylinders: cylinders(m.May("cylinders"), 0, 12, n),
		})
		m.Close()
	}
	for _, t := range o.May("next_tests").List(0, 14) {
		k.NextTests = append(k.NextTests, t.OneOf(diagnose.NextTests()...))
	}
	if f := o.May("method_fault"); f.Present() {
		k.MethodFault = f.OneOf(diagnose.MethodFaults()...)
	}
	o.Close()
	return k
}

// check holds what a single field cannot show: that parts of the file agree.
func (s *Scenario) check() error {
	if err := s.Card.Validate(); err != nil {
		return fmt.Errorf("card.%s", first(err))
	}
	if err := s.Key.Validate(); err != nil {
		return fmt.Errorf("key.%s", first(err))
	}
	e, c := s.Engine, s.Card
	switch {
	case c.ThreadMM != e.Plug.ThreadMM:
		return fmt.Errorf("card.thread_mm: %g, engine.plug.thread_mm is %g", c.ThreadMM, e.Plug.ThreadMM)
	case c.ReachMM != e.Plug.ReachMM:
		return fmt.Errorf("card.reach_mm: %g, engine.plug.reach_mm is %g", c.ReachMM, e.Plug.ReachMM)
	case !c.LashCheck && !c.Lash.IsZero():
		return fmt.Errorf("card.lash: given, card.lash_check says there is none to measure")
	case c.PlugTorqueNm != e.Plug.TorqueNm:
		return fmt.Errorf("card.plug_torque_nm: %g, engine.plug.torque_nm is %g", c.PlugTorqueNm, e.Plug.TorqueNm)
	}
	for _, check := range []func() error{s.checkKey, s.checkPage, s.checkNames, s.checkTools, s.checkEngine, s.checkTray} {
		if err := check(); err != nil {
			return err
		}
	}
	return nil
}

// checkKey asks that the card can be followed on this engine, and does no harm.
func (s *Scenario) checkKey() error {
	e, c := s.Engine, s.Card
	switch {
	case e.Key == string(bench.KeyFires) && c.Switch != diagnose.SwitchRemote:
		return fmt.Errorf("card.switch: %q, the key fires the injectors of this engine", c.Switch)
	case (e.Key == string(bench.KeyValves) || e.Key == string(bench.KeyService)) && c.Switch != diagnose.SwitchKey:
		return fmt.Errorf("card.switch: %q, engine.key %q needs the key", c.Switch, e.Key)
	case e.DriveByWire != (c.ThrottleBy == diagnose.ThrottlePedal):
		return fmt.Errorf("card.throttle_by: %q, engine.drive_by_wire is %t", c.ThrottleBy, e.DriveByWire)
	case e.ThreadsMaxC > 0 && c.CoolantMaxC > e.ThreadsMaxC:
		return fmt.Errorf("card.coolant_max_c: %g, engine.threads_max_c is %g", c.CoolantMaxC, e.ThreadsMaxC)
	case s.Conditions.NoStart && c.CoolantMinC > s.Conditions.CoolantC:
		return fmt.Errorf("card.coolant_min_c: %g, an engine that doesn't start stays at %g", c.CoolantMinC, s.Conditions.CoolantC)
	}
	return nil
}

// checkEngine lets the engine itself say whether the parts and the faults
// together make one that can turn.
func (s *Scenario) checkEngine() error {
	p := s.Params()
	if err := p.Validate(); err != nil {
		return fmt.Errorf("engine and faults together: %s", first(err))
	}
	return nil
}

// checkPage holds the card's limits equal to the page the student has to find.
func (s *Scenario) checkPage() error {
	p, l := s.page(s.RightPage), s.Card.Limits
	for _, f := range []struct {
		name       string
		card, page float64
	}{
		{"standard_kpa", l.Standard.KPa(), p.StandardKPa},
		{"minimum_kpa", l.Minimum.KPa(), p.MinimumKPa},
		{"difference_kpa", l.DifferenceMax.KPa(), p.DifferenceKPa},
	} {
		if d := f.card - f.page; d > 1e-6 || d < -1e-6 {
			return fmt.Errorf("card.limits.%s: %g, the right page prints %g", f.name, f.card, f.page)
		}
	}
	return nil
}

// checkNames refuses an id given twice where an action has to choose by it.
func (s *Scenario) checkNames() error {
	var pages, gauges, adapters []string
	for _, p := range s.SpecPages {
		pages = append(pages, p.ID)
	}
	for _, g := range s.Tools.Gauges {
		gauges = append(gauges, g.ID)
	}
	for _, a := range s.Tools.Adapters {
		adapters = append(adapters, a.ID)
	}
	for _, l := range []struct {
		path string
		ids  []string
	}{{"spec_pages", pages}, {"tools.gauges", gauges}, {"tools.adapters", adapters}} {
		for i, id := range l.ids {
			for _, before := range l.ids[:i] {
				if before == id {
					return fmt.Errorf("%s[%d].id: %q, given twice", l.path, i, id)
				}
			}
		}
	}
	return nil
}

// checkTools asks that the test can be done at all with what lies there.
func (s *Scenario) checkTools() error {
	for i, g := range s.Tools.Gauges {
		if err := g.spec().Validate(); err != nil {
			return fmt.Errorf("tools.gauges[%d]: %s", i, first(err))
		}
	}
	for _, a := range s.Tools.Adapters {
		if a.ThreadMM == s.Engine.Plug.ThreadMM && a.ReachMM == s.Engine.Plug.ReachMM && (a.ORing || !s.Card.ORing) {
			return nil
		}
	}
	return fmt.Errorf("tools.adapters: none fits engine.plug (thread %g mm, reach %g mm)",
		s.Engine.Plug.ThreadMM, s.Engine.Plug.ReachMM)
}

// first returns the first of several joined sentences.
func first(err error) string {
	one, _, _ := strings.Cut(err.Error(), "\n")
	return one
}
