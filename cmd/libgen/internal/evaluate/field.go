package evaluate

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"strconv"

	"crankbay/diagnose"
	"crankbay/diagnose/library"
	"crankbay/diagnose/reason"
	"crankbay/sim/unit"
)

// A FieldCase is one case of the field as the file has it.
type FieldCase struct {
	ID         string     `json:"id"`
	Engine     string     `json:"engine"`
	Cylinders  *int       `json:"cylinders"`
	Layout     *string    `json:"layout"`
	Dry        []*float64 `json:"dry_psi"`
	Wet        []*float64 `json:"wet_psi"`
	Leakage    []*float64 `json:"leakage_pct"`
	Outcome    string     `json:"outcome_class"`
	Second     *string    `json:"second_class"`
	Confidence string     `json:"outcome_confidence"`
	OrderKnown *bool      `json:"order_known"`
	Stated     []string   `json:"stated"`
}

// Recorded is what the words beside a case's numbers say, in the form of evidence: the
// conditions and notes of the case, never its outcome.
type Recorded struct {
	ID        string               `json:"id"`
	Cylinders int                  `json:"cylinders"`
	Dry       []*float64           `json:"dry_psi"`
	Wet       []*float64           `json:"wet_psi"`
	Repeats   map[string][]float64 `json:"repeats_psi"`
	SecondPSI map[string]float64   `json:"second_psi"`
	Heard     map[string][]string  `json:"heard"`
	Bore      map[string]string    `json:"bore"`
	Dead      []int                `json:"dead"`
	Low       []int                `json:"low"`    // in words
	Normal    []int                `json:"normal"` // likewise
	Banks     [][]int              `json:"banks"`
	Standard  float64              `json:"standard_psi"`
	Minimum   float64              `json:"minimum_psi"`
	Ratio     float64              `json:"ratio"`
	HeightFT  float64              `json:"altitude_ft"`
	Throttle  string               `json:"throttle"`
	Warm      string               `json:"warm"`
	TwoStroke bool                 `json:"two_stroke"`
	History   []string             `json:"history"`
}

// ReadField reads the cases, and what is recorded of each beside its numbers.
func ReadField(cases, recorded []byte) ([]FieldCase, map[string]Recorded, error) {
	var list []FieldCase
	err := jsonLines(cases, func(line []byte) error {
		var c FieldCase
		err := json.Unmarshal(line, &c)
		list = append(list, c)
		return err
	})
	if err != nil {
		return nil, nil, err
	}
	by := map[string]Recorded{}
	err = jsonLines(recorded, func(line []byte) error {
		var r Recorded
		dec := json.NewDecoder(bytes.NewReader(line))
		dec.DisallowUnknownFields()
		err := dec.Decode(&r)
		by[r.ID] = r
		return err
	})
	return list, by, err
}

func jsonLines(data []byte, each func([]byte) error) error {
	s := bufio.NewScanner(bytes.NewReader(data))
	s.Buffer(nil, 1<<20)
	for n := 1; s.Scan(); n++ {
		if len(bytes.TrimSpace(s.Bytes())) == 0 {
			continue
		}
		if err := each(s.Bytes()); err != nil {
			return fmt.Errorf("line %d: %w", n, err)
		}
	}
	return s.Err()
}

// FieldGroup returns the group of an outcome; empty for one that no group names.
func FieldGroup(outcome string) string {
	switch outcome {
	case "rings_piston":
		return diagnose.FamilyRingOrBore
	case "dry_or_fuel_washed":
		return diagnose.FamilyWashedOrDry
	case "gauge_or_method":
		return diagnose.FamilyMethodOrGauge
	case "valvetrain_not_opening":
		return diagnose.FamilyValveNotOpening
	case "valve_adjust":
		return diagnose.FamilyTightLash
	case "design_normal":
		return diagnose.FamilyNormalByDesign
	case "normal_not_compression":
		return diagnose.FamilyNotCompression
	case "carbon":
		return diagnose.FamilyCarbonOrLiquid
	case "unresolved", "foreign_object":
		return ""
	}
	return outcome
}

// Evidence is what the numbers of a case say, and with r what was recorded beside them.
func (c *FieldCase) Evidence(r *Recorded) reason.Evidence {
	e := reason.Evidence{Rough: true}
	if c.Layout != nil {
		e.Layout = map[string]string{"inline": reason.LayoutInline, "V": reason.LayoutV, "flat": reason.LayoutFlat}[*c.Layout]
	}
	dry, wet, n := c.Dry, c.Wet, len(c.Dry)
	if r != nil && r.Dry != nil {
		dry, n = r.Dry, len(r.Dry)
	}
	if r != nil && r.Wet != nil {
		wet = r.Wet
	}
	if r != nil {
		n = max(n, r.Cylinders)
	}
	e.Cylinders = make([]reason.Cylinder, n)
	for i := range e.Cylinders {
		y := &e.Cylinders[i]
		y.Dry, y.Wet = at(dry, i), at(wet, i)
		if i < len(c.Leakage) && c.Leakage[i] != nil {
			y.Leakage = reason.Of(*c.Leakage[i])
		}
	}
	for _, s := range c.Stated {
		switch s {
		case "throttle":
			e.Throttle = reason.Yes
		case "plugs_out":
			e.Plugs = reason.Yes
		case "strokes":
			e.Strokes = reason.Yes
		case "temp":
			e.Warm = reason.Yes
		}
	}
	if r != nil {
		r.into(&e)
	}
	return e
}

