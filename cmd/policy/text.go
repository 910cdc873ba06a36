//go:build !js

package policy

import (
	"bytes"
	"fmt"
	"regexp"
	"strings"
)

// checkTopLevel reports names at the root that have no business there.
func checkTopLevel(files []string) []string {
	var bad []string
	seen := map[string]bool{}
	for _, name := range files {
		top, _, _ := strings.Cut(name, "/")
		if seen[top] || topLevel[top] || strings.HasPrefix(top, ".") {
			continue
		}
		seen[top] = true
		bad = append(bad, fmt.Sprintf("%s at the root: put it into one of the rooms", top))
	}
	return bad
}

// unwanted are words that tell about one machine or about how the work is
// organised, neither of which belongs in the project. They are put together
// here so that this file does not contain them.
var unwanted = regexp.MustCompile(strings.Join([]string{
	`(?:^|[\s"'(=` + "`" + `])/` + `(?:work|root|home)/`,     // a path of somebody's machine
	`proxy\.` + `golang|regis` + `try\.npm|deb\.` + `debian`, // where packages come from
	`(?i)\bissue ` + `#?\d+\b`,
}, "|"))

// checkWords reports lines of one text file that hold unwanted words. Binary
// files are skipped.
func checkWords(name string, data []byte) []string {
	if bytes.IndexByte(data, 0) >= 0 {
		return nil
	}
	var bad []string
	line := 0
	for text := range bytes.Lines(data) {
		line++
		if m := unwanted.Find(text); m != nil {
			bad = append(bad, fmt.Sprintf("%s:%d: %q", name, line, bytes.TrimSpace(m)))
		}
	}
	return bad
}
