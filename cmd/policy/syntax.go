//go:build !js

package policy

import (
	"fmt"
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"os"
	"path/filepath"
)

// A checker reads Go source with types, taking imported packages from the
// export data of the build cache.
type checker struct {
	fset    *token.FileSet
	exports map[string]string // import path to file
}

func newChecker(deps []listed) *checker {
	c := &checker{token.NewFileSet(), map[string]string{}}
	for _, p := range deps {
		c.exports[p.ImportPath] = p.Export
	}
	return c
}

// open finds the export data of an imported package.
func (c *checker) open(path string) (io.ReadCloser, error) {
	file, ok := c.exports[path]
	if !ok || file == "" {
		return nil, fmt.Errorf("no export data for %s", path)
	}
	return os.Open(file)
}

// checkPackage reports what must not be written in a core package.
func (c *checker) checkPackage(p listed) ([]string, error) {
	var files []*ast.File
	for _, name := range p.GoFiles {
		f, err := parser.ParseFile(c.fset, filepath.Join(p.Dir, name), nil, parser.SkipObjectResolution)
		if err != nil {
			return nil, err
		}
		files = append(files, f)
	}
	return c.checkFiles(p.ImportPath, files)
}

func (c *checker) checkFiles(path string, files []*ast.File) ([]string, error) {
	info := &types.Info{Types: map[ast.Expr]types.TypeAndValue{}, Uses: map[*ast.Ident]types.Object{}}
	config := types.Config{Importer: importer.ForCompiler(c.fset, "gc", c.open)}
	if _, err := config.Check(path, c.fset, files, info); err != nil {
		return nil, fmt.Errorf("policy: %w", err)
	}
	var bad []string
	for _, f := range files {
		ast.Inspect(f, func(n ast.Node) bool {
			if why := forbidden(n, info); why != "" {
				at := c.fset.Position(n.Pos())
				bad = append(bad, fmt.Sprintf("%s/%s:%d: %s", path, filepath.Base(at.Filename), at.Line, why))
			}
			return true
		})
	}
	return bad, nil
}

// forbidden says what is wrong with one piece of syntax in the core, or "".
func forbidden(n ast.Node, info *types.Info) string {
	switch n := n.(type) {
	case *ast.GoStmt:
		return "starts a goroutine: nothing in the core may depend on scheduling"
	case *ast.SelectStmt:
		return "selects: nothing in the core may depend on scheduling"
	case *ast.ChanType:
		return "uses a channel: nothing in the core may depend on scheduling"
	case *ast.RangeStmt:
		if t := info.TypeOf(n.X); t != nil && isMap(t) {
			return "iterates over a map: the order differs from run to run"
		}
	case *ast.Ident:
		return inexact(info.Uses[n])
	}
	return ""
}

// isMap tells whether ranging over t may visit a map.
func isMap(t types.Type) bool {
	if p, ok := types.Unalias(t).(*types.TypeParam); ok {
		t = p.Constraint()
	}
	switch u := t.Underlying().(type) {
	case *types.Map:
		return true
	case *types.Interface: // a constraint: one of its terms may be a map
		for e := range u.EmbeddedTypes() {
			if isMap(e) {
				return true
			}
		}
	case *types.Union:
		for term := range u.Terms() {
			if isMap(term.Type()) {
				return true
			}
		}
	}
	return false
}

// inexact says why a use of a function of package math is forbidden, or "".
func inexact(o types.Object) string {
	f, ok := o.(*types.Func)
	if !ok || f.Pkg() == nil || f.Pkg().Path() != "math" || exactMath[f.Name()] {
		return ""
	}
	return fmt.Sprintf("uses math.%s, whose last bit differs between machines", f.Name())
}
