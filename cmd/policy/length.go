//go:build !js

package policy

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"strings"
)

// checkLength reports the functions of one file that are longer than
// LongestFunction, signature and braces included.
func checkLength(name string, source []byte) ([]string, error) {
	if strings.HasSuffix(name, "_test.go") {
		return nil, nil
	}
	fset := token.NewFileSet()
	file, err := parser.ParseFile(fset, name, source, parser.SkipObjectResolution)
	if err != nil {
		return nil, err
	}
	var bad []string
	ast.Inspect(file, func(n ast.Node) bool {
		what := "a function literal"
		switch n := n.(type) {
		case *ast.FuncDecl:
			what = n.Name.Name
		case *ast.FuncLit:
		default:
			return true
		}
		from, to := fset.Position(n.Pos()).Line, fset.Position(n.End()).Line
		if lines := to - from + 1; lines > LongestFunction {
			bad = append(bad, fmt.Sprintf("%s:%d: %s has %d lines, at most %d", name, from, what, lines, LongestFunction))
		}
		return true
	})
	return bad, nil
}

// checkDocs reports exported names of one file that have no comment of their
// own. A group of constants, variables or types may share one.
func checkDocs(name string, source []byte) ([]string, error) {
	if strings.HasSuffix(name, "_test.go") {
		return nil, nil
	}
	fset := token.NewFileSet()
	file, err := parser.ParseFile(fset, name, source, parser.ParseComments|parser.SkipObjectResolution)
	if err != nil {
		return nil, err
	}
	var bad []string
	report := func(id *ast.Ident, docs ...*ast.CommentGroup) {
		for _, d := range docs {
			if d != nil {
				return
			}
		}
		if id.IsExported() {
			bad = append(bad, fmt.Sprintf("%s:%d: %s has no comment", name, fset.Position(id.Pos()).Line, id.Name))
		}
	}
	for _, d := range file.Decls {
		switch d := d.(type) {
		case *ast.FuncDecl:
			if d.Recv == nil || exportedReceiver(d.Recv) {
				report(d.Name, d.Doc)
			}
		case *ast.GenDecl:
			for _, s := range d.Specs {
				switch s := s.(type) {
				case *ast.TypeSpec:
					report(s.Name, d.Doc, s.Doc, s.Comment)
				case *ast.ValueSpec:
					for _, id := range s.Names {
						report(id, d.Doc, s.Doc, s.Comment)
					}
				}
			}
		}
	}
	return bad, nil
}

// exportedReceiver tells whether a method belongs to an exported type.
func exportedReceiver(recv *ast.FieldList) bool {
	t := recv.List[0].Type
	if star, ok := t.(*ast.StarExpr); ok {
		t = star.X
	}
	id, ok := t.(*ast.Ident)
	return ok && id.IsExported()
}
