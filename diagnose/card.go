package diagnose

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"slices"

	"crankbay/sim/unit"
)

// How an engine may be cranked by its card.
const (
	SwitchRemote = "remote"
	SwitchKey    = "key"
	SwitchEither = "either"
)

// How a throttle is held open by its card.
const (
	ThrottleLinkage = "linkage" // at cable or linkage, by a hand or a block
	ThrottlePedal   = "pedal"   // by the pedal with the key on: the plate is moved by a motor and never by hand
)

// A Card is the procedure card of one engine. The procedure is a property of
// the engine, so nothing is checked against a universal rule, only against this.
type Card struct {
	CoolantMinC     float64 `json:"coolant_min_c"`    // lowest coolant temperature of the test [°C], [-40, 130]
	CoolantMaxC     float64 `json:"coolant_max_c"`    // highest [°C], above the lowest, up to 140
	FuelDisable     bool    `json:"fuel_disable"`     // injection must be disabled before cranking
	IgnitionDisable bool    `json:"ignition_disable"` // ignition must be disabled before cranking
	Switch          string  `json:"switch"`           // remote, key or either
	ThrottleOpen    bool    `json:"throttle_open"`    // throttle held wide open while cranking
	ThrottleBy      string  `json:"throttle_by"`      // linkage or pedal
	PlugsOut        bool    `json:"plugs_out"`        // all plugs out while cranking
	StrokesMin      int     `json:"strokes_min"`      // fewest full compression strokes of a reading, [1, 30]
	StrokesMax      int     `json:"strokes_max"`      // most, at least the fewest, up to 30
	OilML           float64 `json:"oil_ml"`           // oil of a wet test [ml], [0, 50]; 0 means this engine has no wet test
	OilMLMin        float64 `json:"oil_ml_min"`       // least that still counts [ml]
	OilMLMax        float64 `json:"oil_ml_max"`       // most that is still safe [ml]
	ThreadMM        float64 `json:"thread_mm"`        // plug thread diameter [mm], [8, 22]
	ReachMM         float64 `json:"reach_mm"`         // plug thread reach [mm], [6, 40]
	ORing           bool    `json:"o_ring"`           // the adapter seals by an O-ring
	Charger         bool    `json:"charger"`          // battery on charge during the test
	PlugTorqueNm    float64 `json:"plug_torque_nm"`   // plug torque when refitted [N·m], [5, 60]
	LashCheck       bool    `json:"lash_check"`       // valve clearances can be measured on this engine; false with hydraulic lifters
	Lash            Lash    `json:"lash,omitzero"`    // what its page asks for them

	Minutes TestMinutes `json:"minutes"` // what each confirming test costs on this engine
	Limits  Limits      `json:"limits"`  // what the specification page says
	Items   []string    `json:"items"`   // items the student can tick, in order
}

// Limits are three separate figures and the rule that applies them. A minimum
// is not a maximum and even readings are not a limit. Zero means the page of
// this engine does not give that figure.
type Limits struct {
	Standard      unit.Gauge // reading of a good engine [Pa], 0 or [200 kPa, 3000 kPa]
	Minimum       unit.Gauge // lowest acceptable reading [Pa], 0 or [100 kPa, 3000 kPa]
	DifferenceMax unit.Gauge // largest allowed highest − lowest [Pa], 0 or [10 kPa, 1000 kPa]
	Rule          string     // the rule that counts, one of RuleIDs
	RatioMin      float64    // lowest/highest of that rule, 0 (the rule's own) or [0.5, 1)

	PrintedAt unit.Pressure // air that the figures hold for [Pa absolute], 0 (sea level) or [50 kPa, 110 kPa]
}

type limitsJSON struct {
	StandardKPa   float64 `json:"standard_kpa"`
	MinimumKPa    float64 `json:"minimum_kpa"`
	DifferenceKPa float64 `json:"difference_kpa"`
	Rule          string  `json:"rule"`
	RatioMin      float64 `json:"ratio_min"`
	PrintedAtKPa  float64 `json:"printed_at_kpa,omitempty"`
}

// MarshalJSON writes the pressures in kPa, as the field names say.
func (l Limits) MarshalJSON() ([]byte, error) {
	return json.Marshal(limitsJSON{
		StandardKPa: l.Standard.KPa(), MinimumKPa: l.Minimum.KPa(), DifferenceKPa: l.DifferenceMax.KPa(),
		Rule: l.Rule, RatioMin: l.RatioMin, PrintedAtKPa: float64(l.PrintedAt) / kiloPascal,
	})
}

// UnmarshalJSON reads pressures in kPa and refuses a field it does not know.
func (l *Limits) UnmarshalJSON(data []byte) error {
	dec := json.NewDecoder(bytes.NewReader(data))
	dec.DisallowUnknownFields()
	var in limitsJSON
	if err := dec.Decode(&in); err != nil {
		return fmt.Errorf("limits: %w", err)
	}
	*l = Limits{
		Standard: unit.Gauge(in.StandardKPa * 1000), Minimum: unit.Gauge(in.MinimumKPa * 1000),
		DifferenceMax: unit.Gauge(in.DifferenceKPa * 1000), Rule: in.Rule, RatioMin: in.RatioMin,
		PrintedAt: unit.Pressure(in.PrintedAtKPa * kiloPascal),
	}
	return nil
}

