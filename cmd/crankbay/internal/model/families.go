//go:build !js

package model

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
)

// A family is one line of the table that the test of the families records:
// engines made out of displacement, cylinders and class by one rule, held
// against printed specifications. What was assumed carries an asterisk.
type family struct {
	engine, ratio, closes, rpm string
	minimum, standard          string // printed [kPa]; "0" is not printed
	reads                      string // computed [kPa]
	verdict                    string // inside, high, low, or none
	by                         string // how far outside [%]
}

var outside = regexp.MustCompile(`^\*\*([0-9.]+) % (high|low)\*\*$`)

// families reads the recorded table. The test that records it also fails when it
// no longer holds.
func families(testdata string) ([]family, error) {
	data, err := os.ReadFile(filepath.Join(testdata, "golden", "families.md"))
	if err != nil {
		return nil, err
	}
	var out []family
	for n, line := range strings.Split(string(data), "\n") {
		if n < 2 || !strings.HasPrefix(line, "|") {
			continue
		}
		cells := strings.Split(strings.Trim(line, "|"), "|")
		for i := range cells {
			cells[i] = strings.TrimSpace(cells[i])
		}
		if len(cells) != 8 {
			return nil, fmt.Errorf("families.md:%d: %d cells, want 8", n+1, len(cells))
		}
		minimum, standard, ok := strings.Cut(cells[5], ", ")
		if !ok {
			return nil, fmt.Errorf("families.md:%d: %q, want minimum and standard", n+1, cells[5])
		}
		f := family{engine: cells[0], ratio: cells[1], closes: cells[3], rpm: cells[4], minimum: minimum, standard: standard, reads: cells[6], verdict: "none"}
		if cells[7] == "inside" {
			f.verdict = "inside"
		} else if m := outside.FindStringSubmatch(cells[7]); m != nil {
			f.by, f.verdict = m[1], m[2]
		} else if cells[7] != "not enough printed" {
			return nil, fmt.Errorf("families.md:%d: %q is no verdict", n+1, cells[7])
		}
		out = append(out, f)
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("families.md holds no engine")
	}
	return out, nil
}

func (w words) familyTable(s study) table {
	t := w.tableOf("families", w.say("column.engine"), w.say("column.compression"), w.say("column.closes"), w.say("column.rpm"),
		w.say("column.minimum"), w.say("column.standard"), w.say("column.readskpa"), w.say("column.verdict"))
	printed := func(text string) string {
		if text == "0" {
			return w.say("cell.none")
		}
		return text
	}
	for _, f := range s.families {
		t.add(f.engine, f.ratio, f.closes, f.rpm, printed(f.minimum), printed(f.standard), f.reads, w.say("verdict."+f.verdict, "n", f.by))
	}
	return t
}

// inside counts the families that read inside, of those with enough printed.
func (s study) inside() (inside, usable int) {
	for _, f := range s.families {
		switch f.verdict {
		case "inside":
			inside++
			usable++
		case "high", "low":
			usable++
		}
	}
	return inside, usable
}
