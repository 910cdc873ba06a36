//go:build !js

package policy

import (
	"bufio"
	"bytes"
	"fmt"
	"path"
	"regexp"
)

// fusedOp finds the instructions of arm64 that multiply and add with one
// rounding, in the compiler's listing:
//
//	0x0148 00328 (/src/exp.go:59)	FMSUBD	F3, F2, F1, F4
var (
	fusedOp  = regexp.MustCompile(`\(([^()]+):(\d+)\)\s+(FN?M(?:ADD|SUB)[SD])\s`)
	funcHead = regexp.MustCompile(`^(\S+) STEXT `)
)

// fused compiles packages for arm64 and names every function and line where the
// compiler joined a product and a sum into one instruction: there another
// machine would compute other bits. Write float64(a*b) + c.
func fused(dir string, packages ...string) ([]string, error) {
	args := append([]string{"build", "-trimpath", "-gcflags=-S"}, packages...)
	_, listing, err := command(dir, []string{"GOOS=linux", "GOARCH=arm64", "CGO_ENABLED=0"}, "go", args...)
	if err != nil {
		return nil, err
	}
	var bad []string
	function, functions := "", 0
	lines := bufio.NewScanner(bytes.NewReader(listing))
	lines.Buffer(nil, 1<<24)
	for lines.Scan() {
		if m := funcHead.FindSubmatch(lines.Bytes()); m != nil {
			function = string(m[1])
			functions++
		}
		if m := fusedOp.FindSubmatch(lines.Bytes()); m != nil {
			bad = append(bad, fmt.Sprintf("%s: %s:%s: %s", function, path.Base(string(m[1])), m[2], m[3]))
		}
	}
	if functions == 0 {
		return nil, fmt.Errorf("policy: the compiler listed no function of %v", packages)
	}
	return bad, lines.Err()
}
