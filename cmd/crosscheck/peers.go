//go:build !js

package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
)

// folder holds problems.json, the peers' programs and SciPy's curves.
const folder = "testdata/crosscheck"

// python is Debian's, for which python3-scipy is packaged.
const python = "/usr/bin/python3"

// A solution is one run of one program at one setting.
type solution struct {
	Problem string    `json:"problem"`
	Method  string    `json:"method"`
	Rtol    float64   `json:"rtol"`  // relative tolerance; of the simulation: sub-step in degrees
	Time    float64   `json:"time"`  // [s]
	Calls   int       `json:"calls"` // of the right-hand side
	Steps   int       `json:"steps"`
	Peaks   []float64 `json:"peaks"` // highest pressure of every compression of cylinder 1 [Pa]
	Gauge   float64   `json:"gauge"` // pressure in the hose at the end [Pa]; 0 without a gauge
	Speed   float64   `json:"speed"` // of the crank at the end [rad/s]
}

// readSolutions reads JSON lines.
func readSolutions(r io.Reader) (list []solution, err error) {
	for lines := bufio.NewScanner(r); lines.Scan(); {
		var s solution
		if err := json.Unmarshal(lines.Bytes(), &s); err != nil {
			return nil, fmt.Errorf("%q: %w", lines.Text(), err)
		}
		list = append(list, s)
	}
	return list, nil
}

// solve runs a program that prints solutions.
func solve(name string, args ...string) ([]solution, error) {
	out, err := output(name, args...)
	if err != nil {
		return nil, err
	}
	return readSolutions(bytes.NewReader(out))
}

// output runs a program and puts what it complained about into the error.
func output(name string, args ...string) ([]byte, error) {
	var complaint bytes.Buffer
	command := exec.Command(name, args...)
	command.Stderr = &complaint
	out, err := command.Output()
	if err != nil {
		return nil, fmt.Errorf("%s: %w\n%s", filepath.Base(name), err, complaint.String())
	}
	return out, nil
}

// haveSciPy says whether Debian's Python has SciPy.
func haveSciPy() bool { return exec.Command(python, "-c", "import scipy.integrate").Run() == nil }

// compileCVODE builds the C program into dir and returns its path.
func compileCVODE(dir string) (string, error) {
	program := filepath.Join(dir, "cvode")
	args := []string{"-O2", "-Wall", "-Wextra", "-Werror", "-o", program}
	for _, name := range []string{"cvode.c", "equations.c", "problems.c"} {
		args = append(args, filepath.Join(folder, name))
	}
	for _, library := range []string{"cvode", "nvecserial", "sunlinsoldense", "sunmatrixdense", "sunnonlinsolfixedpoint"} {
		args = append(args, "-lsundials_"+library)
	}
	_, err := output("gcc", append(args, "-lm")...)
	return program, err
}

// haveCVODE says whether gcc and the library's headers are there.
func haveCVODE() bool {
	command := exec.Command("gcc", "-E", "-o", os.DevNull, "-")
	command.Stdin = bytes.NewBufferString("#include <cvode/cvode.h>\n")
	return command.Run() == nil
}
