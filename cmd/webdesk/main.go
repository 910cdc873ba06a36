//go:build js

// Webdesk is the second program of the page: what is worked out rather than
// operated. The page runs it in a Worker and fetches it when a place asks for it.
package main

import (
	"crankbay/web/desk"
	skin "crankbay/web/jsapi/desk"
)

func main() {
	skin.Install("crankbayDesk", desk.Work, desk.UseLibrary)
	select {} // the calls stay alive as long as the Worker
}
