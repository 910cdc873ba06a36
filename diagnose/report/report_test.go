package report

import (
	"encoding/json"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/diagnose"
	"crankbay/sim/record"
	"crankbay/sim/unit"
)

// throttleShut is an attempt with one cylinder read and the throttle shut.
func throttleShut() diagnose.Input {
	card := diagnose.DefaultCard()
	card.Limits = diagnose.Limits{Standard: 1300e3, Minimum: 980e3, Rule: diagnose.RuleRatio75, RatioMin: 0.75}
	var strokes []record.Stroke
	for _, psi := range []float64{100, 130, 142.5, 147.5, 150} {
		strokes = append(strokes, record.Stroke{Shown: psi * unit.PascalPerPSI, Full: true})
	}
	return diagnose.Input{
		Card: card, Cylinders: 4, Mode: "alone", Hints: 2,
		Key: diagnose.Key{Family: diagnose.FamilyHeadGasket, Cylinders: []int{2, 3}},
		Record: record.Record{
			Tick:   3600,
			Events: []record.Event{{Kind: "starter", Choice: "on"}, {Kind: "hazard", Choice: "gear_engaged", Tick: 10}},
			Runs: []record.Run{{
				ID: 1, EndTick: 3600, Cylinder: 1, Strokes: strokes, PlugsOut: 4, CoolantC: 88, GaugeAtZero: true, SpeedRPM: 250,
				BatteryMinV: 10.2, FuelDisabled: true, IgnitionDisabled: true,
			}},
		},
		Sheet: diagnose.Sheet{
			Entries:  []diagnose.Entry{{Field: diagnose.FieldDryLast, Cylinder: 1, Number: 150 * unit.PascalPerPSI, Tick: 3600}},
			Findings: []diagnose.Finding{{Family: diagnose.FamilySound}}, Sure: "certain", ConcludedTick: 3600,
			Evidence: []string{"dry", "wet"}, HandedIn: true,
		},
	}
}

// Every rule has two sentences, and they use only facts that the rule gives.
func TestEveryRuleHasSentences(t *testing.T) {
	for _, name := range diagnose.RuleNames() {
		s, ok := sentenceOf(name)
		require.True(t, ok, name)
		for _, text := range []string{s.passed, s.failed} {
			assert.NotEmpty(t, text, name)
			for _, f := range placeholders(text) {
				assert.Contains(t, diagnose.RuleFacts(name), f, "%s: %q", name, text)
			}
		}
	}
	assert.Equal(t, "no_such_rule", Sentence(diagnose.Line{Rule: "no_such_rule"}))
}

// A sentence without any of its facts, and one with several of each, still reads:
// no braces, no bars, no double spaces.
func TestSentencesReadWithAndWithoutFacts(t *testing.T) {
	for _, name := range diagnose.RuleNames() {
		var full []diagnose.Fact
		for _, f := range diagnose.RuleFacts(name) {
			full = append(full, diagnose.Fact{Name: f, Value: 2}, diagnose.Fact{Name: f, Value: 3}, diagnose.Fact{Name: f, Value: 2})
		}
		for _, facts := range [][]diagnose.Fact{nil, full} {
			for _, passed := range []bool{true, false} {
				if passed && facts == nil {
					continue // what was kept always gives its facts
				}
				s := Sentence(diagnose.Line{Rule: name, Passed: passed, Facts: facts})
				assert.NotRegexp(t, `[{}|]|  |^ | $`, s, name)
			}
		}
	}
}

// A fact that came twice with one value is said once.
func TestValuesAreSaidOnce(t *testing.T) {
	f := diagnose.Fact{Name: "cylinder", Value: 2}
	assert.Equal(t, []string{"2", "3"}, values("cylinder", []diagnose.Fact{f, {Name: "cylinder", Value: 3}, f}))
	assert.Equal(t, "145 psi (1000 kPa)", value(diagnose.Fact{Value: 145 * unit.PascalPerPSI, Unit: "Pa"}))
	assert.Equal(t, "rings or bore", value(diagnose.Fact{Key: diagnose.FamilyRingOrBore}))
}

