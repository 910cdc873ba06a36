// Command libgen makes the likelihood library of package diagnose/library out of
// simulated engines with known faults, and evaluates what the inference makes of it.
package main

import (
	"fmt"
	"os"
)

func main() {
	if err := root().Execute(); err != nil {
		fmt.Fprintln(os.Stderr, "libgen:", err)
		os.Exit(1)
	}
}
