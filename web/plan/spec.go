package plan

import (
	"encoding/json"
	"fmt"
	"sort"

	"crankbay/web/wire"
)

// A Spec is what the drawing must know and no snapshot carries: what the engine
// is, what the gauge's scale looks like, and where the tools lie. In JSON all of
// it stands on one level.
type Spec struct {
	EngineSpec
	GaugeSpec
	StateSpec
	Theme   string            `json:"theme"`   // light, dark
	Colours map[string]string `json:"colours"` // tone name to #rrggbb, over the theme
	NoDial  bool              `json:"no_dial"` // the page shows it above; the hose leads there
}

// An EngineSpec describes the engine's outside.
type EngineSpec struct {
	Layout    string  `json:"layout"` // inline, v, flat
	Cylinders int     `json:"cylinders"`
	Banks     [][]int `json:"banks"`     // cylinder numbers, front to rear
	Cams      string  `json:"cams"`      // twin, single, block
	CamDrive  string  `json:"cam_drive"` // belt, chain, pushrod
	BoreMM    float64 `json:"bore_mm"`
	StrokeMM  float64 `json:"stroke_mm"`
	RodMM     float64 `json:"rod_mm"`
}

// A GaugeSpec is the gauge's name and the scale on its face.
type GaugeSpec struct {
	Gauge         string  `json:"gauge"` // empty: none chosen, none drawn
	RangePSI      float64 `json:"range_psi"`
	GraduationPSI float64 `json:"graduation_psi"`
}

// A StateSpec is where the tools are. What the snapshot carries too (plugs in or
// out, throttle) is taken from there.
type StateSpec struct {
	Plugs      []PlugSpec `json:"plugs"`
	Leads      *bool      `json:"leads"` // false: coils and connectors lie aside
	Charger    flag       `json:"charger"`
	Switch     string     `json:"switch"`   // remote, key; empty: neither chosen yet
	Ignition   string     `json:"ignition"` // disabled: the coils are unplugged
	Fuel       string     `json:"fuel"`     // disabled: the injectors are unplugged
	Voltmeter  flag       `json:"voltmeter"`
	Tachometer flag       `json:"tachometer"`
}

// A PlugSpec says how a plug that is out lies on the tray.
type PlugSpec struct {
	Cylinder int    `json:"cylinder"`
	Order    string `json:"order"` // ordered, loose
}

// flag is a yes or no that also reads the words of the bench's actions.
type flag bool

// UnmarshalJSON reads true, "on", "open", "yes"; every other value is no.
func (f *flag) UnmarshalJSON(data []byte) error {
	switch string(data) {
	case "true", "1", `"on"`, `"open"`, `"yes"`, `"true"`:
		*f = true
	default:
		*f = false
	}
	return nil
}

// ParseSpec reads a Spec from JSON, leaves unknown fields out, and puts in place
// what is missing. It reports JSON that is none and an engine that cannot be:
// cylinders out of 1..wire.MaxCylinders or banks that do not hold each number once.
func ParseSpec(data []byte) (Spec, error) {
	var s Spec
	if err := json.Unmarshal(data, &s); err != nil {
		return Spec{}, fmt.Errorf("plan: %w", err)
	}
	if err := s.EngineSpec.complete(); err != nil {
		return Spec{}, err
	}
	return s, nil
}

func (e *EngineSpec) complete() error {
	if e.Cylinders < 1 || e.Cylinders > wire.MaxCylinders {
		return fmt.Errorf("plan: cylinders = %d, want 1 to %d", e.Cylinders, wire.MaxCylinders)
	}
	if len(e.Banks) == 0 {
		e.Banks = usualBanks(e.Layout, e.Cylinders)
	}
	var all []int
	for _, b := range e.Banks {
		all = append(all, b...)
	}
	sort.Ints(all)
	if len(all) != e.Cylinders || len(e.Banks) > 2 {
		return fmt.Errorf("plan: banks hold %d cylinders in %d banks, want %d in 1 or 2", len(all), len(e.Banks), e.Cylinders)
	}
	for i, n := range all {
		if n != i+1 {
			return fmt.Errorf("plan: banks: cylinder %d is missing or there twice", i+1)
		}
	}
	e.BoreMM = within(e.BoreMM, 30, 200, 86)
	e.StrokeMM = within(e.StrokeMM, 30, 200, 86)
	e.RodMM = within(e.RodMM, 0.8*e.StrokeMM, 400, 1.65*e.StrokeMM)
	return nil
}

// usualBanks numbers an engine that came without banks.
func usualBanks(layout string, n int) [][]int {
	count := 1
	if layout == "v" || layout == "flat" {
		count = 2
	}
	banks := make([][]int, count)
	for i := range n {
		banks[i%count] = append(banks[i%count], i+1)
	}
	return banks
}

func within(x, low, high, otherwise float64) float64 {
	if !(x >= low && x <= high) {
		return otherwise
	}
	return x
}

// coil says how the coil of a cylinder sits: off when it came off with its plug
// and has not been put back, else unplugged with the ignition disabled.
func (s *StateSpec) coil(cylinder int) coil {
	for _, p := range s.Plugs {
		if p.Cylinder == cylinder && p.Order != "" && s.Leads != nil && !*s.Leads {
			return coilOff
		}
	}
	if s.Ignition == "disabled" {
		return coilUnplugged
	}
	return coilOn
}

// coil is how a coil or lead sits on a plug that is in.
type coil int

const (
	coilOn coil = iota
	coilUnplugged
	coilOff
)

// loose reports whether the plug of a cylinder was laid down out of order.
func (s *StateSpec) loose(cylinder int) bool {
	for _, p := range s.Plugs {
		if p.Cylinder == cylinder {
			return p.Order == "loose"
		}
	}
	return false
}
