// Package library carries the likelihood library for programs that run natively. The
// page fetches the same file.
package library

import (
	_ "embed" // its directive only

	"crankbay/diagnose/library"
)

//go:embed library.bin
var data []byte

// Open reads the library that belongs to this program. It panics when the file that was
// built in is no library.
func Open() *library.Library {
	l, err := library.Open(data)
	if err != nil {
		panic(err)
	}
	return l
}
