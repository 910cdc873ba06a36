package cli

import (
	"crankbay/cmd/crankbay/internal/trace"
	"crankbay/scenarios"
)

// checkPlot refuses: the command built for a JavaScript engine draws nothing.
func checkPlot(file, _, _ string) error {
	return usagef("test: --plot %q: this build can't draw; write the numbers with --trace, or use the native command", file)
}

func drawPlot(file, of string, _ *scenarios.Scenario, t trace.Trace, _ any) error {
	return checkPlot(file, of, t.Kind)
}
