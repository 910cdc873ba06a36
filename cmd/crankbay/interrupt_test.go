//go:build !js && !windows

package main

import (
	"bufio"
	"encoding/json"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Who interrupts a long verification has whole lines up to there: one line is longer than
// what a pipe takes at once, and nobody reads when the interruption comes.
func TestInterruptedLinesAreWhole(t *testing.T) {
	names, err := filepath.Glob("../../testdata/attempts/*.json")
	require.NoError(t, err)
	c := exec.Command("crankbay", "verify", "-", "-j", "2")
	c.Path, err = os.Executable()
	require.NoError(t, err)
	var said strings.Builder
	c.Stderr = &said
	in, err := c.StdinPipe()
	require.NoError(t, err)
	out, err := c.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, c.Start())
	go io.WriteString(in, strings.Repeat(strings.Join(names, "\n")+"\n", 20)) // and never closed
	r := bufio.NewReader(out)
	first, err := r.ReadBytes('\n')
	require.NoError(t, err)
	require.True(t, json.Valid(first), "%s", first)
	require.NoError(t, c.Process.Signal(syscall.SIGINT))
	rest, err := io.ReadAll(r)
	require.NoError(t, err)
	lines := strings.SplitAfter(string(rest), "\n")
	assert.Empty(t, lines[len(lines)-1], "no half line at the end")
	for _, line := range lines[:len(lines)-1] {
		assert.True(t, json.Valid([]byte(line)), "%.100s", line)
	}
	assert.Less(t, len(lines), 20*len(names), "it did stop")
	var exit *exec.ExitError
	require.ErrorAs(t, c.Wait(), &exit)
	assert.Equal(t, 130, exit.ExitCode())
	assert.Equal(t, "crankbay: interrupted: what was begun is finished, the rest is not looked at\n", said.String())
}
