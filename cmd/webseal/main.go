//go:build js

// Webseal is the part of the page that seals hand-ins and opens them. The page fetches
// it when there is something to seal.
package main

import "crankbay/web/jsapi/seal"

func main() {
	seal.Install()
	select {} // the calls stay alive as long as the page
}
