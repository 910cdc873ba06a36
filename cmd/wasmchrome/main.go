//go:build !js

// Wasmchrome runs one WebAssembly test binary in Chromium, for packages that
// only a browser can run:
//
//	GOOS=js GOARCH=wasm go test -exec wasmchrome ./web/benchview
//
// The go command calls it with the binary and its arguments. What the test
// prints goes to standard output; its exit status becomes this program's. Status
// 3 means that the test could not be run at all.
package main

import (
	"context"
	"fmt"
	"os"
	"time"
)

// cannotRun is the exit status when there was no verdict from the test.
const cannotRun = 3

func main() {
	if len(os.Args) < 2 {
		fmt.Fprintln(os.Stderr, "usage: wasmchrome test.wasm [arguments]")
		os.Exit(cannotRun)
	}
	args := browserArgs(os.Args[2:])
	ctx, cancel := context.WithTimeout(context.Background(), patience(args))
	code, err := run(ctx, os.Args[1], args, os.Stdout)
	cancel()
	if err != nil {
		fmt.Fprintln(os.Stderr, "wasmchrome:", err)
		os.Exit(cannotRun)
	}
	os.Exit(code)
}

// patience is how long to wait for a verdict: the test's own time limit, if it
// has one, and a little more, so that the test itself gets to say what hung.
func patience(args []string) time.Duration {
	const start = 30 * time.Second // for starting the browser and loading
	for _, a := range args {
		var limit string
		if n, _ := fmt.Sscanf(a, "-test.timeout=%s", &limit); n == 1 {
			if d, err := time.ParseDuration(limit); err == nil && d > 0 {
				return d + start
			}
		}
	}
	return 10*time.Minute + start
}
