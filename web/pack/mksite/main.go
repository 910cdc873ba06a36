//go:build !js

// Mksite builds the site into web/dist and prints the sizes a visitor loads.
package main

import (
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"

	"crankbay/web/pack"
)

func main() {
	out := flag.String("out", "", "folder of the site (default web/dist in the module)")
	single := flag.Bool("single", false, "also write crankbay.html, the whole site in one file")
	flag.Parse()
	if err := run(*out, *single); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func run(out string, single bool) error {
	mod, err := goEnv("GOMOD")
	if err != nil {
		return err
	}
	goRoot, err := goEnv("GOROOT")
	if err != nil {
		return err
	}
	root := filepath.Dir(mod)
	if out == "" {
		out = filepath.Join(root, "web", "dist")
	}
	files, err := pack.Build(pack.Options{Root: root, Out: out, GoRoot: goRoot, Single: single})
	if err != nil {
		return err
	}
	var rest int64
	for _, f := range files {
		switch {
		case filepath.Ext(f.Name) == ".wasm", filepath.Ext(f.Name) == ".gz", f.Name == "crankbay.html":
			fmt.Printf("%-14s %9d bytes\n", f.Name, f.Size)
		default:
			rest += f.Size
		}
	}
	fmt.Printf("%-14s %9d bytes\n", "everything else", rest)
	return nil
}

func goEnv(name string) (string, error) {
	out, err := exec.Command("go", "env", name).Output()
	if err != nil {
		return "", fmt.Errorf("mksite: go env %s: %w", name, err)
	}
	return strings.TrimSpace(string(out)), nil
}
