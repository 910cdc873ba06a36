//go:build !js

package model

import (
	"bytes"
	"encoding/xml"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/cmd/crankbay/internal/pagewords"
	"crankbay/sim"
	texts "crankbay/web/strings"
)

const testdata = "../../../../testdata"

// computed is the study once for all tests.
var computed = sync.OnceValues(func() (study, error) { return newStudy(testdata) })

func whole(t *testing.T) study {
	t.Helper()
	s, err := computed()
	require.NoError(t, err)
	return s
}

func pages(t *testing.T) map[string]string {
	t.Helper()
	all := map[string]string{}
	for _, language := range texts.Languages() {
		files, err := whole(t).inLanguage(language)
		require.NoError(t, err)
		for _, f := range files {
			all[f.Name] = string(f.Data)
		}
	}
	return all
}

// What the sentences claim about the plots holds in the numbers.
func TestClaimsOfThePlots(t *testing.T) {
	s := whole(t)
	by := map[string]reading{}
	for _, c := range s.strokes {
		by[c.key] = c.readings[0]
	}
	assert.Less(t, float64(by["worn"].first()), float64(by["burnt"].first()), "worn rings begin below the burnt valve")
	assert.Greater(t, float64(by["worn"].final), float64(by["burnt"].final), "and end above it")
	for _, key := range []string{"burnt", "worn", "gasket"} {
		peak, low := point{}, point{}
		for _, p := range by[key].last() {
			if p.pressure > peak.pressure {
				peak = p
			}
			if p.pressure < low.pressure {
				low = p
			}
		}
		assert.Less(t, peak.angle, -2*degree, "%s peaks before TDC", key)
		assert.Greater(t, low.angle, 60*degree, key)
		assert.Less(t, low.pressure.PSI(), -4.0, "%s falls below ambient on the way down", key)
	}
	five, six := by["burnt"].strokes[4], by["burnt"].strokes[5]
	assert.Less(t, float64(six/five), 1.02, "the burnt one stands still")
	assert.Greater(t, float64(by["worn"].strokes[5]/by["worn"].strokes[4]), 1.03, "the worn one keeps climbing")
}

func TestClaimsOfTheSweeps(t *testing.T) {
	s := whole(t)
	gains := map[string]float64{}
	for _, c := range s.oil {
		gains[c.key] = c.gain(spoon)
		for i := 1; i < len(c.readings); i++ {
			assert.Greater(t, float64(c.readings[i].final), float64(c.readings[i-1].final), "%s with %g ml", c.key, c.at[i])
		}
	}
	assert.Greater(t, gains["worn"], gains["sound"]+10, "clearly more than the healthy one")
	assert.LessOrEqual(t, gains["burnt"], gains["sound"]+1, "no more than the healthy one")
	loss := map[string]float64{}
	for _, c := range s.speed {
		last := c.readings[len(c.readings)-1].final
		loss[c.key] = 1 - float64(c.readings[0].final/last)
		for i := 1; i < len(c.readings); i++ {
			assert.Greater(t, float64(c.readings[i].final), float64(c.readings[i-1].final), "%s at %g rpm", c.key, c.at[i])
		}
	}
	assert.Greater(t, loss["burnt"], 1.5*loss["sound"], "a leaking one loses much more")
	parked := s.parked[0].readings
	for i := 1; i < len(parked); i++ {
		assert.Less(t, float64(parked[i].first()), float64(parked[i-1].first()))
		assert.InEpsilon(t, float64(parked[0].final), float64(parked[i].final), 0.02)
	}
	require.Len(t, s.humps, sim.Reference().Cylinders)
	var order []int
	low := 0.0
	for _, h := range s.humps {
		order = append(order, h.cylinder)
		if h.cylinder == weak {
			low = h.amps
		}
	}
	for _, h := range s.humps {
		if h.cylinder != weak {
			assert.Greater(t, h.amps, 1.1*low)
		}
	}
	for order[0] != 1 { // the trace begins where the crank was parked
		order = append(order[1:], order[0])
	}
	assert.Equal(t, []int{1, 3, 4, 2}, order, "firing order")
	for _, h := range s.altitude {
		assert.InEpsilon(t, h.pressure, h.computed, 0.015, "%g ft", h.feet)
		assert.GreaterOrEqual(t, h.trade, h.pressure)
	}
	assert.Greater(t, s.milder(), 2.0)
}

