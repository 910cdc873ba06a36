package cli

import (
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
	c := &cobra.Command{
		Use:   "list",
		Short: "List the scenarios of the catalogue, or the kinds of fault a scenario can have",
		Example: `  crankbay list
  crankbay list --json
  crankbay list --faults`,
		Args: args(0, 0, "no names, only flags"),
		RunE: func(c *cobra.Command, _ []string) error {
			if faults {
				return listFaults(c.OutOrStdout(), asJSON)
			}
			var all []listed
			for _, s := range scenarios.Catalogue() {
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
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	return c
}
