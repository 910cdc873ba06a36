//go:build !js

package cli

import (
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"crankbay/cmd/crankbay/internal/plots"
	"crankbay/cmd/crankbay/internal/trace"
	"crankbay/scenarios"
)

func checkPlot(file, of, kind string) error {
	if ext := strings.ToLower(filepath.Ext(file)); ext != ".svg" && ext != ".png" {
		return usagef("test: --plot %q: want a name that ends in .svg or .png", file)
	}
	if list := plots.Of(kind); of != "" && !slices.Contains(list, of) {
		return usagef("test: --plot-of %q: of a %s test want %s", of, kind, strings.Join(list, ", "))
	}
	return nil
}

func drawPlot(file, of string, s *scenarios.Scenario, t trace.Trace, r any) error {
	if of == "" {
		of = plots.Of(t.Kind)[0]
	}
	test := plots.Test{Name: s.Engine.Name.EN, Trace: t}
	switch r := r.(type) {
	case leakageTested:
		test.Leakage = &r.LeakageResult
	case currentTested:
		test.Current = &r.CurrentResult
	}
	f, err := plots.OfTest(of, test)
	if err != nil {
		return fmt.Errorf("%s: %w", file, err)
	}
	render := f.SVG
	if strings.EqualFold(filepath.Ext(file), ".png") {
		render = f.PNG
	}
	data, err := render()
	if err != nil {
		return fmt.Errorf("%s: %w", file, err)
	}
	return toFile(file, func(w io.Writer) error {
		_, err := w.Write(data)
		return err
	})
}
