//go:build !js

package policy

import (
	"bytes"
	"fmt"
	"path"
	"regexp"
	"slices"
	"strings"
)

// link finds the target of a link or picture in a page of notes.
var link = regexp.MustCompile(`\]\(([^)\s]+)\)`)

// checkLinks reports links of one page that lead to no kept file. Links that
// leave the tree are not followed.
func checkLinks(name string, data []byte, kept []string) []string {
	var bad []string
	line := 0
	for text := range bytes.Lines(data) {
		line++
		for _, m := range link.FindAllSubmatch(text, -1) {
			target, _, _ := strings.Cut(string(m[1]), "#")
			if target == "" || strings.Contains(target, ":") {
				continue
			}
			if !slices.Contains(kept, path.Join(path.Dir(name), target)) {
				bad = append(bad, fmt.Sprintf("%s:%d: no file %s", name, line, target))
			}
		}
	}
	return bad
}
