package scenarios

import (
	_ "embed" // its directive only
	"slices"
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
	all := make([]*Scenario, 0, len(files))
	for _, f := range files {
		s, err := read([]byte(f.text)) // a test holds that their parts agree
		if err != nil {
			panic("scenarios: data/" + f.id + ".json: " + err.Error())
		}
		all = append(all, s)
	}
	slices.SortStableFunc(all, func(a, b *Scenario) int { return a.Difficulty - b.Difficulty })
	return all
}
