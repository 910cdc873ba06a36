//go:build !js

package guide

import (
	"bytes"
	"encoding/json"
	"fmt"
	"html/template"
	"maps"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/cmd/crankbay/internal/cli"
	"crankbay/diagnose"
	"crankbay/scenarios"
	"crankbay/scenarios/collect"
	texts "crankbay/web/strings"
	"crankbay/web/strings/words"
)

// A rendered page; its view knows which sentences were asked for.
type rendered struct {
	*view
	page string
}

var once = sync.OnceValues(func() (map[string]rendered, error) {
	all := map[string]rendered{}
	for _, language := range texts.Languages() {
		v, err := newView(language)
		if err != nil {
			return nil, err
		}
		page, err := v.page()
		if err != nil {
			return nil, err
		}
		all[language] = rendered{v, string(page)}
	}
	return all, nil
})

func made(t *testing.T, language string) (*view, string) {
	t.Helper()
	all, err := once()
	require.NoError(t, err)
	return all[language].view, all[language].page
}

// A lesson takes as long as its name says: a school's bell doesn't wait.
func TestLessonsFillTheirTime(t *testing.T) {
	minutes := map[string]int{}
	for _, p := range plans() {
		minutes[p.ID] = p.minutes()
		for _, s := range p.Steps {
			assert.Positive(t, s.Minutes, s.Key)
		}
	}
	assert.Equal(t, map[string]int{"short": 45, "long": 90}, minutes)
	_, page := made(t, "en")
	for _, want := range []string{"A lesson of 45 minutes", "A lesson of 90 minutes", "0–4", "43–45", "84–90"} {
		assert.Contains(t, page, want)
	}
}

// Every engine named is there, and suits what it is named for.
func TestEnginesNamedAreThere(t *testing.T) {
	trains := map[string]string{
		"job_demo": "sound_engine", "job_valve": "wet_test", "job_rings": "wet_test", "job_pair": "neighbours", "job_method": "method",
		"job_gauge": "gauge", "job_design": "by_design", "job_other": "not_compression",
	}
	for _, p := range picks() {
		s := scenarios.Find(p.ID)
		if assert.NotNil(t, s, p.ID) {
			assert.Contains(t, s.Trains, trains[p.Role], p.ID)
		}
	}
	valve, rings := scenarios.Find("burnt-exhaust-inline-four"), scenarios.Find("worn-rings-inline-four")
	assert.Equal(t, valve.Engine.ID, rings.Engine.ID, "two engines that look alike")
	assert.Equal(t, []int{1, 1}, []int{valve.Difficulty, rings.Difficulty})
	v, page := made(t, "en")
	for _, s := range scenarios.Catalogue() {
		named := slices.ContainsFunc(picks(), func(p pick) bool { return p.ID == s.ID })
		assert.Equal(t, named, strings.Contains(page, `<th scope="row">`+template.HTMLEscapeString(s.Title.EN)+"</th>"), s.ID)
	}
	low, high := v.words.Facts["demo_low"], v.words.Facts["demo_high"]
	assert.Contains(t, page, "this engine reads "+low+" to "+high+"\u00a0psi")
	assert.Regexp(t, `^1[89]\d$`, low, "a sound one")
	assert.NotContains(t, page, "burnt valve", "students read this page too")
	assert.NotContains(t, page, valve.ID, "and its name tells as much")
}

// Every button and place named stands in the texts of the site, in the same words.
func TestButtonsNamedAreThere(t *testing.T) {
	for _, language := range texts.Languages() {
		site, err := words.For(language)
		require.NoError(t, err)
		v, _ := made(t, language)
		used := map[string]bool{}
		for key := range v.words.Table {
			for _, name := range v.words.Table[key].Placeholders() {
				used[name] = true
			}
		}
		for name, key := range captions() {
			assert.True(t, site.Has(key), key)
			assert.Equal(t, site.Say(key), v.words.Facts[name])
			assert.True(t, used[name] || name == "bay", "nothing names %s", name)
		}
	}
}

// Every command shown is one the program has, with these flags.
func TestCommandsNamedAreThere(t *testing.T) {
	flag := regexp.MustCompile(`--[a-z]+`)
	for _, c := range commands() {
		var args []string
		for _, word := range strings.Fields(c.Line)[1:] {
			if !regexp.MustCompile(`^[a-z]+$`).MatchString(word) {
				break
			}
			args = append(args, word)
		}
		var out, bad bytes.Buffer
		require.Equal(t, 0, cli.Run(append(slices.Clone(args), "--help"), &out, &bad), "%s: %s", c.Line, bad.String())
		assert.Contains(t, out.String(), "crankbay "+strings.Join(args, " ")+" ", c.Line)
		for _, f := range flag.FindAllString(c.Line, -1) {
			assert.Contains(t, out.String(), f+" ", c.Line)
		}
	}
}

