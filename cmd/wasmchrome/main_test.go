//go:build !js

package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The tests of the test binary under test: one passes, one fails, one proves
// that this is a browser, one leaves by panic.
const inBrowser = `package tiny

import (
	"syscall/js"
	"testing"
)

func TestPasses(t *testing.T) { t.Log("größe") }
func TestFails(t *testing.T)  { t.Error("on purpose") }
func TestPanics(t *testing.T) { panic("on purpose") }
func TestBrowser(t *testing.T) {
	if !js.Global().Get("document").Truthy() {
		t.Error("no document")
	}
	gl := js.Global().Get("document").Call("createElement", "canvas").Call("getContext", "webgl2")
	if !gl.Truthy() {
		t.Error("no WebGL")
	}
}
`

// build compiles the runner and the tiny test package and returns a function
// that runs chosen tests of it, as the go command would.
func build(t *testing.T) func(run string) (said string, code int) {
	t.Helper()
	if _, err := exec.LookPath("chromium"); err != nil {
		if os.Getenv("CI") != "" {
			t.Fatal("no Chromium on this machine")
		}
		t.Skip("no Chromium on this machine: apt-get install chromium")
	}
	dir := t.TempDir()
	runner := filepath.Join(dir, "wasmchrome")
	out, err := exec.Command("go", "build", "-o", runner, ".").CombinedOutput()
	require.NoError(t, err, string(out))
	tiny := filepath.Join(dir, "tiny")
	require.NoError(t, os.Mkdir(tiny, 0o755))
	require.NoError(t, os.WriteFile(filepath.Join(tiny, "go.mod"), []byte("module tiny\n\ngo 1.26\n"), 0o644))
	require.NoError(t, os.WriteFile(filepath.Join(tiny, "tiny_js_test.go"), []byte(inBrowser), 0o644))
	return func(run string) (string, int) {
		cmd := exec.Command("go", "test", "-v", "-count=1", "-run", run, "-exec", runner)
		cmd.Dir = tiny
		cmd.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "GOFLAGS=")
		out, err := cmd.CombinedOutput()
		if err != nil {
			require.ErrorAs(t, err, new(*exec.ExitError))
		}
		return string(out), cmd.ProcessState.ExitCode()
	}
}

func TestRunsInABrowser(t *testing.T) {
	test := build(t)
	for _, c := range []struct {
		run  string
		code int
		says []string
	}{
		{"TestPasses|TestBrowser", 0, []string{"--- PASS: TestPasses", "größe", "--- PASS: TestBrowser", "ok"}},
		{"TestFails", 1, []string{"--- FAIL: TestFails", "on purpose", "FAIL"}},
		{"TestPanics", 1, []string{"panic: on purpose", "TestPanics", "FAIL"}},
	} {
		said, code := test(c.run)
		assert.Equal(t, c.code, code, c.run)
		for _, want := range c.says {
			assert.Contains(t, said, want, c.run)
		}
	}
}

func TestMissingBinary(t *testing.T) {
	_, err := serve(filepath.Join(t.TempDir(), "none.wasm"), nil)
	assert.ErrorIs(t, err, os.ErrNotExist)
}

func TestBrowserArgs(t *testing.T) {
	got := browserArgs([]string{"-test.paniconexit0", "-test.testlogfile=/x/y", "-test.run=A=B", "-test.coverprofile=c.out"})
	assert.Equal(t, []string{"-test.paniconexit0", "-test.run=A=B"}, got)
}

func TestPatience(t *testing.T) {
	assert.Equal(t, 90*time.Second, patience([]string{"-test.v=true", "-test.timeout=1m0s"}))
	assert.Equal(t, 10*time.Minute+30*time.Second, patience([]string{"-test.timeout=0s"}))
	assert.Equal(t, 10*time.Minute+30*time.Second, patience(nil))
}
