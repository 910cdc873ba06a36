package report

import (
	"fmt"
	"strings"

	"crankbay/diagnose"
	"crankbay/sim/unit"
)

// Sentence returns the English sentence of a line with its facts filled in. A
// rule without a sentence gives its bare name.
func Sentence(l diagnose.Line) string {
	s, ok := sentenceOf(l.Rule)
	if !ok {
		return l.Rule
	}
	text := s.failed
	if l.Passed {
		text = s.passed
	}
	if text = strings.TrimSpace(fill(text, l.Facts)); text == "" {
		return l.Rule
	}
	return text
}

func value(f diagnose.Fact) string {
	if f.Name == "pattern" {
		return patternWords(f.Key)
	}
	if f.Key != "" {
		return plain(f.Key)
	}
	switch f.Unit {
	case "Pa":
		return fmt.Sprintf("%s psi (%.0f kPa)", psi(f.Value/unit.PascalPerPSI), f.Value/1000)
	case "%":
		return percent(f.Value)
	case "":
		return fmt.Sprintf("%g", f.Value)
	}
	return strings.TrimSuffix(fmt.Sprintf("%.1f", f.Value), ".0") + " " + f.Unit
}

// plain turns a key into words.
func plain(key string) string {
	switch key {
	case diagnose.FamilyRingOrBore:
		return "rings or bore"
	case diagnose.FamilyWashedOrDry:
		return "washed or dry bore"
	case diagnose.FamilyCarbonOrLiquid:
		return "carbon or liquid in the chamber"
	case diagnose.FamilyMethodOrGauge:
		return "method or gauge"
	case diagnose.FamilyNotCompression:
		return "not a compression problem"
	case "not_said":
		return "nothing"
	case diagnose.HeardNeighbour:
		return "a neighbor's plug hole"
	case "tester_overlap":
		return "at overlap, one turn out, with both valves open"
	case "tester_off_top":
		return "the piston was nowhere near a top"
	case "air_turned_crank":
		return "off the top, and the air pushed the crank round"
	}
	return strings.ReplaceAll(key, "_", " ")
}

// patternWords says what the readings look like side by side.
func patternWords(key string) string {
	switch key {
	case diagnose.PatternNothing:
		return "no readings"
	case diagnose.PatternPartial:
		return "not every cylinder was read"
	case diagnose.PatternPartLow:
		return "one low, but not every cylinder was read"
	case diagnose.PatternMethod:
		return "readings spoiled by method"
	case diagnose.PatternMethodLo:
		return "spoiled by method, and yet one stands out low"
	case diagnose.PatternSlow:
		return "cranked too slowly"
	case diagnose.PatternWander:
		return "one cylinder reads differently every time"
	case diagnose.PatternWithin:
		return "all within limits, none stands out"
	case diagnose.PatternAllLow, diagnose.PatternAllHigh:
		return plain(key) + " and even"
	case diagnose.PatternOneLow, diagnose.PatternOneHigh:
		return "one stands out" + strings.TrimPrefix(plain(key), "one")
	case diagnose.PatternPair:
		return "two neighbors low"
	case diagnose.PatternBankLow:
		return "one bank low"
	case diagnose.PatternSeveral:
		return "several low, not neighbors only"
	}
	return plain(key)
}

func rowTitle(name string) string {
	switch name {
	case diagnose.RowPrepare:
		return "Prepare safely, put back"
	case diagnose.RowMeasure:
		return "Measure correctly"
	case diagnose.RowRecord:
		return "Record"
	case diagnose.RowChoose:
		return "Choose tests in order"
	case diagnose.RowConclude:
		return "Conclude with evidence"
	}
	return name
}

func ruleTitle(id string) string {
	switch id {
	case diagnose.RuleRatio75:
		return "lowest at least 75 % of highest"
	case diagnose.RuleRatio70:
		return "at least 70 % and 690 kPa (100 psi)"
	case diagnose.RuleDifference:
		return "not further apart than the page says"
	case diagnose.RuleWithin10:
		return "within 10 % of the highest"
	case diagnose.RuleMean20:
		return "within 20 % of the mean"
	case diagnose.RuleMinimum:
		return "lowest at least the page's minimum"
	}
	return id
}
