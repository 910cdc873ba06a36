//go:build !js

package policy

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// modulePath is what our import paths begin with.
const modulePath = "crankbay/"

// A listed package, as the go command describes it.
type listed struct {
	ImportPath     string
	Dir            string
	Standard       bool
	Export         string // file of export data
	GoFiles        []string
	IgnoredGoFiles []string
	Imports        []string
	TestImports    []string
	XTestImports   []string
}

// name is the import path below our module.
func (p listed) name() string { return strings.TrimPrefix(p.ImportPath, modulePath) }

// findRoot returns the folder of go.mod, from the working directory upwards.
func findRoot() (string, error) {
	dir, err := os.Getwd()
	if err != nil {
		return "", err
	}
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return dir, nil
		}
		up := filepath.Dir(dir)
		if up == dir {
			return "", errors.New("policy: no go.mod above the working directory")
		}
		dir = up
	}
}

// command runs a program in dir with additional environment and returns what it
// printed to standard output and standard error.
func command(dir string, env []string, name string, args ...string) (out, said []byte, err error) {
	cmd := exec.Command(name, args...)
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), env...)
	var stdout, stderr bytes.Buffer
	cmd.Stdout, cmd.Stderr = &stdout, &stderr
	if err := cmd.Run(); err != nil {
		return nil, nil, fmt.Errorf("policy: %s %s: %w\n%s", name, strings.Join(args, " "), err, tail(stderr.String()))
	}
	return stdout.Bytes(), stderr.Bytes(), nil
}

// tail returns the last lines of a long complaint.
func tail(s string) string {
	const most = 2000
	if len(s) > most {
		return "..." + s[len(s)-most:]
	}
	return s
}

// list asks the go command about packages, on a target such as "js/wasm".
func list(dir, target string, args ...string) ([]listed, error) {
	goos, goarch, _ := strings.Cut(target, "/")
	out, _, err := command(dir, []string{"GOOS=" + goos, "GOARCH=" + goarch, "CGO_ENABLED=0"},
		"go", append([]string{"list", "-json"}, args...)...)
	if err != nil {
		return nil, err
	}
	var all []listed
	for d := json.NewDecoder(bytes.NewReader(out)); ; {
		var p listed
		if err := d.Decode(&p); err == io.EOF {
			return all, nil
		} else if err != nil {
			return nil, err
		}
		all = append(all, p)
	}
}

// tracked returns the files that git knows or would add, by path from the root.
// Outside a git tree it is an error, for then a stray file cannot be told from
// a kept one.
func tracked(root string) ([]string, error) {
	out, _, err := command(root, nil, "git", "ls-files", "--cached", "--others", "--exclude-standard", "-z")
	if err != nil {
		return nil, err
	}
	var files []string
	for name := range strings.SplitSeq(strings.TrimRight(string(out), "\x00"), "\x00") {
		if _, err := os.Lstat(filepath.Join(root, name)); err == nil { // not deleted just now
			files = append(files, name)
		}
	}
	return files, nil
}
