package cli

import (
	"bufio"
	"fmt"
	"io"
	"os"
	"path/filepath"

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
	if err := intoFile(name, os.O_TRUNC, 0o666, write); err != nil {
		return fmt.Errorf("%s: %w", name, cause(err))
	}
	return nil
}

func intoFile(name string, how int, mode os.FileMode, write func(io.Writer) error) error {
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|how, mode)
	if err != nil {
		return err
	}
	w := bufio.NewWriter(f)
	err = write(w)
	if err == nil {
		err = w.Flush()
	}
	if again := f.Close(); err == nil {
		err = again
	}
	return err
}

// toWhole is toFile for a file of which half is none: it is written beside and takes the
// place of what has the name when it is whole. mode is what the file gets at first and
// last; 0 keeps that of the old file, and is the usual one where there is none. A link
// stays a link, and what is no file at all (a device, a pipe) is written to as it is.
func toWhole(name string, mode os.FileMode, write func(io.Writer) error) error {
	if to, err := filepath.EvalSymlinks(name); err == nil {
		name = to
	}
	keep := mode
	if st, err := os.Stat(name); err == nil {
		if !st.Mode().IsRegular() {
			return toFile(name, write)
		}
		f, err := os.OpenFile(name, os.O_WRONLY, 0) // what may not be written isn't replaced either
		if err != nil {
			return fmt.Errorf("%s: %w", name, cause(err))
		}
		f.Close()
		if keep == 0 {
			keep = st.Mode().Perm()
		}
	}
	first := keep
	if first == 0 {
		first = 0o666
	}
	part := fmt.Sprintf("%s.%d.part", name, os.Getpid())
	err := intoFile(part, os.O_EXCL, first, write)
	if err == nil && keep != 0 {
		err = os.Chmod(part, keep)
	}
	if err == nil {
		err = os.Rename(part, name)
	}
	if err != nil {
		os.Remove(part) // it may not even be there
		return fmt.Errorf("%s: %w", name, cause(err))
	}
	return nil
}
