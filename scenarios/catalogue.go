package scenarios

import (
	"cmp"
	_ "embed" // its directive only
	"fmt"
	"slices"
	"strings"
)

// A program that never asks for the schema does not carry it.
//
//go:embed data/scenario.schema.json
var schema string

// Read once, when the program starts: about a hundredth of a second, and no lock
// later.
var catalogue = load()

// Catalogue returns the scenarios that come with the program, easy ones first
// and in a fixed order. They are shared: change a copy.
func Catalogue() []*Scenario { return slices.Clone(catalogue) }

// Carry makes the scenarios of a bundle the catalogue of a program that was built
// without them (build tag bare): one file a line, as site packing writes it. Call it
// once, before anything is opened. The error names the line.
func Carry(bundle string) error {
	var lines []string
	for line := range strings.Lines(bundle) {
		lines = append(lines, line)
	}
	all, err := decoded(lines)
	if err == nil {
		catalogue = all
	}
	return err
}

// Find returns the scenario of the catalogue with this id, or nil.
func Find(id string) *Scenario {
	for _, s := range catalogue {
		if s.ID == id {
			return s
		}
	}
	return nil
}

// Schema returns the JSON Schema of a scenario file.
func Schema() []byte { return []byte(schema) }

func load() []*Scenario {
	texts := make([]string, len(files))
	for i, f := range files {
		texts[i] = f.text
	}
	all, err := decoded(texts)
	if err != nil {
		panic("scenarios: catalogue_files.go: " + err.Error())
	}
	return all
}

// decoded reads the files of a catalogue; a test holds that the parts of each agree.
func decoded(texts []string) ([]*Scenario, error) {
	all := make([]*Scenario, 0, len(texts))
	for i, text := range texts {
		s, err := read([]byte(text))
		if err != nil {
			return nil, fmt.Errorf("scenario %d: %w", i+1, err)
		}
		all = append(all, s)
	}
	slices.SortFunc(all, func(a, b *Scenario) int {
		return cmp.Or(a.Difficulty-b.Difficulty, strings.Compare(a.ID, b.ID))
	})
	return all, nil
}
