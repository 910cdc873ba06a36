package cli

import (
	"bufio"
	"fmt"
	"io"
	"os"

	"github.com/spf13/cobra"

	"crankbay/cmd/crankbay/internal/trace"
	"crankbay/scenarios"
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
	c.Flags().StringVar(&f.plotOf, "plot-of", "", "what to draw: gauge, pressure or current of a dry or wet test (default: what the test is about)")
}

// wanted says whether any file is.
func (f files) wanted() bool { return f.trace != "" || f.plot != "" }

// check says early what would only fail after the test was run.
func (f files) check(kind string, all bool) error {
	switch {
	case all && f.wanted():
		return usagef("test: --trace and --plot go with one --kind, not with --all")
	case f.plotOf != "" && f.plot == "":
		return usagef("test: --plot-of %s needs --plot FILE", f.plotOf)
	case f.plot == "":
		return nil
	}
	return checkPlot(f.plot, f.plotOf, kind)
}

// write writes the files of a test; r is its result.
func (f files) write(s *scenarios.Scenario, t trace.Trace, r any) error {
	if f.trace != "" {
		if err := toFile(f.trace, t.WriteCSV); err != nil {
			return err
		}
	}
	if f.plot == "" {
		return nil
	}
	return drawPlot(f.plot, f.plotOf, s, t, r)
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

// toWhole is toFile for a file of which half is none: what has the name stays as it was
// until the new one is whole.
func toWhole(name string, write func(io.Writer) error) error {
	part := name + ".part"
	err := toFile(part, write)
	if err == nil {
		if err = os.Rename(part, name); err != nil {
			err = fmt.Errorf("%s: %w", name, cause(err))
		}
	}
	if err != nil {
		os.Remove(part) // it may not even be there
	}
	return err
}
