//go:build !js

package main

import (
	"errors"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
)

func main() {
	write := flag.Bool("write", false, "write problems.json and SciPy's curves anew")
	flag.Parse()
	run := compare
	if *write {
		run = writeAll
	}
	if err := run(flag.Args()); err != nil {
		fmt.Fprintln(os.Stderr, "crosscheck:", err)
		os.Exit(1)
	}
}

var problemsPath = filepath.Join(folder, "problems.json")

// writeAll writes what the tests compare with.
func writeAll([]string) error {
	if err := writeProblems(problemsPath); err != nil {
		return err
	}
	_, err := solve(python, filepath.Join(folder, "solve.py"), problemsPath, "reference", filepath.Join(folder, "scipy"))
	return err
}

// compare runs everything live and prints it.
func compare(names []string) error {
	if !haveSciPy() || !haveCVODE() {
		return errors.New("needs python3-scipy, libsundials-dev and gcc; `make crosscheck` installs them")
	}
	dir, err := os.MkdirTemp("", "crosscheck")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	cvode, err := compileCVODE(dir)
	if err != nil {
		return err
	}
	problems, err := readProblems(problemsPath)
	if err != nil {
		return err
	}
	var list []*comparison
	for i := range problems {
		q := &problems[i]
		if len(names) > 0 && !slices.Contains(names, q.Name) {
			continue
		}
		c, err := q.compare(cvode, dir)
		if err != nil {
			return fmt.Errorf("%s: %w", q.Name, err)
		}
		if err := c.printLine(os.Stdout); err != nil {
			return err
		}
		list = append(list, c)
	}
	if len(list) == 0 {
		return fmt.Errorf("no problem of that name in %s", problemsPath)
	}
	fmt.Println()
	if err := printTable(os.Stdout, list); err != nil {
		return err
	}
	fmt.Println()
	return printRatios(os.Stdout, list)
}

// compare runs one problem everywhere, one program after the other.
func (q *problem) compare(cvode, dir string) (*comparison, error) {
	c := &comparison{problem: q}
	script := filepath.Join(folder, "solve.py")
	references, err := solve(python, script, problemsPath, "reference", dir, q.Name)
	if err != nil {
		return nil, err
	}
	if len(references) != 1 {
		return nil, fmt.Errorf("SciPy gave %d references", len(references))
	}
	c.reference = references[0]
	if c.ours, err = q.sweep(); err != nil {
		return nil, err
	}
	if c.alone, err = q.sweepAlone(); err != nil {
		return nil, err
	}
	if c.cvode, err = solve(cvode, problemsPath, "sweep", q.Name); err != nil {
		return nil, err
	}
	if c.scipy, err = solve(python, script, problemsPath, "sweep", q.Name); err != nil {
		return nil, err
	}
	// The reference counts as a run too, should no looser one do.
	c.scipy = append(c.scipy, c.reference)
	return c, nil
}
