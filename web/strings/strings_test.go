package strings

import (
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	gostrings "strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/diagnose"
	"crankbay/diagnose/intake"
	"crankbay/diagnose/opinion"
	"crankbay/diagnose/reason"
	"crankbay/scenarios"
	"crankbay/scenarios/attempt"
	"crankbay/scenarios/coach"
	"crankbay/scenarios/collect"
	"crankbay/scenarios/compose"
	"crankbay/scenarios/debrief"
	"crankbay/sim/bench"
)

const shell = "../shell"

func tables(t *testing.T) map[string]map[string]Text {
	t.Helper()
	all := map[string]map[string]Text{}
	for _, language := range Languages() {
		table, err := Table(language)
		require.NoError(t, err)
		require.NotEmpty(t, table)
		all[language] = table
	}
	return all
}

// has asserts that a table has a key, without printing the whole table.
func has(t *testing.T, table map[string]Text, key, format string, args ...any) {
	t.Helper()
	_, ok := table[key]
	assert.Truef(t, ok, "no text for %q: "+format, append([]any{key}, args...)...)
}

// One language may not know a sentence that another one lacks.
func TestEveryLanguageHasTheSameKeys(t *testing.T) {
	all := tables(t)
	for key, text := range all["en"] {
		other, ok := all["es"][key]
		if !assert.Truef(t, ok, "es.json lacks %q", key) {
			continue
		}
		assert.Equalf(t, text.One != "", other.One != "", "%q has a plural in one language only", key)
	}
	for key := range all["es"] {
		has(t, all["en"], key, "en.json lacks %q", key)
	}
}

// A parameter that one language leaves out is a fact that its readers miss.
func TestPlaceholdersAgree(t *testing.T) {
	all := tables(t)
	for key, text := range all["en"] {
		en, es := distinct(text.Placeholders()), distinct(all["es"][key].Placeholders())
		assert.Equalf(t, en, es, "placeholders of %q", key)
	}
}

func distinct(names []string) []string {
	slices.Sort(names)
	return slices.Compact(names)
}

// No sentence is left empty, untrimmed or with a broken placeholder.
func TestTextsAreWhole(t *testing.T) {
	broken := regexp.MustCompile(`\{[^a-z]|\{[a-z_]*[^a-z_}]|[^a-z_]\}|undefined|TODO`)
	for language, table := range tables(t) {
		for key, text := range table {
			for _, form := range []string{text.One, text.Other} {
				assert.Equalf(t, gostrings.TrimSpace(form), form, "%s %q", language, key)
				assert.NotRegexpf(t, broken, form, "%s %q", language, key)
			}
			assert.NotEmptyf(t, text.Other, "%s %q", language, key)
		}
	}
}

// A file that holds a key twice would show one of its sentences at random.
func TestNoKeyStandsTwice(t *testing.T) {
	for _, language := range Languages() {
		data, err := Files.ReadFile(language + ".json")
		require.NoError(t, err)
		d := json.NewDecoder(gostrings.NewReader(string(data)))
		_, err = d.Token()
		require.NoError(t, err)
		seen := map[string]bool{}
		for d.More() {
			key, err := d.Token()
			require.NoError(t, err)
			name := key.(string)
			assert.Falsef(t, seen[name], "%s.json holds %q twice", language, name)
			seen[name] = true
			var skip json.RawMessage
			require.NoError(t, d.Decode(&skip))
		}
	}
}

