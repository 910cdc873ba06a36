package cli

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"crankbay/cmd/crankbay/internal/library"
	"crankbay/diagnose/intake"
	"crankbay/diagnose/opinion"
	"crankbay/diagnose/reason"
)

// saids are the flags that say something about the engine or the test, each with the
// name that package intake knows it by.
var saids = []struct{ flag, name, help string }{
	{"unit", "unit", "unit of pressures that carry none: psi, kPa, bar, kgf/cm2 or MPa"},
	{"cylinders", "cylinders", "how many the engine has, when not all were read"},
	{"layout", "layout", "inline, v or flat"},
	{"bank", "banks", "which cylinder stands where: 1-3-5-7/2-4-6-8 front to rear, or 1,2,1,2 in order"},
	{"firing-order", "firing order", "for example 1-3-4-2"},
	{"ratio", "ratio", "compression ratio, for example 9.5"},
	{"altitude", "altitude", "meters, or with a unit: 5000 ft"},
	{"minimum", "minimum", "minimum of the service information, at sea level"},
	{"standard", "standard", "reading of a good engine by the service information, at sea level"},
	{"difference", "difference", "largest difference the service information allows"},
	{"rpm", "rpm", "cranking speed"},
	{"volts", "volts", "lowest battery voltage while cranking"},
	{"stated", "stated", "what was as it should be: throttle,warm,plugs,strokes; what wasn't: throttle=no"},
	{"note", "history", "complaint and history, parted by commas (see below)"},
	{"history", "history", "the same as --note"},
	{"two-stroke", "two stroke", "yes for a two-stroke engine"},
}

// opinionAsked is one command line of `opinion`.
type opinionAsked struct {
	readings string
	said     map[string]*string
	priors   string
	lang     string
	asJSON   bool
	show     bool // the priors, and nothing else
}

func newOpinion() *cobra.Command {
	o := opinionAsked{said: map[string]*string{}}
	c := &cobra.Command{
		Use:   "opinion FILE.csv|-",
		Short: "Say what readings of a real engine allow to be said, and what to test next",
		Long: `Say what readings of a real engine allow to be said, and what to test next.

FILE is a table with a header, or a text as people write it; - is standard
input. Columns, any of them, in any order and unit:

  cylinder, dry, wet, first, leakage_percent, heard, bank, repeat,
  second gauge, refit, stroke 1, stroke 2 …, wet first, strokes, hump percent,
  idle, snap, bore, dead, rpm, volts, unit

A unit may stand in the name (dry_psi, "wet (kg/cm²)"), behind a number, or come
by --unit; one that nobody names is guessed and said to be guessed. Separators
are commas, semicolons, tabs, bars or blanks; decimal commas are understood, and
names in Spanish too. Blank cells stay missing. Lines such as 'ratio: 9.5' or
'throttle: open' say what the flags say; so do lists ('dry: 150 151 65 149') and
names ('cyl 3: dry 65, wet 90').

--note, or --history, takes: ` + strings.Join(intake.Histories(), ", ") + `.

The explanations are weighed against simulated engines with known faults; what
is thought before any reading are assumptions, which --show-priors prints and
--priors replaces. The exit status is 0 when there is an answer, even if it is
that the readings don't tell.`,
		Example: `  crankbay opinion --readings "150 151 65 149"
  crankbay opinion readings.csv --layout v --bank 1-3-5-7/2-4-6-8
  crankbay opinion readings.csv --unit bar --minimum 9 --altitude 1500 --json
  crankbay opinion --readings "150 151 65 149" --stated throttle,warm,plugs,strokes --note misfire
  xclip -o | crankbay opinion - --lang es`,
		Args: args(0, 1, "one file, or - for standard input, or --readings"),
		RunE: func(c *cobra.Command, a []string) error { return o.run(c, a) },
	}
	c.Flags().StringVar(&o.readings, "readings", "", "the readings themselves instead of a file")
	for _, s := range saids {
		o.said[s.flag] = c.Flags().String(s.flag, "", s.help)
	}
	c.Flags().StringVar(&o.priors, "priors", "", "JSON file with priors other than the built-in ones")
	c.Flags().BoolVar(&o.show, "show-priors", false, "print the priors as JSON and end")
	c.Flags().StringVar(&o.lang, "lang", "en", "language of the answer: en or es")
	c.Flags().BoolVar(&o.asJSON, "json", false, "print JSON")
	return c
}

func (o opinionAsked) run(c *cobra.Command, a []string) error {
	if o.show {
		return writeJSON(c.OutOrStdout(), reason.DefaultPriors())
	}
	if o.lang != "en" && o.lang != "es" {
		return usagef("opinion: --lang %q: want en or es", o.lang)
	}
	priors, err := readPriors(o.priors)
	if err != nil {
		return err
	}
	name, text, err := o.source(c, a)
	if err != nil {
		return err
	}
	w, err := newAdvice(o.lang)
	if err != nil {
		return err
	}
	var said []intake.Said
	for _, s := range saids {
		said = append(said, intake.Said{Name: s.name, Value: *o.said[s.flag], As: "--" + s.flag})
	}
	r, err := intake.Parse(text, said...)
	if err != nil {
		return errors.New(w.trouble(name, err))
	}
	op := opinion.Of(library.Open(), r, priors)
	if o.asJSON {
		return writeJSON(c.OutOrStdout(), op)
	}
	return w.opinion(c.OutOrStdout(), op)
}

// source returns the readings and where they come from.
func (o opinionAsked) source(c *cobra.Command, a []string) (name, text string, err error) {
	switch {
	case o.readings != "" && len(a) > 0:
		return "", "", usagef("opinion: %q and --readings: want one of them", a[0])
	case o.readings != "":
		return "", o.readings, nil
	case len(a) == 0:
		return "", "", usagef("opinion: nothing was named; it takes one file, or - for standard input, or --readings")
	case a[0] == "-":
		data, err := io.ReadAll(io.LimitReader(c.InOrStdin(), intake.MaxBytes+1))
		return "standard input", string(data), err
	}
	data, err := readFile(a[0], intake.MaxBytes)
	return a[0], string(data), err
}

// priorsBytesMax is more than a file of priors ever has [bytes].
const priorsBytesMax = 1 << 16

// readPriors reads a file of priors, or none; families that it leaves out keep the
// built-in ones.
func readPriors(name string) (reason.Priors, error) {
	if name == "" {
		return reason.Priors{}, nil
	}
	data, err := readFile(name, priorsBytesMax)
	if err != nil {
		return reason.Priors{}, err
	}
	p, err := reason.ReadPriors(data)
	if err != nil {
		return p, fmt.Errorf("%s: %w", name, err)
	}
	return p, nil
}