// The tables that show agreement agree.
func TestChecks(t *testing.T) {
	s := whole(t)
	assert.InDelta(t, 6, s.constant, 3, "air at 700 K has a smaller ratio than 1.4")
	inside := 0
	for _, b := range s.bands {
		if b.inside() {
			inside++
		}
	}
	assert.GreaterOrEqual(t, inside, 2)
	for _, o := range s.orifices {
		assert.InDelta(t, o.want, o.got, 0.3, "area ratio %g", o.ratio)
	}
	inUse := 0
	for i, r := range s.steps {
		if r.inUse {
			inUse++
			assert.InDelta(t, 0, r.peak[0], 0.2)
			assert.InDelta(t, 0, r.peak[1], 0.2)
		}
		if i > 1 {
			assert.LessOrEqual(t, max(math.Abs(r.peak[0]), math.Abs(r.peak[1])), max(math.Abs(s.steps[i-1].peak[0]), math.Abs(s.steps[i-1].peak[1])), "smaller steps, smaller error")
		}
	}
	assert.Equal(t, 1, inUse)
	within, usable := s.inside()
	assert.GreaterOrEqual(t, within, 15)
	assert.Greater(t, usable, within)
	for _, r := range s.thin {
		for _, e := range []effect{r.half, r.double} {
			assert.False(t, math.IsNaN(e.sound+e.worn+e.share+e.rpm), r.key)
			assert.Less(t, math.Abs(e.sound), 60.0, r.key)
		}
	}
	assert.Greater(t, len(s.tables), 30)
	assert.GreaterOrEqual(t, len(s.solved), 8)
	for _, x := range s.solved { // that it is the same problem; how near is near enough is cmd/crosscheck's
		assert.InDelta(t, 0, x.worst, 1, x.name)
		if !math.IsNaN(x.gauge) {
			assert.InDelta(t, 0, x.gauge, 1, x.name)
		}
	}
}

// What the page says of the inference is whole, and what its sentences claim of the
// figures holds.
func TestClaimsOfTheWorth(t *testing.T) {
	w := whole(t).worth
	assert.Len(t, w.digest, 16)
	assert.Regexp(t, `^20\d\d-\d\d-\d\d$`, w.on)
	require.Len(t, w.sets, 4)
	for i, x := range w.sets {
		assert.GreaterOrEqual(t, x.Engines, 1000, x.Tests)
		assert.GreaterOrEqual(t, x.Three, x.First, x.Tests)
		assert.Less(t, x.Calibration, 0.1, x.Tests)
		if i > 0 {
			assert.Greater(t, x.Group, w.sets[i-1].Group, "more tests, more known: %s", x.Tests)
		}
	}
	assert.Less(t, w.unseen.First, w.set("all").First, "what the page calls harder is harder")
	assert.Less(t, w.next.Minutes, w.next.TaughtMin)
	assert.Positive(t, w.recorded.Cases)
	assert.Positive(t, w.numbers.Cases)
	_, err := worthOf(t.TempDir())
	assert.NoError(t, err, "without the file the section is left out")
	assert.Error(t, new(worth).add([]byte(`{"kind":"merged"}`)))
}

// The one engine outside its printed band would be inside with its phaser elsewhere.
func TestTheOutsiderHangsOnItsPhaser(t *testing.T) {
	facts := whole(t).outsider()
	require.NotEmpty(t, facts)
	for _, b := range whole(t).bands {
		if b.inside() {
			continue
		}
		assert.Less(t, b.late, b.retard)
		assert.Greater(t, b.early, b.advance)
		assert.Less(t, b.late-b.early, 20.0, "a band of 51 psi is crossed within a few degrees")
	}
}

// Both languages have the same keys with the same parameters; every key is
// asked for, and none is missing.
func TestTexts(t *testing.T) {
	tables := map[string]words{}
	for _, language := range texts.Languages() {
		w, err := newWords(language)
		require.NoError(t, err)
		tables[language] = w
	}
	en, es := tables["en"], tables["es"]
	for key, text := range en.Table {
		other, ok := es.Table[key]
		if assert.True(t, ok, "es.json lacks %q", key) {
			assert.ElementsMatch(t, text.Placeholders(), other.Placeholders(), key)
		}
		assert.NotEmpty(t, text.Other, key)
		assert.NotEmpty(t, other.Other, key)
		assert.Equal(t, strings.TrimSpace(text.Other), text.Other, key)
		assert.Equal(t, strings.TrimSpace(other.Other), other.Other, key)
	}
	assert.Len(t, es.Table, len(en.Table))

	s := whole(t)
	w := newUsed(t, s)
	for key := range en.Table {
		if strings.HasPrefix(key, "verdict.") || strings.HasPrefix(key, "mark.") || strings.HasPrefix(key, "problem.") {
			continue // by what the numbers and the files say
		}
		assert.True(t, w[key], "nothing asks for %q", key)
	}
	assert.Panics(t, func() { en.say("no.such.key") })
	_, err := newWords("tlh")
	assert.EqualError(t, err, `model: no texts in "tlh"`)
}

// newUsed renders a page and returns the keys it asked for.
func newUsed(t *testing.T, s study) map[string]bool {
	t.Helper()
	v, _, err := s.view("en")
	require.NoError(t, err)
	_, err = v.page()
	require.NoError(t, err)
	return v.w.Used
}

var (
	attribute = regexp.MustCompile(`\s(id|href|src|aria-labelledby)="([^"]*)"`)
	figures   = regexp.MustCompile(`(?s)<figure.*?</figure>`)
	inline    = regexp.MustCompile(`(?s)<svg.*?</svg>`)
)

