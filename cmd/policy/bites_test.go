//go:build !js

package policy

import (
	"go/ast"
	"go/parser"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A rule that never fails is no rule: here each one meets what it is there for.

func TestImportsBite(t *testing.T) {
	for _, c := range []struct {
		name string
		p    listed
		want []string
	}{
		{"no entry", listed{ImportPath: "crankbay/attic"}, []string{"attic has no entry in the import table"}},
		{"upwards", listed{ImportPath: "crankbay/sim", Imports: []string{"crankbay/sim/bench", "math"}}, []string{"sim must not import crankbay/sim/bench"}},
		{"the grader and the engine", listed{ImportPath: "crankbay/diagnose", Imports: []string{"crankbay/sim"}}, []string{"diagnose must not import crankbay/sim"}},
		{"a stranger", listed{ImportPath: "crankbay/web/plan", Imports: []string{"example.com/x"}}, []string{"web/plan must not import example.com/x"}},
		{"not below an exact path", listed{ImportPath: "crankbay/cmd/webcore", Imports: []string{"crankbay/web/session/deep"}}, []string{"cmd/webcore must not import crankbay/web/session/deep"}},
		{"tests of the grader and the engine", listed{ImportPath: "crankbay/diagnose", XTestImports: []string{"crankbay/sim"}}, []string{"tests of diagnose must not import crankbay/sim"}},
		{"allowed", listed{ImportPath: "crankbay/web/session", Imports: []string{"crankbay/sim/bench", "fmt"}, TestImports: []string{"github.com/stretchr/testify/assert"}}, nil},
	} {
		assert.Equal(t, c.want, checkImports(c.p), c.name)
	}
}

func TestCoreImportsBite(t *testing.T) {
	for _, path := range []string{"time", "os", "net/http", "syscall/js", "math/rand", "math/rand/v2", "crypto/rand",
		"sync", "sync/atomic", "log", "maps", "unsafe", "runtime", "reflect", "context", "C", "gonum.org/v1/gonum/floats"} {
		bad := checkCore(listed{ImportPath: "crankbay/sim", Imports: []string{path}})
		assert.Len(t, bad, 1, path)
	}
	assert.Len(t, checkCore(listed{ImportPath: "crankbay/sim", IgnoredGoFiles: []string{"flow_js.go"}}), 1)
	assert.Empty(t, checkCore(listed{ImportPath: "crankbay/sim", Imports: []string{"math", "fmt", "crankbay/sim/num"}}))
}

func TestReachBites(t *testing.T) {
	deps := []listed{{ImportPath: "fmt"}, {ImportPath: "github.com/hajimehoshi/ebiten/v2"}, {ImportPath: "net/http/internal"}, {ImportPath: "net/httpx"}}
	assert.Equal(t, []string{"p must not contain github.com/hajimehoshi/ebiten/v2", "p must not contain net/http/internal"},
		checkReach("p", deps, "github.com/hajimehoshi", "net/http"))
}

// badSyntax has a remark on every line that the rule has to find, and none on
// the lines it must leave alone.
const badSyntax = `package bad

import "math"

type table map[string]float64

func sums(m map[int]float64, named table, list []float64, c chan int) (s float64) {
	for _, v := range m { // map
		s += v
	}
	for k := range named { // map
		s += named[k]
	}
	for _, v := range list {
		s += math.Sqrt(v) + math.Floor(v) + math.Pi
	}
	s += math.Exp(s) // math.Exp
	f := math.Pow // math.Pow
	s += f(s, 2) + math.FMA(s, s, s) // math.FMA
	go sums(nil, nil, nil, nil) // goroutine
	select { // selects
	default:
	}
	return s
}

func generic[M map[int]float64](m M) {
	for range m { // map
	}
}
`

func TestSyntaxBites(t *testing.T) {
	deps, err := list(root(t), "linux/amd64", "-export", "-deps", "math")
	require.NoError(t, err)
	c := newChecker(deps)
	f, err := parser.ParseFile(c.fset, "bad.go", badSyntax, parser.SkipObjectResolution)
	require.NoError(t, err)
	bad, err := c.checkFiles("bad", []*ast.File{f})
	require.NoError(t, err)
	found := strings.Join(bad, "\n") + "\n"
	for i, line := range strings.Split(badSyntax, "\n") {
		at := "bad/bad.go:" + strconv.Itoa(i+1) + ": "
		_, remark, wanted := strings.Cut(line, "// ")
		if !wanted && !strings.Contains(line, "chan int") {
			assert.NotContains(t, found, at, line)
			continue
		}
		assert.Contains(t, found, at, line)
		assert.Contains(t, found, remark, line)
	}
}

const badArithmetic = `package bad

func Direct(a, b, c float64) float64 { return a*b + c }

func Variable(a, b, c float64) float64 {
	p := a * b
	return c - p
}

func Rounded(a, b, c float64) float64 { return float64(a*b) + c }
`

func TestFusedBites(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "go.mod"), []byte("module bad\n\ngo 1.26\n"), 0o644))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "bad.go"), []byte(badArithmetic), 0o644))
	bad, err := fused(dir, ".")
	require.NoError(t, err)
	assert.Equal(t, []string{"bad.Direct: bad.go:3: FMADDD", "bad.Variable: bad.go:7: FMSUBD"}, bad)
}

