//go:build !js

package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"crankbay/cmd/crankbay/internal/cli"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The pinned sessions have the same digests on a 64-bit ARM processor, played
// by qemu-user, and on an amd64 one that may fuse products with sums.
func TestDigestsAreTheSameOnOtherProcessors(t *testing.T) {
	var want, stderr bytes.Buffer
	require.Zero(t, cli.Run([]string{"digest"}, &want, &stderr), stderr.String())
	for _, machine := range []struct {
		name, player string
		env          []string
	}{
		{"arm64", "qemu-aarch64", []string{"GOOS=linux", "GOARCH=arm64", "CGO_ENABLED=0"}},
		{"amd64-v3", "", []string{"GOOS=linux", "GOARCH=amd64", "GOAMD64=v3", "CGO_ENABLED=0"}},
	} {
		t.Run(machine.name, func(t *testing.T) {
			if !playable(machine.player) {
				missing(t, machine.player)
			}
			program := filepath.Join(t.TempDir(), "crankbay")
			build := exec.Command("go", "build", "-o", program, ".")
			build.Env = append(os.Environ(), machine.env...)
			said, err := build.CombinedOutput()
			require.NoError(t, err, "%s", said)
			command := []string{program, "digest"}
			if machine.player != "" {
				command = append([]string{machine.player}, command...)
			}
			got, err := exec.Command(command[0], command[1:]...).Output()
			require.NoError(t, err)
			assert.Equal(t, want.String(), string(got))
		})
	}
}

// playable says whether this machine can run a program through player, or, with
// none named, whether its own processor has what amd64 v3 asks for.
func playable(player string) bool {
	if player != "" {
		_, err := exec.LookPath(player)
		return err == nil
	}
	cpu, err := os.ReadFile("/proc/cpuinfo")
	return err == nil && strings.Contains(string(cpu), " avx2 ") && strings.Contains(string(cpu), " fma ")
}

// missing skips a test aloud, or fails it on a build server that has to have the tool.
func missing(t *testing.T, player string) {
	if player == "" {
		t.Skip("this processor has no AVX2 and FMA: the amd64 v3 digests were not compared")
	}
	if os.Getenv("CI") != "" {
		t.Fatalf("%s is not installed: apt-get install qemu-user", player)
	}
	t.Skipf("%s is not installed (apt-get install qemu-user): the digests of this processor were not compared", player)
}
