//go:build js

// Webwhole is core and second program in one, for the page that carries everything
// inside itself: together they are a third smaller than apart. The page runs it as
// its core, and again in a Worker for what is worked out.
package main

import (
	"crankbay/web/jsapi/core"
	"crankbay/web/jsapi/desk"
	"crankbay/web/session"
)

func main() {
	core.Install(session.New())
	desk.Install()
	select {} // the calls stay alive as long as the page
}
