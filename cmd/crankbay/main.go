// Crankbay is the command line of the compression-test trainer: it lists the
// engines to practise on, runs a test by the book, checks handed-in attempts,
// prints pinned digests and serves the built site on this machine.
package main

import (
	"os"

	"crankbay/cmd/crankbay/internal/cli"
)

func main() { os.Exit(cli.Run(os.Args[1:], os.Stdout, os.Stderr)) }
