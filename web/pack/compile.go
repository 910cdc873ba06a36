//go:build !js

package pack

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// programs are the WebAssembly programs of the site and the packages they are
// built from.
// The core gets its scenarios from the file beside it.
var programs = []struct{ name, from, tags string }{
	{"core.wasm", "./cmd/webcore", "bare"},
	{"desk.wasm", "./cmd/webdesk", ""},
	{"opinion.wasm", "./cmd/webopinion", ""},
	{"scene.wasm", "./cmd/webbench", ""},
	{"seal.wasm", "./cmd/webseal", ""},
}

// compile builds one program for the browser, stripped and without the paths of
// this machine.
func compile(root, from, tags string) ([]byte, error) {
	dir, err := os.MkdirTemp("", "crankbay-pack-")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	out := filepath.Join(dir, "program.wasm")
	args := append([]string{"build", "-trimpath", "-buildvcs=false", "-ldflags=-s -w", "-tags=" + tags}, notInlined()...)
	cmd := exec.Command("go", append(args, "-o", out, from)...)
	cmd.Dir = root
	cmd.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "GOFLAGS=", "GOWASM=")
	if said, err := cmd.CombinedOutput(); err != nil {
		return nil, fmt.Errorf("pack: building %s: %w\n%s", from, err, strings.TrimSpace(string(said)))
	}
	return os.ReadFile(out)
}

// modelPage has the page about the model written and returns its files. It is a
// program of its own, because it needs the engine and a plotting library that
// packing does not.
func modelPage(root string) (contents, error) {
	dir, err := os.MkdirTemp("", "crankbay-pack-")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	cmd := exec.Command("go", "run", "-trimpath", "-buildvcs=false", "./cmd/crankbay/modelpage", "-to", dir, "-testdata", "testdata")
	cmd.Dir = root
	cmd.Env = append(os.Environ(), "GOFLAGS=")
	if said, err := cmd.CombinedOutput(); err != nil {
		return nil, fmt.Errorf("pack: writing the page about the model: %w\n%s", err, strings.TrimSpace(string(said)))
	}
	page := contents{}
	return page, page.addTree(os.DirFS(dir), "", func(string) bool { return true })
}

// notInlined are the packages that are called a few times a second at most: left
// as calls they make a program 5 % smaller on the wire, and it isn't slower where
// it counts. Inlining changes no result: WebAssembly has no fused arithmetic.
func notInlined() []string {
	var flags []string
	for _, pkg := range []string{
		"encoding/json", "fmt", "reflect", "time",
		"crankbay/diagnose/...", "crankbay/scenarios/...", "crankbay/sim/bench", "crankbay/web/session", "crankbay/web/jsapi/core",
		"crankbay/web/answer", "crankbay/web/desk", "crankbay/web/opinion", "crankbay/web/jsapi/desk",
	} {
		flags = append(flags, "-gcflags="+pkg+"=-l")
	}
	// The last one counts: the inner loops of reason are the whole time of an opinion,
	// which takes half as long with them inlined.
	return append(flags, "-gcflags=crankbay/diagnose/reason=")
}
