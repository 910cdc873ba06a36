//go:build !js

package model

import (
	"bytes"
	_ "embed"
	"fmt"
	"html/template"
	"maps"

	texts "crankbay/web/strings"
)

//go:embed page.html
var pageSource string

// A File is one file of the site.
type File struct {
	Name string // slashes, relative to the site
	Data []byte
}

// Files computes everything and returns the pages, model.en.html and
// model.es.html, and their figures as files of their own. testdata is the folder
// of published and derived numbers. Equal sources give equal bytes.
func Files(testdata string) ([]File, error) {
	s, err := newStudy(testdata)
	if err != nil {
		return nil, fmt.Errorf("model: %w", err)
	}
	var out []File
	for _, language := range texts.Languages() {
		files, err := s.inLanguage(language)
		if err != nil {
			return nil, err
		}
		out = append(out, files...)
	}
	return out, nil
}

// A drawn is a figure as the page holds it.
type drawn struct {
	ID    string
	Inner template.HTML
	File  string
	Table table
}

// view is what the page's template sees.
type view struct {
	w       words
	Lang    string
	Other   string
	Figures map[string]drawn
	Tables  map[string]table
}

// T is a sentence.
func (v view) T(key string, params ...any) string { return v.w.say(key, params...) }

// Figure is what the template of one figure sees.
func (v view) Figure(id string) any {
	return struct {
		view
		drawn
	}{v, v.Figures[id]}
}

// TableOf is what the template of one table sees. A wide one may be scrolled
// sideways by keyboard too.
func (v view) TableOf(id string, wide bool) any {
	return struct {
		view
		table
		Wide bool
	}{v, v.Tables[id], wide}
}

// Has says whether there is a table of that name.
func (v view) Has(id string) bool { _, ok := v.Tables[id]; return ok }

// Beside is the table of a figure.
func (v view) Beside(t table) any {
	return struct {
		view
		table
		Wide bool
	}{v, t, false}
}

func (s study) inLanguage(language string) ([]File, error) {
	v, out, err := s.view(language)
	if err != nil {
		return nil, err
	}
	page, err := v.page()
	if err != nil {
		return nil, err
	}
	return append(out, File{fmt.Sprintf("model.%s.html", language), page}), nil
}

// view draws and fills everything the page of one language needs, and returns the
// drawings as files too.
func (s study) view(language string) (view, []File, error) {
	w, err := newWords(language)
	if err != nil {
		return view{}, nil, err
	}
	inside, usable := s.inside()
	w.Facts["inside"], w.Facts["usable"] = fmt.Sprint(inside), fmt.Sprint(usable)
	w.Facts["milder"] = number(s.milder(), 0)
	w.Facts["constant"] = number(s.constant, 0)
	maps.Copy(w.Facts, s.worth.facts())
	maps.Copy(w.Facts, s.outsider())
	v := view{w: w, Lang: language, Figures: map[string]drawn{}, Tables: map[string]table{}}
	for _, l := range texts.Languages() {
		if l != language {
			v.Other = l
		}
	}
	var out []File
	for _, x := range w.shown(s) {
		file, err := x.figure.SVG()
		if err != nil {
			return v, nil, fmt.Errorf("model: %s: %w", x.figure.ID, err)
		}
		inner, err := x.figure.Inline()
		if err != nil {
			return v, nil, fmt.Errorf("model: %s: %w", x.figure.ID, err)
		}
		name := fmt.Sprintf("model/%s.%s.svg", x.figure.ID, language)
		out = append(out, File{name, file})
		v.Figures[x.figure.ID] = drawn{x.figure.ID, template.HTML(inner), name, x.table} // our own drawing, its words escaped
	}
	for _, t := range []table{w.bandTable(s), w.familyTable(s), w.orificeTable(s), w.stepTable(s), w.thinTable(s), w.sourceTable(s)} {
		v.Tables[t.ID] = t
	}
	if len(s.solved) > 0 {
		v.Tables["solver"] = w.solverTable(s)
	}
	if len(s.worth.sets) > 0 {
		v.Tables["opinion"] = w.worthTable(s)
	}
	return v, out, nil
}

func (v view) page() ([]byte, error) {
	t, err := template.New("page").Parse(pageSource)
	if err != nil {
		return nil, fmt.Errorf("model: %w", err)
	}
	var b bytes.Buffer
	if err := t.Execute(&b, v); err != nil {
		return nil, fmt.Errorf("model: %w", err)
	}
	return b.Bytes(), nil
}
