package scenarios_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/scenarios"
)

func file(t *testing.T, id string) string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("data", id+".json"))
	require.NoError(t, err)
	return string(data)
}

// change replaces the first old by new in the burnt valve's file, which has to
// hold it.
func change(t *testing.T, old, new string) string {
	t.Helper()
	data := file(t, "burnt-exhaust-inline-four")
	require.Contains(t, data, old)
	return strings.Replace(data, old, new, 1)
}

func schema(t *testing.T) *jsonschema.Schema {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(scenarios.Schema()))
	require.NoError(t, err)
	c := jsonschema.NewCompiler()
	require.NoError(t, c.AddResource("scenario.schema.json", doc))
	s, err := c.Compile("scenario.schema.json")
	require.NoError(t, err)
	return s
}

func accepts(t *testing.T, s *jsonschema.Schema, data string) bool {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(strings.NewReader(data))
	require.NoError(t, err)
	return s.Validate(doc) == nil
}

func TestSchemaAcceptsTheCatalogue(t *testing.T) {
	s := schema(t)
	for _, sc := range scenarios.Catalogue() {
		assert.True(t, accepts(t, s, file(t, sc.ID)), sc.ID)
	}
}

// bad lists files that neither the decoder nor the schema may take, with the
// sentence a person gets.
var bad = []struct{ old, new, want string }{
	{`"bore_mm": 86`, `"bore_mm": -86`, "engine.bore_mm: -86, want a number from 35 to 190"},
	{`"bore_mm": 86`, `"bore_mm": 0.086`, "engine.bore_mm: 0.086, want a number from 35 to 190"},
	{`"bore_mm": 86`, `"bore_mm": "86"`, "engine.bore_mm: a text, want a number"},
	{`"bore_mm": 86`, `"bore_mn": 86`, "engine.bore_mn: unknown field"},
	{`"bore_mm": 86`, `"Bore_mm": 86`, "engine.Bore_mm: unknown field, it is written bore_mm"},
	{`"bore_mm": 86,`, ``, "engine.bore_mm: missing"},
	{`"cylinders": 4`, `"cylinders": 4.5`, "engine.cylinders: 4.5, want a whole number from 1 to 12"},
	{`"compression_ratio": 10`, `"compression_ratio": 120`, "engine.compression_ratio: 120, want a number from 5 to 20"},
	{`"layout": "inline"`, `"layout": "star"`, `engine.layout: "star", want one of inline, v, flat`},
	{`"gear": "park"`, `"gear": "Park"`, `conditions.gear: "Park", want one of park, neutral, drive`},
	{`"format": 1`, `"format": 2`, "format: 2, want a whole number from 1 to 1"},
	{`"seed": "17"`, `"seed": 17`, "seed: a number, want a text"},
	{`"seed": "17"`, `"seed": "-1"`, `seed: "-1", want a whole number in quotes, from "0" to "18446744073709551615"`},
	{`"id": "burnt-exhaust-inline-four"`, `"id": "Burnt Exhaust"`, `id: "Burnt Exhaust", want small letters, digits, dashes, dots`},
	{`"kind": "exhaust_seat_leak"`, `"kind": "broken"`, `faults[0].kind: "broken" is no kind of fault, see the list of kinds`},
	{`"kind": "exhaust_seat_leak"`, `"kind": "exhaust_seat_leak", "share": 0.5`, "faults[0].share: unknown field"},
	{`"kind": "exhaust_seat_leak", "cylinder": 3,`, `"kind": "exhaust_seat_leak",`, "faults[0].cylinder: missing"},
	{`"kind": "exhaust_seat_leak", "cylinder": 3,`, `"kind": "exhaust_seat_leak", "cylinder": 0,`, "faults[0].cylinder: 0, this engine has cylinders 1 to 4"},
	{`"trains": ["reading"`, `"trains": ["everything"`, `trains[0]: "everything", want one of procedure, reading, one_low, neighbours, all_low, one_high, one_bank, first_stroke, wet_test, battery, throttle, method, sound_engine, leakage, current, running, vacuum, lash, gauge, no_start, contrary_card, by_design, not_compression`},
	{`"family": "valve_leak"`, `"family": "valves"`, `key.family: "valves", want one of sound, valve_leak, tight_lash, valve_not_opening, valve_timing, ring_or_bore, washed_or_dry_bore, head_gasket, carbon_or_liquid, slow_cranking, method_or_gauge, altitude, normal_by_design, not_compression, undecided`},
	{`"plugs_out": true`, `"plugs_out": 1`, "card.plugs_out: a number, want true or false"},
	{`"strokes_min": 5`, `"strokes_min": 0`, "card.strokes_min: 0, want a whole number from 1 to 30"},
}

