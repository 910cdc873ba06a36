package cli

import (
	"bufio"
	"fmt"
	"io"
	"os"

	"github.com/spf13/cobra"

	"crankbay/cmd/crankbay/internal/trace"
	"crankbay/scenarios"
	"crankbay/scenarios/book"
)

// files are what `test` writes beside its table.
type files struct {
	trace  string // CSV, empty none
	plot   string // SVG or PNG, empty none
	plotOf string // what the plot shows, empty: as fits the kind of test
}

func (f *files) flags(c *cobra.Command) {
	c.Flags().StringVar(&f.trace, "trace", "", "write every tick of the test to this CSV file")
	c.Flags().StringVar(&f.plot, "plot", "", "draw the test into this .svg or .png file")
	c.Flags().StringVar(&f.plotOf, "plot-of", "", "pressure, gauge or current (default: what the kind of test is about)")
}

// check says early what would only fail after the test was run.
func (f files) check() error {
	if f.plotOf != "" && f.plot == "" {
		return usagef("test: --plot-of %s needs --plot FILE", f.plotOf)
	}
	if f.plot == "" {
		return nil
	}
	return checkPlot(f.plot, f.plotOf)
}

func (f files) write(s *scenarios.Scenario, r book.Result) error {
	if f.trace == "" && f.plot == "" {
		return nil
	}
	t, err := trace.Of(s, r)
	if err != nil {
		return err
	}
	if f.trace != "" {
		if err := toFile(f.trace, t.WriteCSV); err != nil {
			return err
		}
	}
	if f.plot == "" {
		return nil
	}
	return drawPlot(f.plot, f.plotOf, s, r, t)
}

// toFile writes a whole file, or says what it could not.
func toFile(name string, write func(io.Writer) error) error {
	f, err := os.Create(name)
	if err != nil {
		return fmt.Errorf("%s: %w", name, cause(err))
	}
	w := bufio.NewWriter(f)
	err = write(w)
	if err == nil {
		err = w.Flush()
	}
	if again := f.Close(); err == nil {
		err = again
	}
	if err != nil {
		return fmt.Errorf("%s: %w", name, cause(err))
	}
	return nil
}
