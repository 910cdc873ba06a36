//go:build js

// Webwhole is core and the programs beside it in one, for the page that carries
// everything inside itself: together they are a third smaller than apart. The page
// runs it as its core, and again in a Worker for what is worked out.
package main

import (
	"crankbay/web/desk"
	"crankbay/web/jsapi/core"
	skin "crankbay/web/jsapi/desk"
	"crankbay/web/opinion"
	"crankbay/web/session"
)

func main() {
	core.Install(session.New())
	skin.Install("crankbayDesk", desk.Work, desk.UseLibrary)
	skin.Install("crankbayOpinion", opinion.Work, opinion.UseLibrary)
	select {} // the calls stay alive as long as the page
}