// listed is every key that Go hands to the page by name.
func listed() map[string][]string {
	prefixed := func(prefix string, names []string, suffixes ...string) []string {
		var out []string
		for _, name := range names {
			if len(suffixes) == 0 {
				out = append(out, prefix+name)
			}
			for _, s := range suffixes {
				out = append(out, prefix+name+s)
			}
		}
		return out
	}
	return map[string][]string{
		"rules":     prefixed("rule.", append(diagnose.RuleNames(), reason.Rules()...), ".passed", ".failed", ".name"),
		"judged":    prefixed("rule.", reason.Rules(), ".passed", ".failed"),
		"limits":    prefixed("limit.", diagnose.RuleIDs()),
		"families":  prefixed("family.", diagnose.Families(), "", ".hint"),
		"next":      prefixed("next.", diagnose.NextTests()),
		"evidence":  prefixed("evidence.", diagnose.EvidenceKinds()),
		"heard":     prefixed("air.", diagnose.HeardPlaces()),
		"reasons":   prefixed("why.", diagnose.Reasons()),
		"sureness":  prefixed("sure.", diagnose.Sureness()),
		"fields":    append(prefixed("field.", diagnose.Fields()), prefixed("short.", diagnose.Fields())...),
		"methods":   prefixed("method.", diagnose.MethodFaults()),
		"refusals":  append(bench.Refusals(), attempt.Refusals()...),
		"cautions":  prefixed("caution.", bench.Cautions(), "", ".why"),
		"hazards":   prefixed("hazard.", bench.Hazards(), "", ".why"),
		"facts":     prefixed("fact.", bench.Facts()),
		"stands":    prefixed("stands.", []string{bench.EventLeak, bench.EventPumped}),
		"card":      prefixed("card.", scenarios.Items()),
		"trains":    prefixed("trains.", scenarios.Trains()),
		"faults":    faultKeys(),
		"numbers":   numberKeys(),
		"coach":     prefixed("coach.", coach.Keys()),
		"mistakes":  prefixed("mistake.", debrief.MistakeKeys()),
		"paths":     prefixed("path.", debrief.Paths()),
		"shown":     shownKeys(),
		"patterns":  prefixed("pattern.", []string{"nothing", "partial", "method", "slow", "wander", "within", "all_low", "all_high", "one_low", "pair", "bank_low", "one_high", "several"}),
		"hand-ins":  append(prefixed("handin.", collect.Statuses()), "handin.again", "handin.same_as", "handin.missing"),
		"verdicts":  append(prefixed("compose.", compose.Verdicts()), prefixed("compose.warn.", compose.Warnings())...),
		"missteps":  prefixed("misstep.", collect.Missteps()),
		"notes":     prefixed("opinion.note.", intake.Notes()),
		"unread":    prefixed("opinion.trouble.", intake.Errors()),
		"histories": prefixed("opinion.history.", intake.Histories()),
		"likely":    prefixed("opinion.words.", opinion.Words()),
		"strengths": prefixed("opinion.says.", opinion.Strengths()),
		"unsaid":    prefixed("opinion.unsaid.", opinion.Unsaid()),
		"checks":    prefixed("opinion.check.", opinion.Checked()),
		"cares":     prefixed("opinion.care.", opinion.Cares()),
		"causes":    prefixed("opinion.family.", reasonFamilies()),
		"speaks":    prefixed("opinion.reading.", reason.Readings()),
		"matches":   prefixed("match.", diagnose.Matches()),
		"left":      prefixed("left.", diagnose.LeftKeys()),
		"yours":     prefixed("debrief.plan.", debrief.Yourses()),
		"standings": prefixed("standing.", diagnose.StandingKeys()),
	}
}

// shownKeys leaves out a speed that is as it should be: nobody speaks of it.
func shownKeys() []string {
	var out []string
	for _, key := range debrief.ShownKeys() {
		if key != "rpm.fair" && key != "rpm.unclear" {
			out = append(out, "shown."+key)
		}
	}
	return out
}

func reasonFamilies() []string {
	var out []string
	for _, f := range reason.Families() {
		out = append(out, f.Name)
	}
	return out
}

// numberKeys names every physical number that the Desk lets an author set.
func numberKeys() []string {
	var out []string
	for _, k := range scenarios.FaultKinds() {
		for _, n := range k.Numbers {
			out = append(out, "office.number."+n.Name)
		}
	}
	return out
}

// The Desk sorts the kinds of fault into groups of its own, and gives a new one a
// severity; a kind that stands in no group could not be chosen.
func TestTheDeskOffersEveryKindOfFault(t *testing.T) {
	data, err := os.ReadFile(filepath.Join(shell, "app", "office-faults.js"))
	require.NoError(t, err)
	code := string(data)
	for _, k := range scenarios.FaultKinds() {
		assert.Contains(t, code, "'"+k.Name+"'", "in no group")
		for _, n := range k.Numbers {
			assert.Regexp(t, `\b`+n.Name+`: -?[0-9]`, code, "no usual severity")
		}
	}
}

func faultKeys() []string {
	var out []string
	for _, kind := range scenarios.Kinds() {
		if kind == scenarios.CamTiming {
			out = append(out, "fault.cam_timing.late", "fault.cam_timing.early")
			continue
		}
		out = append(out, "fault."+kind)
	}
	return out
}

// Facts leave Go, sentences live here: each key that Go lists has its sentence.
func TestEveryKeyOfGoHasAText(t *testing.T) {
	table := tables(t)["en"]
	for group, keys := range listed() {
		require.NotEmpty(t, keys, group)
		for _, key := range keys {
			has(t, table, key, "%s: en.json lacks %q", group, key)
		}
	}
}

