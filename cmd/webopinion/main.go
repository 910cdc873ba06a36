//go:build js

// Webopinion is the Second opinion as a program of its own. The page runs it in a
// Worker and fetches it when somebody asks for an opinion.
package main

import (
	skin "crankbay/web/jsapi/desk"
	"crankbay/web/opinion"
)

func main() {
	skin.Install("crankbayOpinion", opinion.Work, opinion.UseLibrary)
	select {} // the calls stay alive as long as the Worker
}
