package cli

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"crankbay/scenarios"
)

// listed is one scenario as `list --json` prints it. What is wrong with the
// engine stays out of it.
type listed struct {
	ID         string         `json:"id"`
	Title      scenarios.Text `json:"title"`
	Engine     scenarios.Text `json:"engine"`
	EngineID   string         `json:"engine_id"`
	Layout     string         `json:"layout"`
	Cylinders  int            `json:"cylinders"`
	Difficulty int            `json:"difficulty"`
	Trains     []string       `json:"trains"`
	Digest     string         `json:"digest"`
}

func newList() *cobra.Command {
	var asJSON, faults bool
	var trains string
	var level int
	c := &cobra.Command{
		Use:   "list",
		Short: "List the scenarios of the catalogue, or the kinds of fault a scenario can have",
		Example: `  crankbay list
  crankbay list --trains leakage --level 2
  crankbay list --json
  crankbay list --faults`,
		Args: args(0, 0, "no names, only flags"),
		RunE: func(c *cobra.Command, _ []string) error {
			if faults {
				return listFaults(c.OutOrStdout(), asJSON)
			}
			if trains != "" && !slices.Contains(scenarios.Trains(), trains) {
				return fmt.Errorf("--trains %s: no scenario trains that, it is one of %s", trains, strings.Join(scenarios.Trains(), ", "))
			}
			if level < 0 || level > 3 {
				return fmt.Errorf("--level %d, want 1, 2 or 3", level)
			}
			all := []listed{}
			for _, s := range scenarios.Catalogue() {
				if trains != "" && !slices.Contains(s.Trains, trains) || level != 0 && s.Difficulty != level {
					continue
				}
				all = append(all, listed{
					ID: s.ID, Title: s.Title, Engine: s.Engine.Name, EngineID: s.Engine.ID, Layout: s.Engine.Layout,
					Cylinders: s.Engine.Cylinders, Difficulty: s.Difficulty, Trains: s.Trains, Digest: s.Digest(),
				})
			}
			if asJSON {
				return writeJSON(c.OutOrStdout(), all)
			}
			t := table{head: []string{"SCENARIO", "ENGINE", "LEVEL", "TRAINS", "TITLE"}}
			for _, s := range all {
				t.add(s.ID, s.EngineID, strconv.Itoa(s.Difficulty), strings.Join(s.Trains, " "), s.Title.EN)
			}
			return t.write(c.OutOrStdout())
		},
	}
	c.Flags().BoolVar(&faults, "faults", false, "list the kinds of fault instead, with unit and range of each number")
	c.Flags().StringVar(&trains, "trains", "", "only scenarios that train this, such as wet_test or leakage")
	c.Flags().IntVar(&level, "level", 0, "only scenarios of this level: 1, 2 or 3")
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	return c
}
