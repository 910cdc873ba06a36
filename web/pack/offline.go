//go:build !js

package pack

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"slices"
)

// keeper is the script that keeps the site on a device.
const keeper = "sw.js"

// versioned writes into the keeper what belongs to this build and a name that is
// its own: equal files give the same name, any other byte gives another.
func (c contents) versioned() error {
	script, ok := c[keeper]
	if !ok {
		return nil // a site without one is never kept
	}
	var names []string
	sum := sha256.New()
	for _, name := range slices.Sorted(maps.Keys(c)) {
		if _, packed := c[name+".gz"]; !packed && name != keeper { // programs and catalogue are kept packed
			names = append(names, name)
		}
		fmt.Fprintf(sum, "%s %d\n", name, len(c[name]))
		sum.Write(c[name])
	}
	list, err := json.Marshal(names)
	if err != nil {
		return err
	}
	build := hex.EncodeToString(sum.Sum(nil))[:16]
	for _, put := range []struct{ from, to string }{
		{"const BUILD = 'unpacked';", "const BUILD = '" + build + "';"},
		{"const FILES = [];", "const FILES = " + string(list) + ";"},
	} {
		if bytes.Count(script, []byte(put.from)) != 1 {
			return errors.New("pack: " + keeper + " has no line " + put.from)
		}
		script = bytes.Replace(script, []byte(put.from), []byte(put.to), 1)
	}
	c[keeper] = script
	return nil
}
