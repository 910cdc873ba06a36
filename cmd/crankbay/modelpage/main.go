//go:build !js

// Modelpage writes the pages that stand for themselves into a folder: the one about
// the model with its drawings and tables, and the teacher's guide. Everything in it is computed now; building the site runs it.
package main

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"

	"crankbay/cmd/crankbay/internal/guide"
	"crankbay/cmd/crankbay/internal/model"
)

func main() {
	to := flag.String("to", "", "folder to write to; required")
	testdata := flag.String("testdata", "testdata", "folder of the published and derived numbers")
	flag.Parse()
	if err := write(*to, *testdata); err != nil {
		fmt.Fprintln(os.Stderr, "modelpage:", err)
		os.Exit(1)
	}
}

func write(to, testdata string) error {
	if to == "" {
		return fmt.Errorf("no folder: -to FOLDER")
	}
	files, err := model.Files(testdata)
	if err != nil {
		return err
	}
	guides, err := guide.Files()
	if err != nil {
		return err
	}
	for _, f := range guides {
		files = append(files, model.File(f))
	}
	for _, f := range files {
		name := filepath.Join(to, filepath.FromSlash(f.Name))
		if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
			return err
		}
		if err := os.WriteFile(name, f.Data, 0o644); err != nil {
			return err
		}
	}
	return nil
}
