package cli

import (
	"fmt"
	"io"
	"math"

	"github.com/spf13/cobra"

	"crankbay/cmd/crankbay/internal/trace"
	"crankbay/scenarios"
	"crankbay/scenarios/book"
)

// tested is what `test --json` prints: the result of the book, and what it was
// done on.
type tested struct {
	book.Result
	testedOn
	Digest string `json:"digest"` // of the bench at the end
}

// cycleDeg is a working cycle of four strokes [crank degrees].
const cycleDeg = 720

func newTest() *cobra.Command {
	var kind string
	var asRead, asJSON, openThrottle, all bool
	var afterDeg float64
	var f files
	c := &cobra.Command{
		Use:   "test SCENARIO|FILE",
		Short: "Run a compression test, or another engine test, by the book and show the readings",
		Long: `Run a compression test, or another engine test, by the book and show the readings.

The test prepares the engine as its card says, then takes one cylinder after
the other. Pressures are unrounded and without the gauge's own error; with
--as-read they are what a person reads from this scenario's gauge. A scenario
whose history tells of a test done otherwise (throttle shut, plugs in) is run
as told; --open-throttle runs it by the card instead.

battery_min_v is the lowest voltage after the first 0.3 s of cranking.

The other kinds: leakage puts air into each cylinder at the top of its
compression and says how much is lost and where it is heard. current cranks with
all plugs in and the fuel off and compares the humps in the starter's current.
running pumps each cylinder up while the engine idles, then with the throttle
snapped open. vacuum reads the manifold while cranking with the throttle shut.

--trace writes one row per 1/1200 s of cranking; every column's name ends in its
unit. --plot draws what the test is about: the gauge against compression strokes,
or against time while the engine runs; the air lost; the starter current; the
vacuum. Of a dry or wet test --plot-of chooses pressure against crank angle or
the starter current instead.`,
		Example: `  crankbay test sound-inline-four
  crankbay test worn-rings-inline-four --kind wet --json
  crankbay test my-engine.json --as-read
  crankbay test gasket-inline-four --kind leakage
  crankbay test sound-v6 --all
  crankbay test burnt-exhaust-inline-four --plot needle.svg
  crankbay test burnt-exhaust-v6 --kind current --plot humps.svg
  crankbay test sound-v6 --plot cylinder.png --plot-of pressure --trace v6.csv`,
		Args: args(1, 1, "one scenario by its id ('crankbay list' shows them) or one scenario file"),
		RunE: func(c *cobra.Command, a []string) error {
			if err := checkKind(kind); err != nil {
				return err
			}
			if err := f.check(kind, all); err != nil {
				return err
			}
			if !(math.Abs(afterDeg) <= cycleDeg) { // NaN too
				return usagef("test: --after-deg %g, want from -%d to %d", afterDeg, cycleDeg, cycleDeg)
			}
			s, err := load(a[0])
			switch {
			case err != nil:
				return err
			case all:
				return runAll(c.OutOrStdout(), s, asRead, openThrottle, asJSON)
			case kind != book.Dry && kind != book.Wet:
				return runOther(c.OutOrStdout(), s, kind, asRead, afterDeg, f, asJSON)
			}
			return runTest(c.OutOrStdout(), s, book.Options{Kind: kind, AsRead: asRead, ByCard: openThrottle}, f, asJSON)
		},
	}
	c.Flags().StringVar(&kind, "kind", "dry", "dry, wet (oil by the card after a dry test), leakage, current, running or vacuum")
	c.Flags().BoolVar(&all, "all", false, "one test of every kind, in that order")
	c.Flags().Float64Var(&afterDeg, "after-deg", 0, "leakage: crank degrees after its compression TDC at which each piston is put")
	c.Flags().BoolVar(&asRead, "as-read", false, "what a person reads from the gauge instead of the true pressure")
	c.Flags().BoolVar(&openThrottle, "open-throttle", false, "by the card even where the history tells of another way")
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	f.flags(c)
	return c
}

func runTest(w io.Writer, s *scenarios.Scenario, o book.Options, f files, asJSON bool) error {
	r, err := book.Run(s, o)
	if err != nil {
		return fmt.Errorf("%s: %w", s.ID, err)
	}
	if f.wanted() {
		t, err := trace.Of(s, r)
		if err != nil {
			return err
		}
		if err := f.write(s, t, r); err != nil {
			return err
		}
	}
	out := tested{r, on(s), fmt.Sprintf("%016x", r.Digest)}
	if asJSON {
		return writeJSON(w, out)
	}
	if err := out.text(w); err != nil {
		return err
	}
	return simulated(w)
}

// gaugeTest does a test with the compression gauge, dry or wet.
func gaugeTest(s *scenarios.Scenario, o book.Options) (shown, error) {
	r, err := book.Run(s, o)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", s.ID, err)
	}
	return tested{r, on(s), fmt.Sprintf("%016x", r.Digest)}, nil
}

// shareFromPSI is the least final reading of which a first stroke is given as a share [psi].
const shareFromPSI = 1.0

func (r tested) text(w io.Writer) error {
	fmt.Fprintf(w, "%s: %s test, %s\n\n", r.Scenario, r.Kind, conditions(r))
	t := table{head: []string{"cylinder", "first psi", "final psi", "first/final", "strokes", "rpm", "battery V"}}
	for _, x := range r.Readings {
		share := "-" // of a needle that is back where it was, it would say nothing
		if x.FinalPSI >= shareFromPSI {
			share = fmt.Sprintf("%.0f %%", 100*x.FirstPSI/x.FinalPSI)
		}
		t.add(fmt.Sprint(x.Cylinder), fmt.Sprintf("%.1f", x.FirstPSI), fmt.Sprintf("%.1f", x.FinalPSI), share,
			fmt.Sprint(x.Strokes), fmt.Sprintf("%.0f", x.RPM), fmt.Sprintf("%.1f", x.BatteryMinV))
	}
	return t.write(w)
}

func conditions(r tested) string {
	throttle, plugs, how := "throttle open", "all plugs out", "true pressure"
	if r.Throttle != "open" {
		throttle = fmt.Sprintf("throttle shut (idle opening %g mm²)", r.IdleMM2)
	}
	if r.Plugs != "out" {
		plugs = "other plugs in"
	}
	if r.AsRead {
		how = "as read from the gauge"
	}
	out := fmt.Sprintf("%s, %s, coolant %.0f °C, %s", throttle, plugs, r.CoolantC, how)
	if r.OilML > 0 {
		out += fmt.Sprintf(", %g ml of oil in each cylinder", r.OilML)
	}
	return out
}