func at(list []*float64, i int) reason.Number {
	if i < len(list) && list[i] != nil {
		return pa(*list[i])
	}
	return reason.Number{}
}

// into adds what was recorded.
func (r *Recorded) into(e *reason.Evidence) {
	for i := range e.Cylinders {
		y, key := &e.Cylinders[i], strconv.Itoa(i+1)
		for _, p := range r.Repeats[key] {
			y.Repeats = append(y.Repeats, float64(unit.PSI(p)))
		}
		if p, ok := r.SecondPSI[key]; ok {
			y.Second = pa(p)
		}
		y.Heard, y.Bore = r.Heard[key], r.Bore[key]
	}
	for _, c := range r.Dead {
		e.Cylinders[c-1].Dead = reason.Yes
	}
	for _, c := range r.Low {
		e.Cylinders[c-1].Low = reason.Yes
	}
	for _, c := range r.Normal {
		e.Cylinders[c-1].Low = reason.No
	}
	for _, p := range []struct {
		psi float64
		to  *reason.Number
	}{{r.Standard, &e.Standard}, {r.Minimum, &e.Minimum}} {
		if p.psi > 0 {
			*p.to = pa(p.psi)
		}
	}
	if r.Ratio > 0 {
		e.Ratio = reason.Of(r.Ratio)
	}
	if r.HeightFT > 0 {
		e.Ambient = reason.Of(airAt(r.HeightFT * 0.3048))
	}
	if r.Throttle == "shut" {
		e.Throttle = reason.No
	}
	if r.Warm == "no" {
		e.Warm = reason.No
	}
	e.Banks, e.TwoStroke, e.History = r.Banks, r.TwoStroke, r.History
}

// A FieldScore counts cases whose outcome is confirmed or agreed.
type FieldScore struct{ N, First, Three int }

// JudgeField holds one case against its outcome and returns a line about it. Suspected
// outcomes, and those without a group, are listed and not counted.
func JudgeField(lib *library.Library, c *FieldCase, r *Recorded, score *FieldScore) map[string]any {
	e := c.Evidence(r)
	o := reason.Explain(lib, e, reason.Priors{})
	want := FieldGroup(c.Outcome)
	rank := 0
	var groups []map[string]any
	for i, g := range o.Groups {
		if g.Group == want {
			rank = i + 1
		}
		if i < 4 {
			groups = append(groups, map[string]any{"group": g.Group, "probability": round(g.Probability)})
		}
	}
	line := map[string]any{
		"id": c.ID, "outcome": c.Outcome, "group": want, "confidence": c.Confidence, "rank": rank, "groups": groups, "tells": o.Tells,
	}
	if len(o.Explanations) > 0 {
		x := o.Explanations[0]
		line["first"] = map[string]any{"family": x.Family, "cylinders": x.Cylinders, "probability": round(x.Probability)}
	}
	counted := want != "" && c.Confidence != "suspected" && anything(&e)
	line["counted"] = counted
	if !counted {
		return line
	}
	score.N++
	if rank == 1 {
		score.First++
	}
	if rank >= 1 && rank <= 3 {
		score.Three++
	}
	if rank != 1 {
		line["why"] = why(&o, &e)
	}
	return line
}

func round(p float64) float64 { return float64(int(1000*p+0.5)) / 1000 }

// anything says whether there is a number at all to reason from.
func anything(e *reason.Evidence) bool {
	for _, c := range e.Cylinders {
		if c.Dry.Is || c.Leakage.Is {
			return true
		}
	}
	return false
}

// why explains a miss by what was recorded, what was not, and which tests would have
// parted the first explanations.
func why(o *reason.Opinion, e *reason.Evidence) map[string]any {
	has := map[string]bool{}
	for _, c := range e.Cylinders {
		has["dry"] = has["dry"] || c.Dry.Is
		has["wet"] = has["wet"] || c.Wet.Is
		has["first_stroke"] = has["first_stroke"] || c.First.Is
		has["leakage"] = has["leakage"] || c.Leakage.Is
		has["heard"] = has["heard"] || len(c.Heard) > 0
		has["repeat"] = has["repeat"] || len(c.Repeats) > 0
		has["borescope"] = has["borescope"] || c.Bore != ""
	}
	has["throttle"] = e.Throttle != reason.NotKnown
	has["speed"] = e.Speed.Is
	has["page"] = e.Standard.Is || e.Minimum.Is
	has["history"] = len(e.History) > 0
	var yes, no []string
	for _, k := range []string{"dry", "first_stroke", "wet", "repeat", "leakage", "heard", "borescope", "throttle", "speed", "page", "history"} {
		if has[k] {
			yes = append(yes, k)
		} else {
			no = append(no, k)
		}
	}
	var would []string
	for _, t := range o.NextTests(reason.Shop{Minutes: diagnose.DefaultMinutes(), LashCheck: true, Oil: true, Runs: true}).Tests {
		if len(would) < 3 && t.Bits > 0.1 {
			would = append(would, t.Test)
		}
	}
	return map[string]any{"recorded": yes, "not_recorded": no, "would_have_told": would}
}

// airAt returns the pressure of the standard atmosphere at a height [m], below 11 km
// [Pa].
func airAt(metres float64) float64 { return 101325 * math.Pow(1-2.25577e-5*metres, 5.25588) }