// What was found on single cylinders is said for each of them, once for those of
// which the same is to be said.
func TestEachCylinderGetsItsOwnSentence(t *testing.T) {
	n := func(name string, v float64) diagnose.Fact { return diagnose.Fact{Name: name, Value: v} }
	bounds := []diagnose.Fact{n("least", 4), n("most", 8), n("good", 2), n("of", 4)}
	for _, c := range []struct {
		rule  string
		facts []diagnose.Fact
		want  string
	}{
		{"strokes_enough", []diagnose.Fact{n("cylinder", 2), n("strokes", 2), n("cylinder", 4), n("strokes", 3)},
			"2 of 4 cylinders got the strokes of the card (4 to 8). Cylinder 2 got 2. Cylinder 4 got 3."},
		{"strokes_enough", []diagnose.Fact{n("cylinder", 2), n("strokes", 2), n("cylinder", 4), n("strokes", 2)},
			"2 of 4 cylinders got the strokes of the card (4 to 8). Cylinders 2 and 4 got 2."},
		{"strokes_enough", []diagnose.Fact{n("cylinder", 2), n("strokes", 2)},
			"2 of 4 cylinders got the strokes of the card (4 to 8). Cylinder 2 got 2."},
		{"throttle_held", []diagnose.Fact{n("cylinder", 1), n("cylinder", 3), n("cylinder", 4)},
			"Throttle open on 2 of 4 cylinders; not on cylinders 1, 3 and 4. Shut, it starves every stroke and all read low."},
		{"no_number_invented", []diagnose.Fact{
			n("cylinder", 0), {Name: "field", Key: "rpm"}, {Name: "written", Value: 250, Unit: "rpm"},
			n("cylinder", 3), {Name: "field", Key: "dry_last"}, {Name: "written", Value: 1e6, Unit: "Pa"}, n("other", 4), n("times", 2)},
			"2 number(s) without a reading behind. The whole engine: rpm, written 250 rpm. " +
				"Cylinder 3: dry last, written 145 psi (1000 kPa). Cylinder 3: that was seen on cylinder 4."},
		{"method_first", []diagnose.Fact{n("cylinder", 1), {Name: "fault", Key: "throttle_shut"}, n("cylinder", 2), {Name: "fault", Key: "throttle_shut"}},
			"Spoiled by method and not taken again. Cylinders 1 and 2: throttle shut. Fix the method, then read what remains."},
	} {
		facts := append(append([]diagnose.Fact{}, c.facts...), bounds...)
		assert.Equal(t, c.want, Sentence(diagnose.Line{Rule: c.rule, Facts: facts}))
	}
}

func placeholders(text string) []string {
	var out []string
	for {
		i := strings.IndexByte(text, '{')
		if i < 0 {
			return out
		}
		k := strings.IndexByte(text[i:], '}')
		out = append(out, text[i+1:i+k])
		text = text[i+k+1:]
	}
}

// The report fits a terminal of 80 columns and ends in a newline, no line in a
// space.
func TestTextFits(t *testing.T) {
	for _, in := range []diagnose.Input{throttleShut(), {}, {Mode: strings.Repeat("long ", 99)}} {
		text := Text(diagnose.Grade(in))
		assert.True(t, strings.HasSuffix(text, ".\n"))
		for _, row := range diagnose.Grade(in).Rows {
			for _, l := range row.Lines {
				assert.NotEqual(t, l.Rule, Sentence(l), "a line without words")
			}
		}
		for _, l := range strings.Split(text, "\n") {
			assert.LessOrEqual(t, utf8.RuneCountInString(l), width, l)
			assert.Equal(t, strings.TrimRight(l, " "), l)
		}
	}
}

// What someone looks for first is there: the verdict, the mark for a pass, hints
// beside the score, which rule counts, what was done wrong and when.
func TestTextSaysWhatCounts(t *testing.T) {
	text := Text(diagnose.Grade(throttleShut()))
	for _, want := range []string{
		"NOT PASSED", "70 % of the points", "Way of working: alone. Hints used: 2", "gear engaged (1 time(s))", "(At 3.0 s of cranking.)",
		"Throttle open on 0 of 1 cylinders", "counts for this engine", "simulated", "Inside was: head gasket, cylinders 2 and 3.",
		"100", "150",
	} {
		assert.Contains(t, strings.Join(strings.Fields(text), " "), strings.Join(strings.Fields(want), " "))
	}
	in := throttleShut()
	in.Record.Runs = nil
	assert.Contains(t, Text(diagnose.Grade(in)), "No reading was taken.")
}

// JSON is the result itself: it comes back with the same points, and always with
// lists where lists belong.
func TestJSON(t *testing.T) {
	r := diagnose.Grade(throttleShut())
	data, err := JSON(r)
	require.NoError(t, err)
	assert.True(t, strings.HasSuffix(string(data), "}\n"))
	var back diagnose.Result
	require.NoError(t, json.Unmarshal(data, &back))
	assert.Equal(t, r.Points, back.Points)
	assert.Len(t, back.Rows, 5)

	empty, err := JSON(diagnose.Grade(diagnose.Input{}))
	require.NoError(t, err)
	assert.NotContains(t, string(empty), "null")
}
