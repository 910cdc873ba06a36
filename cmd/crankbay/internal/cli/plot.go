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
	"crankbay/scenarios/book"
)

func checkPlot(file, of string) error {
	if ext := strings.ToLower(filepath.Ext(file)); ext != ".svg" && ext != ".png" {
		return usagef("test: --plot %q: want a name that ends in .svg or .png", file)
	}
	if of != "" && !slices.Contains(plots.Kinds(), of) {
		return usagef("test: --plot-of %q: want %s", of, strings.Join(plots.Kinds(), ", "))
	}
	return nil
}

func drawPlot(file, of string, s *scenarios.Scenario, r book.Result, t trace.Trace) error {
	if of == "" {
		of = plots.About(r.Kind)
	}
	f, err := plots.OfTest(of, fmt.Sprintf("%s, %s test", s.Engine.Name.EN, r.Kind), t)
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