// The numbers of the grade are the grader's.
func TestNumbersOfTheGrade(t *testing.T) {
	_, page := made(t, "en")
	w := diagnose.DefaultWeights()
	for name, points := range map[string]float64{
		"Prepare and put back": w.Prepare, "Measure": w.Measure, "Record": w.Record, "Choose tests": w.Choose, "Conclude": w.Conclude,
	} {
		assert.Contains(t, page, fmt.Sprintf(`<tr><th scope="row">%s</th><td>%g</td><td>%g</td>`, name, points, points*diagnose.RowMark))
	}
	assert.Contains(t, page, fmt.Sprintf("A pass takes %g points (%g\u00a0%%), at least %g\u00a0%% of every row", 100*diagnose.PassMark, 100*diagnose.PassMark, 100*diagnose.RowMark))
	v, _ := made(t, "es")
	for _, g := range diagnose.Grade(diagnose.Input{}).Gates {
		assert.True(t, v.Has(g.Rule), g.Rule)
	}
	assert.Equal(t, len(collect.Statuses()), strings.Count(page[strings.Index(page, `id="trust"`):strings.Index(page, `id="tags"`)], "<dt>"))
	assert.Contains(t, page, "claims no accreditation")
	assert.Contains(t, page, "simulated")
}

// Both languages have the same keys with the same parameters; every key is asked for,
// and none stands twice.
func TestTexts(t *testing.T) {
	en, _ := made(t, "en")
	es, _ := made(t, "es")
	for key, text := range en.words.Table {
		other, ok := es.words.Table[key]
		if assert.True(t, ok, "es.json lacks %q", key) {
			assert.ElementsMatch(t, text.Placeholders(), other.Placeholders(), key)
		}
		for _, form := range []string{text.Other, other.Other} {
			assert.NotEmpty(t, form, key)
			assert.Equal(t, strings.TrimSpace(form), form, key)
		}
		assert.True(t, en.words.Used[key], "nothing asks for %q", key)
	}
	assert.ElementsMatch(t, slices.Collect(maps.Keys(en.words.Table)), slices.Collect(maps.Keys(es.words.Table)))
	for _, language := range texts.Languages() {
		data, err := texts.Guide.ReadFile("guide/" + language + ".json")
		require.NoError(t, err)
		d := json.NewDecoder(bytes.NewReader(data))
		n := 0
		for tok, err := d.Token(); err == nil; tok, err = d.Token() {
			if _, ok := tok.(string); ok {
				n++
			}
		}
		assert.Equal(t, 2*len(en.words.Table), n, "%s: a key stands twice", language)
	}
	assert.Panics(t, func() { en.T("no.such.key") })
	_, err := newView("tlh")
	assert.Error(t, err)
}

var attribute = regexp.MustCompile(`\s(id|href|aria-labelledby)="([^"]*)"`)

// The page leads where it says and keeps to its security policy; equal sources give
// equal bytes.
func TestPages(t *testing.T) {
	files, err := Files()
	require.NoError(t, err)
	again, err := Files()
	require.NoError(t, err)
	assert.Equal(t, files, again)
	there := []string{"favicon.svg", "css/base.css", "css/model.css", "css/guide.css", "index.html", "guide.en.html", "guide.es.html", "model.en.html", "model.es.html"}
	for _, f := range files {
		page := string(f.Data)
		for _, bad := range []string{"style=", "<script", "<style", "{{", "undefined", "NaN", "%!", "ZgotmplZ"} {
			assert.NotContains(t, page, bad, f.Name)
		}
		assert.NotRegexp(t, `\{[a-z_]+\}`, page, "a parameter that nobody gave")
		ids := map[string]bool{}
		for _, m := range attribute.FindAllStringSubmatch(page, -1) {
			if m[1] == "id" {
				assert.False(t, ids[m[2]], "id %q twice", m[2])
				ids[m[2]] = true
			}
		}
		for _, m := range attribute.FindAllStringSubmatch(page, -1) {
			name, _, _ := strings.Cut(m[2], "?")
			switch {
			case m[1] == "aria-labelledby":
				assert.True(t, ids[m[2]], m[2])
			case m[1] == "href" && strings.HasPrefix(name, "#"):
				assert.True(t, ids[name[1:]], name)
			case m[1] == "href":
				assert.Contains(t, there, name)
			}
		}
	}
}
