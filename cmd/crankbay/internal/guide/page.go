//go:build !js

package guide

import (
	"bytes"
	_ "embed"
	"fmt"
	"html/template"
	"maps"
	"slices"
	"strconv"
	"strings"

	"crankbay/cmd/crankbay/internal/pagewords"
	"crankbay/diagnose"
	"crankbay/scenarios"
	"crankbay/scenarios/attempt"
	"crankbay/scenarios/book"
	"crankbay/scenarios/class"
	"crankbay/scenarios/collect"
	"crankbay/sim/unit"
	texts "crankbay/web/strings"
	"crankbay/web/strings/words"
)

//go:embed guide.html
var source string

// A File is one file of the site.
type File struct {
	Name string // relative to the site
	Data []byte
}

// Files returns the pages, guide.en.html and guide.es.html. Equal sources give equal
// bytes.
func Files() ([]File, error) {
	var out []File
	for _, language := range texts.Languages() {
		v, err := newView(language)
		if err != nil {
			return nil, err
		}
		page, err := v.page()
		if err != nil {
			return nil, err
		}
		out = append(out, File{fmt.Sprintf("guide.%s.html", language), page})
	}
	return out, nil
}

// view is what the page's template sees.
type view struct {
	words    pagewords.Words
	site     words.Words
	Lang     string
	Other    string
	Plans    []plan
	Jobs     []job
	Rows     []row
	Gates    []string
	Skills   []skill
	Statuses []string
}

// A job is an engine of the table, by the book.
type job struct {
	Role, Title, Engine string
	Level               int
	Trains              string
	Minutes             string // at the bench
}

// A row is one of the five of the grade.
type row struct {
	Key, Name, Points, Floor string
}

// A skill is what engines of the catalogue train.
type skill struct {
	Name string
	N    int
}

func newView(language string) (*view, error) {
	w, err := pagewords.New(texts.Guide, "guide", language)
	if err != nil {
		return nil, err
	}
	site, err := words.For(language)
	if err != nil {
		return nil, err
	}
	v := &view{words: w, site: site, Lang: language, Plans: plans(), Statuses: collect.Statuses()}
	for _, l := range texts.Languages() {
		if l != language {
			v.Other = l
		}
	}
	for name, key := range captions() {
		w.Facts[name] = site.Say(key)
	}
	v.grading()
	v.skills()
	maps.Copy(w.Facts, map[string]string{
		"students": strconv.Itoa(class.MaxStudents), "engines": strconv.Itoa(len(scenarios.Catalogue())),
		"grader": strconv.Itoa(attempt.GraderVersion), "extra_most": strconv.Itoa(class.MaxExtra),
	})
	return v, v.engines()
}

// grading takes rows, floors, pass mark and gates from a grade of nothing.
func (v *view) grading() {
	empty := diagnose.Grade(diagnose.Input{})
	for _, r := range empty.Rows {
		v.Rows = append(v.Rows, row{r.Name, v.site.Say("row.grade." + r.Name), points(r.OutOf), points(diagnose.RowMark * r.OutOf)})
	}
	for _, g := range empty.Gates {
		v.Gates = append(v.Gates, g.Rule)
	}
	f := v.words.Facts
	f["points"], f["needed"] = points(empty.OutOf), points(diagnose.PassMark*empty.OutOf)
	f["pass"], f["floor"] = points(100*diagnose.PassMark), points(100*diagnose.RowMark)
	f["gates"] = strconv.Itoa(len(empty.Gates))
}

