package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"crankbay/scenarios"
	"crankbay/scenarios/book"
)

// digested is one line of `digest`.
type digested struct {
	Name   string `json:"name"`
	Digest string `json:"digest"`
}

func newDigest() *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use:   "digest [SCENARIO|FILE...]",
		Short: "Print the final state of pinned sessions as a digest",
		Long: `Print the final state of pinned sessions as a digest, one line each: name, digest.

A session is the dry test by the book. Without arguments every scenario of the
catalogue is run. The digests are the same on every machine and in the browser;
a changed one means that the model has changed.`,
		Example: `  crankbay digest
  crankbay digest sound-inline-four my-engine.json`,
		RunE: func(c *cobra.Command, a []string) error {
			var names []string
			var list []*scenarios.Scenario
			for _, arg := range a {
				s, err := load(arg)
				if err != nil {
					return err
				}
				names, list = append(names, arg), append(list, s)
			}
			if len(a) == 0 {
				for _, s := range scenarios.Catalogue() {
					names, list = append(names, s.ID), append(list, s)
				}
			}
			return printDigests(c, names, list, asJSON)
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	return c
}

func printDigests(c *cobra.Command, names []string, list []*scenarios.Scenario, asJSON bool) error {
	out := c.OutOrStdout()
	var all []digested
	for i, s := range list {
		r, err := book.Run(s, book.Options{Kind: book.Dry})
		if err != nil {
			return fmt.Errorf("%s: %w", names[i], err)
		}
		d := digested{names[i], fmt.Sprintf("%016x", r.Digest)}
		if all = append(all, d); !asJSON {
			fmt.Fprintf(out, "%s %s\n", d.Name, d.Digest)
		}
	}
	if asJSON {
		return writeJSON(out, all)
	}
	return nil
}
