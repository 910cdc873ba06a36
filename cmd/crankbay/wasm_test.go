//go:build !js

package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/cmd/crankbay/internal/cli"
)

// The command built for a JavaScript engine prints the same digests, so a grade
// is the same in a browser and at the instructor's desk.
func TestDigestsAreTheSameInWebAssembly(t *testing.T) {
	if _, err := exec.LookPath("node"); err != nil {
		if os.Getenv("CI") != "" {
			t.Fatal("Node is not installed")
		}
		t.Skip("Node is not installed: apt-get install nodejs")
	}
	root, err := exec.Command("go", "env", "GOROOT").Output()
	require.NoError(t, err)
	wasm := filepath.Join(t.TempDir(), "crankbay.wasm")
	build := exec.Command("go", "build", "-o", wasm, ".")
	build.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	said, err := build.CombinedOutput()
	require.NoError(t, err, "%s", said)

	run := func(args ...string) (string, error) {
		c := exec.Command(filepath.Join(strings.TrimSpace(string(root)), "lib", "wasm", "go_js_wasm_exec"), append([]string{wasm}, args...)...)
		// The script's own environment must be small: a page has little room for it.
		c.Env = []string{"PATH=" + os.Getenv("PATH"), "HOME=" + t.TempDir()}
		out, err := c.Output()
		return string(out), err
	}
	got, err := run("digest")
	require.NoError(t, err)
	var want, stderr bytes.Buffer
	require.Zero(t, cli.Run([]string{"digest"}, &want, &stderr), stderr.String())
	assert.Equal(t, want.String(), got)
	assert.GreaterOrEqual(t, strings.Count(got, "\n"), 10)

	help, err := run("--help")
	require.NoError(t, err)
	assert.NotContains(t, help, "Serve the built site", "nothing can be served from inside a JavaScript engine")
	_, err = run("test", "no-such-engine")
	assert.Error(t, err)
}

// Every failure vector of the file's specification gets one sentence and a
// status that a script can see.
func TestFailureVectorsGetOneSentence(t *testing.T) {
	files, err := filepath.Glob(filepath.Join("..", "..", "testdata", "vectors", "attempts", "*.json"))
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, name := range files {
		var stdout, stderr bytes.Buffer
		assert.Equal(t, 1, cli.Run([]string{"verify", name}, &stdout, &stderr), name)
		assert.Empty(t, stdout.String(), name)
		assert.Equal(t, 1, strings.Count(stderr.String(), "\n"), "%s: %s", name, stderr.String())
		assert.Contains(t, stderr.String(), filepath.Base(name))
	}
}
