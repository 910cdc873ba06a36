//go:build !js

package policy

import (
	"fmt"
	"slices"
	"strings"
)

// checkImports holds one package against the tables may and testsMay.
func checkImports(p listed) []string {
	name := p.name()
	allowed, known := may[name]
	if !known {
		return []string{fmt.Sprintf("%s has no entry in the import table", name)}
	}
	var bad []string
	for _, path := range p.Imports {
		if !importable(path, allowed) {
			bad = append(bad, fmt.Sprintf("%s must not import %s", name, path))
		}
	}
	forTests := slices.Concat(allowed, testsMay[name], everyTestMay, []string{name})
	for _, path := range slices.Concat(p.TestImports, p.XTestImports) {
		if !importable(path, forTests) {
			bad = append(bad, fmt.Sprintf("tests of %s must not import %s", name, path))
		}
	}
	return bad
}

// importable tells whether path is of the standard library or allowed.
func importable(path string, allowed []string) bool {
	ours := strings.HasPrefix(path, modulePath)
	first, _, _ := strings.Cut(path, "/")
	if !ours && !strings.Contains(first, ".") {
		return true
	}
	path = strings.TrimPrefix(path, modulePath)
	return slices.ContainsFunc(allowed, func(a string) bool {
		if base, all := strings.CutSuffix(a, "/..."); all {
			return path == base || strings.HasPrefix(path, base+"/")
		}
		return path == a
	})
}

// checkCore holds one core package against the rules on the standard library
// and on files for one platform only.
func checkCore(p listed) []string {
	var bad []string
	for _, path := range p.Imports {
		if !strings.HasPrefix(path, modulePath) && !coreStandard[path] {
			bad = append(bad, fmt.Sprintf("%s must not import %s: no clock, disk, network, lock or chance in the core", p.name(), path))
		}
	}
	for _, file := range p.IgnoredGoFiles {
		if file == bareFile {
			continue
		}
		bad = append(bad, fmt.Sprintf("%s has %s for some platforms only", p.name(), file))
	}
	return bad
}

// checkReach reports packages that a program must not contain, however
// indirectly. The core program of the page stays small and draws nothing.
func checkReach(program string, deps []listed, forbidden ...string) []string {
	var bad []string
	for _, d := range deps {
		for _, f := range forbidden {
			if d.ImportPath == f || strings.HasPrefix(d.ImportPath, f+"/") {
				bad = append(bad, fmt.Sprintf("%s must not contain %s", program, d.ImportPath))
			}
		}
	}
	return bad
}
