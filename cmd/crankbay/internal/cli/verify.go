package cli

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"crankbay/diagnose"
	"crankbay/diagnose/report"
	"crankbay/scenarios"
	"crankbay/scenarios/attempt"
)

// verified is what `verify --json` prints for one attempt.
type verified struct {
	File     string           `json:"file"`
	OK       bool             `json:"ok"`
	Error    string           `json:"error,omitempty"`
	Scenario string           `json:"scenario,omitempty"`
	Who      string           `json:"who,omitempty"`
	Mode     string           `json:"mode,omitempty"`
	HandedIn bool             `json:"handed_in"`
	Actions  int              `json:"actions"`
	Marks    int              `json:"marks"`
	Minutes  float64          `json:"minutes"`
	Grade    *diagnose.Result `json:"grade,omitempty"`
	Debrief  *debriefed       `json:"debrief,omitempty"`
}

func newVerify() *cobra.Command {
	var scenario string
	var asJSON, full bool
	c := &cobra.Command{
		Use:   "verify ATTEMPT...",
		Short: "Play handed-in attempts again and grade them again",
		Long: `Play handed-in attempts again and grade them again.

Nothing stored in an attempt is trusted: its log is replayed, every mark is
compared, readings are read again and the grade is computed again. That proves
that log, scenario and grade fit together; it doesn't prove who sat there.

With --debrief it also tells what was inside, holds every reading against it,
plays the attempt again without each mistake to see what that changed, and works
out which tests would have told it soonest. That takes a few seconds.

An attempt at a scenario outside the catalogue needs its file (--scenario).
The exit status is 1 when any attempt does not hold.`,
		Example: `  crankbay verify attempt.json
  crankbay verify --json handed-in/*.json > grades.json
  crankbay verify --debrief attempt.json
  crankbay verify --scenario my-engine.json attempt.json`,
		Args: args(1, -1, "one or more attempt files"),
		RunE: func(c *cobra.Command, a []string) error {
			var find attempt.Lookup = scenarios.Find
			if scenario != "" {
				s, err := load(scenario)
				if err != nil {
					return err
				}
				find = func(id string) *scenarios.Scenario {
					if s.ID == id {
						return s
					}
					return scenarios.Find(id)
				}
			}
			return verifyAll(c, a, verifying{find, asJSON, full})
		},
	}
	c.Flags().StringVar(&scenario, "scenario", "", "file of the scenario, when the catalogue doesn't have it")
	c.Flags().BoolVar(&full, "debrief", false, "tell what the page's Debrief tells")
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON, one entry per attempt")
	return c
}

// verifying is how attempts are verified.
type verifying struct {
	find         attempt.Lookup
	asJSON, full bool
}

func verifyAll(c *cobra.Command, files []string, o verifying) error {
	var all []verified
	failed := 0
	for i, name := range files {
		v := verifyFile(name, o)
		if !v.OK {
			failed++
		}
		all = append(all, v)
		switch {
		case !v.OK:
			fmt.Fprintf(c.ErrOrStderr(), "crankbay: %s\n", oneLine(v.Error))
		case !o.asJSON:
			if i > 0 {
				fmt.Fprintln(c.OutOrStdout())
			}
			if err := writeVerified(c.OutOrStdout(), v); err != nil {
				return err
			}
		}
	}
	if o.asJSON {
		if err := writeJSON(c.OutOrStdout(), all); err != nil {
			return err
		}
	}
	if failed > 0 {
		return errFailed
	}
	return nil
}

func verifyFile(name string, o verifying) verified {
	v := verified{File: name}
	data, err := readFile(name, attemptBytesMax)
	if err != nil {
		v.Error = err.Error()
		return v
	}
	f, err := attempt.Decode(data)
	if err != nil {
		v.Error = fmt.Sprintf("%s: %s", name, plain(err))
		return v
	}
	v.Scenario, v.Who, v.Mode, v.Actions, v.Marks = f.Scenario, f.Who, f.Mode, len(f.Actions), len(f.Marks)
	r, err := attempt.Verify(f, o.find)
	if err != nil {
		v.Error = fmt.Sprintf("%s: %s", name, plain(err))
		return v
	}
	v.OK, v.HandedIn, v.Minutes, v.Grade = true, r.HandedIn, r.Minutes, &r.Grade
	if o.full {
		if v.Debrief, err = debriefOf(r); err != nil {
			v.OK, v.Error = false, fmt.Sprintf("%s: %s", name, plain(err))
		}
	}
	return v
}

func writeVerified(w io.Writer, v verified) error {
	who := v.Who
	if who == "" {
		who = "no name given"
	}
	fmt.Fprintf(w, "%s: replay agrees at %d marks\n", v.File, v.Marks)
	fmt.Fprintf(w, "%s, %s, mode %s: %d actions, %.0f bench minutes\n", v.Scenario, oneLine(who), v.Mode, v.Actions, v.Minutes)
	if !v.HandedIn {
		fmt.Fprintln(w, "Not handed in yet; graded as it stands.")
	}
	fmt.Fprintf(w, "\n%s", report.Text(*v.Grade))
	if v.Debrief == nil {
		return nil
	}
	return writeDebrief(w, v.Debrief)
}