func TestLengthBites(t *testing.T) {
	lines := func(n int) string { return "package p\n\nfunc f() {\n" + strings.Repeat("\t_ = 1\n", n-2) + "}\n" }
	bad, err := checkLength("p.go", []byte(lines(LongestFunction)))
	require.NoError(t, err)
	assert.Empty(t, bad)
	bad, err = checkLength("p.go", []byte(lines(LongestFunction+1)))
	require.NoError(t, err)
	assert.Equal(t, []string{"p.go:3: f has 71 lines, at most 70"}, bad)
	bad, err = checkLength("p.go", []byte(strings.Replace(lines(80), "func f()", "var f = func()", 1)))
	require.NoError(t, err)
	assert.Equal(t, []string{"p.go:3: a function literal has 80 lines, at most 70"}, bad)
	bad, err = checkLength("p_test.go", []byte(lines(100)))
	require.NoError(t, err)
	assert.Empty(t, bad, "tests are exempt")
}

const badDocs = `package p

// A has one.
type A struct{}

type B struct{}

func (B) Method() {}

func (a A) method() {}

type hidden struct{}

func (hidden) Method() {}

// Group.
const (
	C = 1
	D = 2
)

var E, e = 1, 2
var F = 3 // at the end of the line
`

func TestCommentsBite(t *testing.T) {
	bad, err := checkDocs("p.go", []byte(badDocs))
	require.NoError(t, err)
	assert.Equal(t, []string{"p.go:6: B has no comment", "p.go:8: Method has no comment", "p.go:22: E has no comment"}, bad)
}

func TestTopLevelBites(t *testing.T) {
	assert.Equal(t, []string{"notes.txt at the root: put it into one of the rooms", "lib at the root: put it into one of the rooms"},
		checkTopLevel([]string{"go.mod", "notes.txt", "sim/gas.go", ".ci/run", "lib/a.go", "lib/b.go"}))
}

func TestLinksBite(t *testing.T) {
	kept := []string{"README.md", "sim/doc.go", "sim/notes.md"}
	page := "![a](web/gone.png) and [b](sim/doc.go#top)\n[c](https://example.com/x) [d](#here)\n"
	assert.Equal(t, []string{"README.md:1: no file web/gone.png"}, checkLinks("README.md", []byte(page), kept))
	assert.Empty(t, checkLinks("sim/notes.md", []byte("[up](../README.md) [beside](doc.go)"), kept))
}

func TestWordsBite(t *testing.T) {
	for _, text := range []string{"see /wo" + "rk/main", "cd /ro" + "ot/x", "\"/ho" + "me/me/x\"", "reg" + "istry.npmjs.org", "fixes Issue " + "#12"} {
		assert.Len(t, checkWords("a.txt", []byte("fine\n"+text+"\n")), 1, text)
	}
	for _, text := range []string{"homework/", "network/layer", "no issue here", "piston / work / heat", "web/root/x"} {
		assert.Empty(t, checkWords("a.txt", []byte(text)), text)
	}
	assert.Empty(t, checkWords("a.png", []byte("\x00 /wo"+"rk/main")), "a binary file")
}