// points writes points without needless decimals.
func points(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// skills counts what the catalogue trains.
func (v *view) skills() {
	count := map[string]int{}
	for _, s := range scenarios.Catalogue() {
		for _, t := range s.Trains {
			count[t]++
		}
	}
	for _, t := range slices.Sorted(maps.Keys(count)) {
		v.Skills = append(v.Skills, skill{v.site.Say("trains." + t), count[t]})
	}
	slices.SortStableFunc(v.Skills, func(a, b skill) int { return strings.Compare(a.Name, b.Name) })
}

// engines looks the engines up that the guide names, and does each by the book.
func (v *view) engines() error {
	for _, p := range picks() {
		s := scenarios.Find(p.ID)
		if s == nil {
			return fmt.Errorf("guide: no engine %q in the catalogue", p.ID)
		}
		v.words.Facts[p.Role] = v.site.Say("yard.quote", "text", v.text(s.Title))
		kind := book.Wet
		if s.Card.OilML == 0 {
			kind = book.Dry
		}
		r, err := book.Run(s, book.Options{Kind: kind, AsRead: true, ByCard: true})
		if err != nil {
			return fmt.Errorf("guide: %s: %w", p.ID, err)
		}
		var trains []string
		for _, t := range s.Trains {
			trains = append(trains, v.site.Say("trains."+t))
		}
		v.Jobs = append(v.Jobs, job{
			p.Role, v.text(s.Title), v.text(s.Engine.Name), s.Difficulty, strings.Join(trains, ", "), pagewords.Number(r.Minutes, 0),
		})
		if p.Role == "job_demo" {
			dry := r.Readings
			if kind == book.Wet {
				dry = r.Dry
			}
			v.demo(dry)
		}
	}
	return nil
}

// demo lets sentences say what the engine on the projector reads.
func (v *view) demo(dry []book.Reading) {
	by := func(a, b book.Reading) int { return int(a.FinalPSI) - int(b.FinalPSI) }
	low, high := slices.MinFunc(dry, by), slices.MaxFunc(dry, by)
	f := v.words.Facts
	f["demo_low"], f["demo_high"] = pagewords.Number(low.FinalPSI, 0), pagewords.Number(high.FinalPSI, 0)
	f["demo_low_kpa"], f["demo_high_kpa"] = kilopascal(low.FinalPSI), kilopascal(high.FinalPSI)
	f["demo_strokes"] = strconv.Itoa(low.Strokes)
}

func kilopascal(psi float64) string { return pagewords.Number(float64(unit.PSI(psi))/1000, 0) }

func (v *view) text(t scenarios.Text) string {
	if v.Lang == "es" && t.ES != "" || t.EN == "" {
		return t.ES
	}
	return t.EN
}

// T is a sentence.
func (v *view) T(key string, params ...any) string { return v.words.Say(key, params...) }

// Site is a text of the site itself.
func (v *view) Site(key string) string { return v.site.Say(key) }

// Has tells whether there is a sentence.
func (v *view) Has(key string) bool { return v.words.Has(key) }

// List are the sentences of a list.
func (v *view) List(name string) []string {
	var out []string
	for n := 1; v.Has(fmt.Sprintf("%s.%d", name, n)); n++ {
		out = append(out, v.T(fmt.Sprintf("%s.%d", name, n)))
	}
	if len(out) == 0 {
		panic("guide: no list " + name)
	}
	return out
}

// Of are rows of a table of things and what to do about them.
func (v *view) Of(name string) []string {
	return map[string][]string{"problem": problems, "help": helps}[name]
}

// Commands are the lines of the command line.
func (v *view) Commands() any { return commands() }

// From is the minute a step begins.
func (v *view) From(p plan, at int) int { return plan{Steps: p.Steps[:at]}.minutes() }

// Until is the minute a step ends.
func (v *view) Until(p plan, at int) int { return plan{Steps: p.Steps[:at+1]}.minutes() }

// Minutes is how long a lesson takes.
func (v *view) Minutes(p plan) int { return p.minutes() }

func (v *view) page() ([]byte, error) {
	t, err := template.New("guide").Parse(source)
	if err != nil {
		return nil, fmt.Errorf("guide: %w", err)
	}
	var b bytes.Buffer
	if err := t.Execute(&b, v); err != nil {
		return nil, fmt.Errorf("guide: %w", err)
	}
	return b.Bytes(), nil
}