func TestDecoderAndSchemaRefuseAlike(t *testing.T) {
	s := schema(t)
	for _, c := range bad {
		data := change(t, c.old, c.new)
		_, err := scenarios.Decode([]byte(data))
		assert.EqualError(t, err, c.want)
		assert.False(t, accepts(t, s, data), "the schema takes %s", c.new)
	}
}

// A number far outside, anywhere in a file, is refused by both.
func TestEveryNumberHasARange(t *testing.T) {
	s := schema(t)
	for _, id := range []string{"burnt-exhaust-inline-four", "bank-two-late-v6", "gasket-neighbors-v8", "weak-battery-inline-four", "carbon-inline-four"} {
		whole := file(t, id)
		for _, at := range numbers(t, whole) {
			end := at + strings.IndexAny(whole[at:], ",} ]\n")
			for _, wrong := range []string{"123456", "1e9"} {
				data := whole[:at] + wrong + whole[end:]
				_, err := scenarios.Decode([]byte(data))
				assert.Error(t, err, "decoder takes …%s", data[max(0, at-30):at+2])
				assert.False(t, accepts(t, s, data), "schema takes …%s", data[max(0, at-30):at+2])
			}
		}
	}
}

// The schema is never the narrower of the two: what it refuses the decoder
// refuses. Digits are changed one by one, so that some stay in range.
func TestSchemaIsNotNarrower(t *testing.T) {
	s := schema(t)
	whole := file(t, "weak-battery-inline-four")
	taken := 0
	for _, at := range numbers(t, whole) {
		for _, digit := range []string{"0", "2", "4", "9", "1.", "0.0", "99"} {
			data := whole[:at] + digit + whole[at+1:]
			if !json.Valid([]byte(data)) {
				continue
			}
			if _, err := scenarios.Decode([]byte(data)); err == nil {
				taken++
				assert.True(t, accepts(t, s, data), "…%s", data[max(0, at-30):at+2])
			}
		}
	}
	assert.Greater(t, taken, 150)
}

// What a schema cannot see the decoder still says in a sentence.
func TestDecoderRefusesWhatDoesNotFitTogether(t *testing.T) {
	for _, c := range []struct{ old, new, want string }{
		{`"cylinder": 3`, `"cylinder": 7`, "faults[0].cylinder: 7, this engine has cylinders 1 to 4"},
		{`"bore_mm": 86`, `"bore_mm": 86, "bore_mm": 87`, "engine.bore_mm: given twice"},
		{`"banks": [[1, 2, 3, 4]]`, `"banks": [[1, 2, 3, 3]]`, "engine.banks[0][3]: 3, named twice"},
		{`"banks": [[1, 2, 3, 4]]`, `"banks": [[1, 2, 4]]`, "engine.banks: names 3 cylinders, this engine has 4"},
		{`"banks": [[1, 2, 3, 4]]`, `"banks": [[1, 2], [3, 4]]`, "engine.banks: 2 items, want 1 to 1"},
		{`"firing_order": [1, 3, 4, 2]`, `"firing_order": [3, 4, 2, 1]`, "engine.firing_order: begins with 3, want 1"},
		{`"firing_order": [1, 3, 4, 2]`, `"firing_order": [1, 3, 4, 2], "firing_angles_deg": [0, 180, 180, 540]`, "engine.firing_angles_deg[2]: 180, want more than the angle before it"},
		{`"rod_mm": 145`, `"rod_mm": 80`, "engine.rod_mm: 80, shorter than a rod can be with stroke_mm 86"},
		{`"right_page": "page-cb4-20p"`, `"right_page": "page-x"`, `right_page: "page-x" is not the id of a spec page`},
		{`"kind": "exhaust_seat_leak", "cylinder": 3`, `"kind": "gasket_between", "cylinders": [1, 3]`, "faults[0].cylinders: 1 and 3 are not side by side in one bank"},
		{`"strokes_max": 8`, `"strokes_max": 3`, "card.strokes_max = 3, want inside [5, 30]"},
		{`"thread_mm": 14, "reach_mm": 19, "torque_nm": 25`, `"thread_mm": 12, "reach_mm": 19, "torque_nm": 25`, "card.thread_mm: 14, engine.plug.thread_mm is 12"},
		{`"id": "gauge-b"`, `"id": "gauge-a"`, `tools.gauges[1].id: "gauge-a", given twice`},
		{`{ "id": "m14-19-ring", "thread_mm": 14`, `{ "id": "m14-19-ring", "thread_mm": 18`, "tools.adapters: none fits engine.plug (thread 14 mm, reach 19 mm)"},
	} {
		_, err := scenarios.Decode([]byte(change(t, c.old, c.new)))
		assert.EqualError(t, err, c.want)
	}
	v8 := file(t, "gasket-neighbors-v8")
	_, err := scenarios.Decode([]byte(strings.Replace(v8, `"cylinders": [5, 7]`, `"cylinders": [7, 8]`, 1)))
	assert.EqualError(t, err, "faults[0].cylinders: 7 and 8 are not side by side in one bank")
	v6 := file(t, "bank-two-late-v6")
	_, err = scenarios.Decode([]byte(strings.Replace(v6, `"cams": "twin"`, `"cams": "block"`, 1)))
	assert.EqualError(t, err, "faults[0].bank: 2, one cam serves all cylinders of this engine")
}