// DefaultCard is common practice for a warm gasoline engine on the bench. The
// limits are left empty: they are looked up, never assumed.
func DefaultCard() Card {
	return Card{
		CoolantMinC: 80, CoolantMaxC: 105, FuelDisable: true, IgnitionDisable: true, Switch: SwitchRemote,
		ThrottleOpen: true, ThrottleBy: ThrottleLinkage, PlugsOut: true, StrokesMin: 4, StrokesMax: 8, OilML: 10, OilMLMin: 5, OilMLMax: 15,
		ThreadMM: 14, ReachMM: 19, ORing: true, PlugTorqueNm: 25, Lash: DefaultLash(), Minutes: DefaultMinutes(),
		Limits: Limits{Rule: RuleRatio75, RatioMin: 0.75},
	}
}

// ThrottleChoice returns how a hand opens the throttle by the card: the choice of
// the throttle action.
func (c Card) ThrottleChoice() string {
	if c.ThrottleBy == ThrottlePedal {
		return "pedal"
	}
	return "open"
}

// Validate reports every wrong field of the card by its path in the file, with
// the range it should lie in; nil when all is well.
func (c Card) Validate() error {
	var f faults
	f.inside("coolant_min_c", c.CoolantMinC, -40, 130)
	f.inside("coolant_max_c", c.CoolantMaxC, c.CoolantMinC+1, 140)
	f.oneOf("switch", c.Switch, []string{SwitchRemote, SwitchKey, SwitchEither})
	f.oneOf("throttle_by", c.ThrottleBy, []string{ThrottleLinkage, ThrottlePedal})
	f.inside("strokes_min", float64(c.StrokesMin), 1, 30)
	f.inside("strokes_max", float64(c.StrokesMax), float64(c.StrokesMin), 30)
	f.inside("oil_ml", c.OilML, 0, 50)
	f.inside("oil_ml_min", c.OilMLMin, 0, c.OilML)
	f.inside("oil_ml_max", c.OilMLMax, c.OilML, 50)
	f.inside("thread_mm", c.ThreadMM, 8, 22)
	f.inside("reach_mm", c.ReachMM, 6, 40)
	f.inside("plug_torque_nm", c.PlugTorqueNm, 5, 60)
	f.add(c.Lash.Validate())
	f.add(c.Minutes.Validate())
	f.add(c.Limits.validate("limits."))
	f.names("items", c.Items, 40)
	return f.join()
}

// Validate reports every wrong field of the limits; nil when all is well.
func (l Limits) Validate() error { return l.validate("") }

func (l Limits) validate(path string) error {
	var f faults
	f.zeroOrInside(path+"standard_kpa", l.Standard.KPa(), 200, 3000)
	f.zeroOrInside(path+"minimum_kpa", l.Minimum.KPa(), 100, 3000)
	f.zeroOrInside(path+"difference_kpa", l.DifferenceMax.KPa(), 10, 1000)
	f.oneOf(path+"rule", l.Rule, RuleIDs())
	f.zeroOrInside(path+"ratio_min", l.RatioMin, 0.5, 0.99)
	f.zeroOrInside(path+"printed_at_kpa", float64(l.PrintedAt)/kiloPascal, 50, 110)
	if l.Standard > 0 && l.Minimum > l.Standard {
		f.add(fmt.Errorf("%sminimum_kpa = %g, want at most %sstandard_kpa = %g",
			path, l.Minimum.KPa(), path, l.Standard.KPa()))
	}
	if l.Rule == RuleDifference && l.DifferenceMax == 0 {
		f.add(fmt.Errorf("%sdifference_kpa = 0, but %srule = %q needs it", path, path, l.Rule))
	}
	return f.join()
}

// faults collects sentences about wrong fields, so that whoever writes a file
// can mend it in one pass.
type faults struct{ errs []error }

func (f *faults) add(err error) {
	if err != nil {
		f.errs = append(f.errs, err)
	}
}

func (f *faults) join() error { return errors.Join(f.errs...) }

func (f *faults) inside(path string, v, lo, hi float64) {
	if !(v >= lo && v <= hi) { // also true for NaN
		f.add(fmt.Errorf("%s = %g, want inside [%g, %g]", path, v, lo, hi))
	}
}

func (f *faults) zeroOrInside(path string, v, lo, hi float64) {
	if v != 0 && !(v >= lo && v <= hi) {
		f.add(fmt.Errorf("%s = %g, want 0 (not given) or inside [%g, %g]", path, v, lo, hi))
	}
}

func (f *faults) oneOf(path, v string, list []string) {
	if !slices.Contains(list, v) {
		f.add(fmt.Errorf("%s = %q, want one of %q", path, v, list))
	}
}

func (f *faults) names(path string, list []string, most int) {
	if len(list) > most {
		f.add(fmt.Errorf("%s has %d entries, want at most %d", path, len(list), most))
		return
	}
	for i, s := range list {
		switch {
		case s == "" || len(s) > 64:
			f.add(fmt.Errorf("%s[%d] has %d bytes, want inside [1, 64]", path, i, len(s)))
		case slices.Contains(list[:i], s):
			f.add(fmt.Errorf("%s[%d] = %q stands there twice", path, i, s))
		}
	}
}
