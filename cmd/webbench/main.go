//go:build js

// Webbench is the drawn bay as a WebAssembly program for scene.html: it draws
// snapshots that the page hands over and says what was touched. It owns no state
// of the bench; without it the page works all the same.
package main

import (
	"fmt"
	"os"

	"crankbay/web/benchview"
	"crankbay/web/jsapi/scene"
)

func main() {
	view := benchview.New()
	scene.Install(view)
	if err := view.Run(); err != nil {
		fmt.Fprintln(os.Stderr, "webbench:", err)
		os.Exit(1)
	}
}