func TestRubbishIsRefusedQuicklyInOneSentence(t *testing.T) {
	whole := file(t, "sound-inline-four")
	for name, data := range map[string]string{
		"empty":             "",
		"blank":             " \n\t",
		"truncated":         whole[:len(whole)/2],
		"brackets":          strings.Repeat("[", 10<<20),
		"deep":              strings.Repeat("[", 1<<19),
		"not a number":      strings.Replace(whole, `"bore_mm": 86`, `"bore_mm": NaN`, 1),
		"negative bore":     strings.Replace(whole, `"bore_mm": 86`, `"bore_mm": -1`, 1),
		"a list":            "[]",
		"a number":          "7",
		"two documents":     whole + whole,
		"no faults at all":  `{"faults": null}`,
		"endless cylinders": `{"engine": {"cylinders": 1e300, "banks": [[1]]}}`,
	} {
		t.Run(name, func(t *testing.T) {
			start := time.Now()
			_, err := scenarios.Decode([]byte(data))
			require.Error(t, err)
			assert.Less(t, len(err.Error()), 250)
			assert.NotContains(t, err.Error(), "\n")
			// Milliseconds; the rest is patience with a busy machine.
			assert.Less(t, time.Since(start), 30*time.Second)
		})
	}
}

func TestEncodeReadsBackEqual(t *testing.T) {
	for _, s := range scenarios.Catalogue() {
		data, err := s.Encode()
		require.NoError(t, err)
		back, err := scenarios.Decode(data)
		require.NoError(t, err, s.ID)
		assert.Equal(t, s, back, s.ID)
		assert.Equal(t, s.Digest(), back.Digest())
	}
}

// Every number of a file counts in its digest; texts for people do not.
func TestDigestSeesEveryNumber(t *testing.T) {
	whole := file(t, "burnt-exhaust-inline-four")
	before, err := scenarios.Decode([]byte(whole))
	require.NoError(t, err)
	changed := 0
	for _, at := range numbers(t, whole) {
		for _, digit := range "1357" {
			data := whole[:at] + string(digit) + whole[at+1:]
			s, err := scenarios.Decode([]byte(data))
			if err != nil || data == whole {
				continue // out of range, or does not fit the rest of the file
			}
			changed++
			assert.NotEqual(t, before.Digest(), s.Digest(), "digit %c at byte %d: …%s…", digit, at, whole[at-20:at+10])
		}
	}
	assert.Greater(t, changed, 150)

	words, err := scenarios.Decode([]byte(strings.Replace(whole, before.Complaint.EN, "Other words.", 1)))
	require.NoError(t, err)
	assert.Equal(t, before.Digest(), words.Digest())
	assert.NotEqual(t, before.Complaint, words.Complaint)
}

// numbers returns where the first digit of each JSON number stands.
func numbers(t *testing.T, data string) []int {
	t.Helper()
	dec := json.NewDecoder(strings.NewReader(data))
	dec.UseNumber()
	var at []int
	for {
		tok, err := dec.Token()
		if err != nil {
			return at
		}
		if n, ok := tok.(json.Number); ok {
			start := int(dec.InputOffset()) - len(n)
			if n[0] == '-' {
				start++
			}
			at = append(at, start)
		}
	}
}

func FuzzDecode(f *testing.F) {
	entries, err := os.ReadDir("data")
	if err != nil {
		f.Fatal(err)
	}
	for _, e := range entries {
		data, err := os.ReadFile(filepath.Join("data", e.Name()))
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	for _, c := range bad {
		f.Add([]byte(fmt.Sprintf("{%s}", c.new)))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		s, err := scenarios.Decode(data)
		if err != nil {
			assert.Less(t, len(err.Error()), 600)
			return
		}
		again, err := s.Encode()
		require.NoError(t, err)
		back, err := scenarios.Decode(again)
		require.NoError(t, err)
		assert.Equal(t, s.Digest(), back.Digest())
		p := s.Params()
		assert.NoError(t, p.Validate())
	})
}