// The advice and the core's errors name their texts in their own source.
func TestKeysInSourceHaveTexts(t *testing.T) {
	table := tables(t)["en"]
	for _, where := range []struct {
		glob, prefix string
		key          *regexp.Regexp
	}{
		{"../../scenarios/coach/*.go", "coach.", regexp.MustCompile(`\b(?:do|think)\("([a-z_]+)"|Key:? ?=? ?"([a-z_]+)"`)},
		{"../desk/*.go", "error.", regexp.MustCompile(`\bErr[A-Z]\w+\s*=\s*"([a-z_]+)"`)},
		{"../jsapi/seal/*.go", "error.", regexp.MustCompile(`\bErr[A-Z]\w+\s*=\s*"([a-z_]+)"`)},
		{"../answer/*.go", "error.", regexp.MustCompile(`\bErr[A-Z]\w+\s*=\s*"([a-z_]+)"`)},
		{"../opinion/*.go", "error.", regexp.MustCompile(`\bErr[A-Z]\w+\s*=\s*"([a-z_]+)"`)},
		{"../session/*.go", "error.", regexp.MustCompile(`\bErr[A-Z]\w+\s*=\s*"([a-z_]+)"`)},
	} {
		files, err := filepath.Glob(where.glob)
		require.NoError(t, err)
		found := 0
		for _, file := range files {
			data, err := os.ReadFile(file)
			require.NoError(t, err)
			if gostrings.HasSuffix(file, "_test.go") {
				continue
			}
			for _, m := range where.key.FindAllStringSubmatch(string(data), -1) {
				key := m[1]
				if len(m) > 2 && key == "" {
					key = m[2]
				}
				found++
				has(t, table, where.prefix+key, "%s asks for it", file)
			}
		}
		assert.Positive(t, found, where.glob)
	}
}

// The sentence of a rule may only ask for facts that the rule brings along.
func TestRuleSentencesUseTheirFacts(t *testing.T) {
	table := tables(t)["en"]
	for _, rule := range diagnose.RuleNames() {
		allowed := withPlaces(append(diagnose.RuleFacts(rule), "cylinder"))
		for _, end := range []string{".passed", ".failed"} {
			for _, name := range table["rule."+rule+end].Placeholders() {
				assert.Containsf(t, allowed, name, "rule.%s%s", rule, end)
			}
		}
	}
	for _, rule := range reason.Rules() {
		for _, end := range []string{".passed", ".failed"} {
			for _, name := range table["rule."+rule+end].Placeholders() {
				assert.Containsf(t, withPlaces(reason.RuleFacts(rule)), name, "rule.%s%s", rule, end)
			}
		}
	}
}

// withPlaces adds what facts about cylinders make together: places in words.
func withPlaces(facts []string) []string {
	for _, name := range facts {
		if who, ok := gostrings.CutSuffix(name, "cylinder"); ok {
			facts = append(facts, who+"place", who+"there")
		}
	}
	return facts
}

// source is the page's own code, all modules in one.
func source(t *testing.T) string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(shell, "app", "*.js"))
	require.NoError(t, err)
	require.NotEmpty(t, files)
	var all gostrings.Builder
	for _, file := range files {
		data, err := os.ReadFile(file)
		require.NoError(t, err)
		all.Write(data)
	}
	return all.String()
}

var (
	fixedKey = regexp.MustCompile(`\b(?:t|has)\('([a-z][a-z0-9._-]*)'`)
	anyKey   = regexp.MustCompile(`'([a-z]+(?:\.[a-z0-9_-]+)+)'`)
	rootKey  = regexp.MustCompile("`([a-z][a-z.]*\\.)\\$\\{")
)

// A key that the page asks for and nobody wrote would show itself to a reader.
func TestEveryKeyOfThePageHasAText(t *testing.T) {
	table := tables(t)["en"]
	found := fixedKey.FindAllStringSubmatch(source(t), -1)
	require.Greater(t, len(found), 60, "the pattern no longer finds the page's keys")
	for _, m := range found {
		has(t, table, m[1], "the page asks for %q", m[1])
	}
}

// A sentence that nobody asks for is dead: neither a fixed key, nor under a root
// the page builds keys from.
func TestEveryTextIsUsed(t *testing.T) {
	code := source(t)
	used := map[string]bool{}
	for _, pattern := range []*regexp.Regexp{fixedKey, anyKey} {
		for _, m := range pattern.FindAllStringSubmatch(code, -1) {
			used[m[1]] = true
		}
	}
	var roots []string
	for _, m := range rootKey.FindAllStringSubmatch(code, -1) {
		roots = append(roots, m[1])
	}
	// Named by the tables of format.js and debrief.js, or by the core.
	roots = append(roots, "refusal.", "caution.", "hazard.", "fact.", "stands.", "error.", "family.", "standing.", "match.", "left.", "noun.", "report.", "pattern.", "next.", "evidence.", "air.", "why.", "sure.", "switch.", "method.", "short.", "handin.", "misstep.", "paper.", "compose.", "card.", "word.", "gear.")
	for key := range tables(t)["en"] {
		ok := used[key]
		for _, root := range roots {
			ok = ok || gostrings.HasPrefix(key, root)
		}
		assert.Truef(t, ok, "nothing asks for %q", key)
	}
}