// The page leads where it says, keeps to its own folder and to its security
// policy, and every drawing has a text alternative and a table.
func TestPages(t *testing.T) {
	all := pages(t)
	for _, language := range texts.Languages() {
		page := all["model."+language+".html"]
		require.NotEmpty(t, page)
		assert.Contains(t, page, `<html lang="`+language+`">`)
		for _, bad := range []string{"style=", "<script", "<style", "{{", "http-equiv=\"refresh\"", "undefined", "NaN", "%!", "ZgotmplZ"} {
			assert.NotContains(t, page, bad, language)
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
			leads(t, all, ids, m[1], m[2])
		}
		list := figures.FindAllString(page, -1)
		assert.Len(t, list, 7)
		for _, f := range list {
			svg := inline.FindString(f)
			require.NotEmpty(t, svg)
			require.NoError(t, xml.Unmarshal([]byte(svg), new(struct{})), language)
			assert.Contains(t, svg, "<title ")
			assert.Contains(t, svg, "<desc ")
			assert.Contains(t, f, "<caption")
			assert.Contains(t, f, `scope="row"`)
		}
	}
}

// shellFiles are what the page takes from the shell.
var shellFiles = []string{"favicon.svg", "css/base.css", "css/model.css", "index.html"}

// leads checks where one attribute points to.
func leads(t *testing.T, all map[string]string, ids map[string]bool, name, value string) {
	t.Helper()
	switch {
	case name == "aria-labelledby":
		for _, id := range strings.Fields(value) {
			assert.True(t, ids[id], "aria-labelledby=%q", value)
		}
	case name == "href" && strings.HasPrefix(value, "#"):
		assert.True(t, ids[value[1:]], "href=%q", value)
	case name == "href" || name == "src":
		file, _, _ := strings.Cut(value, "?")
		_, made := all[file]
		ok := made
		for _, s := range shellFiles {
			ok = ok || s == file
		}
		assert.True(t, ok, "%s=%q leads out of the site", name, value)
	}
}

func TestSameBytes(t *testing.T) {
	one, two := pages(t), pages(t)
	require.Len(t, one, 2+2*7)
	for name, data := range one {
		assert.Equal(t, data, two[name], name)
	}
	again, err := Files(testdata)
	require.NoError(t, err)
	for _, f := range again {
		assert.True(t, bytes.Equal([]byte(one[f.Name]), f.Data), f.Name)
	}
}

func TestFamiliesAreRead(t *testing.T) {
	_, err := families(t.TempDir())
	require.Error(t, err)
	list, err := families(testdata)
	require.NoError(t, err)
	assert.Greater(t, len(list), 20)
	for _, f := range list {
		assert.NotEmpty(t, f.engine)
		assert.Regexp(t, `^\d+$`, f.reads)
		if f.verdict == "high" || f.verdict == "low" {
			assert.Regexp(t, `^[\d.]+$`, f.by)
		}
	}
}

func TestNumbers(t *testing.T) {
	w := words{pagewords.Words{Table: map[string]texts.Text{"a": {Other: "{n} psi and {m} mm², 5 times"}}, Facts: map[string]string{"m": "2.5"}, Used: map[string]bool{}}}
	assert.Equal(t, "30\u00a0psi and 2.5\u00a0mm², 5 times", w.say("a", "n", 30))
	for _, c := range []struct {
		v    float64
		d    int
		want string
	}{{-0.04, 1, "0.0"}, {-0.06, 1, "−0.1"}, {12.5, 0, "12"}, {1200, 0, "1200"}} {
		assert.Equal(t, c.want, number(c.v, c.d))
	}
	assert.Equal(t, "+3.0", change(3, 1))
	assert.Equal(t, "0.0", change(0.01, 1))
	assert.Equal(t, "−3", change(-3, 0))
}

// A recorded solution that is not one is told from one that is not there.
func TestSolutionsAreRead(t *testing.T) {
	folder := t.TempDir()
	name := filepath.Join(folder, "x.csv")
	_, err := readSolution(name)
	require.ErrorIs(t, err, fs.ErrNotExist)
	for _, bad := range []string{"", "# peaks_pa 1 2\n", "tick,hose_pa\n1,2\n", "# peaks_pa one\ntick,hose_pa\n1,2\n", "# peaks_pa 1\ntick,hose_pa\n1,two\n"} {
		require.NoError(t, os.WriteFile(name, []byte(bad), 0o600))
		_, err = readSolution(name)
		assert.Error(t, err, bad)
	}
	require.NoError(t, os.WriteFile(name, []byte("# by hand\n# peaks_pa 1 2.5\ntick,hose_pa\n1,2\n2,3\n"), 0o600))
	got, err := readSolution(name)
	require.NoError(t, err)
	assert.Equal(t, solution{peaks: []float64{1, 2.5}, hose: 3}, got)
	assert.InDelta(t, 5, summit([3]float64{-1, 0, 2}, [3]float64{4, 5, 1}), 1e-12, "5 - x² through three of its points")
	require.NoError(t, new(study).solver(folder), "no folder, no comparison")
}
