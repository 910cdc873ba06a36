//go:build js

// Webcore is the simulation as the page loads it: one WebAssembly program that
// owns all state of a test and draws nothing.
package main

import (
	"crankbay/web/jsapi/core"
	"crankbay/web/session"
)

func main() {
	core.Install(session.New())
	select {} // the calls stay alive as long as the page
}
