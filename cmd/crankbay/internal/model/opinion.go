//go:build !js

package model

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// worthFile holds what `make evaluate` found, the lines of it that the page shows, and
// the day it did. It is the one place of these figures; `make worth` writes it anew.
const worthFile = "evaluation.jsonl"

// A worth is how good the inference was on engines it had never seen.
type worth struct {
	on, digest string
	designs    int // of engines in the library
	engines    int // simulated anew
	sets       []setWorth
	unseen     setWorth // all tests, each design judged by a library without it
	next       walkWorth
	recorded   fieldWorth // real engines, with what was recorded beside the readings
	numbers    fieldWorth // by numbers alone
}

// A setWorth is that of one set of tests, in shares of 1.
type setWorth struct {
	Tests       string  `json:"tests"`
	Engines     int     `json:"engines"`
	First       float64 `json:"first"`       // right family and cylinders named first
	Three       float64 `json:"among_three"` // among the first three
	Group       float64 `json:"group_first"` // right group first
	Calibration float64 `json:"calibration_error"`
}

// A walkWorth compares following the next best test with oil, then air on all.
type walkWorth struct {
	SureAt     float64 `json:"sure_at"`
	Minutes    float64 `json:"next_minutes"`
	Sure       float64 `json:"next_sure"`
	TaughtMin  float64 `json:"taught_minutes"`
	TaughtSure float64 `json:"taught_sure"`
}

// A fieldWorth is that on cases of real engines.
type fieldWorth struct {
	From  string  `json:"from"`
	Cases int     `json:"cases"`
	First float64 `json:"first"`
	Three float64 `json:"among_three"`
}

// worthOf reads the figures; without the file there are none.
func worthOf(testdata string) (w worth, err error) {
	data, err := os.ReadFile(filepath.Join(testdata, worthFile))
	if errors.Is(err, fs.ErrNotExist) {
		return w, nil
	} else if err != nil {
		return w, err
	}
	for n, line := range strings.Split(strings.TrimSpace(string(data)), "\n") {
		if err := w.add([]byte(line)); err != nil {
			return w, fmt.Errorf("%s:%d: %w", worthFile, n+1, err)
		}
	}
	return w, nil
}

func (w *worth) add(line []byte) error {
	var head struct {
		Kind    string   `json:"kind"`
		On      string   `json:"on"`
		Digest  string   `json:"digest"`
		Designs []string `json:"engines"`
	}
	var set setWorth
	var field fieldWorth
	read := func(into any) error { return json.Unmarshal(line, into) }
	var kind struct {
		Kind string `json:"kind"`
	}
	if err := read(&kind); err != nil {
		return err
	}
	switch kind.Kind {
	case "recorded", "library":
		if err := read(&head); err != nil {
			return err
		}
		if kind.Kind == "recorded" {
			w.on = head.On
		} else {
			w.digest, w.designs = head.Digest, len(head.Designs)
		}
		return nil
	case "simulated":
		err := read(&set)
		w.sets, w.engines = append(w.sets, set), set.Engines
		return err
	case "unseen":
		return read(&w.unseen)
	case "next_best":
		return read(&w.next)
	case "field":
		err := read(&field)
		if field.From == "recorded" {
			w.recorded = field
		} else {
			w.numbers = field
		}
		return err
	}
	return fmt.Errorf("%q is no kind of line that the page shows", kind.Kind)
}

// set returns the figures of a set of tests.
func (w worth) set(tests string) (s setWorth) {
	for _, x := range w.sets {
		if x.Tests == tests {
			s = x
		}
	}
	return s
}

// facts are the numbers that sentences name.
func (w worth) facts() map[string]string {
	percent := func(share float64) string { return number(100*share, 0) }
	of := func(share float64, cases int) string { return number(share*float64(cases), 0) }
	all := w.set("all")
	return map[string]string{
		"evaluated": w.on, "library": w.digest, "designs": fmt.Sprint(w.designs), "engines": fmt.Sprint(w.engines),
		"unseenfirst": percent(w.unseen.First), "allfirst": percent(all.First),
		"calibration": number(100*all.Calibration, 1), "unseencalibration": number(100*w.unseen.Calibration, 1),
		"sureat": percent(w.next.SureAt), "nextminutes": number(w.next.Minutes, 0), "taughtminutes": number(w.next.TaughtMin, 0),
		"nextsure": percent(w.next.Sure), "taughtsure": percent(w.next.TaughtSure),
		"cases": fmt.Sprint(w.recorded.Cases), "casesfirst": of(w.recorded.First, w.recorded.Cases),
		"casesthree": of(w.recorded.Three, w.recorded.Cases), "bare": fmt.Sprint(w.numbers.Cases),
		"barefirst": of(w.numbers.First, w.numbers.Cases), "barethree": of(w.numbers.Three, w.numbers.Cases),
	}
}

func (w words) worthTable(s study) table {
	t := w.tableOf("opinion", w.say("column.tests"), w.say("column.right"), w.say("column.three"), w.say("column.group"), w.say("column.calibration"))
	for _, x := range s.worth.sets {
		t.add(w.say("tests."+x.Tests), number(100*x.First, 0), number(100*x.Three, 0), number(100*x.Group, 0), number(100*x.Calibration, 1))
	}
	return t
}
