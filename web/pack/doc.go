//go:build !js

// Package pack turns the sources of the page and the WebAssembly programs
// into the site: a folder that any static host can serve.
//
// Each program lies there twice, as it is and compressed; the page takes the
// compressed one and unpacks it itself, so that a host needs no configuration.
// Equal sources give equal bytes: no time, user or path gets into the folder.
package pack
