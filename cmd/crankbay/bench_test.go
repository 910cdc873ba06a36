//go:build !js

package main

import (
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

// What a technician waits for four readings, the start of the program included.
func BenchmarkOpinion(b *testing.B) {
	program := filepath.Join(b.TempDir(), "crankbay")
	said, err := exec.Command("go", "build", "-o", program, ".").CombinedOutput()
	require.NoError(b, err, "%s", said)
	for b.Loop() {
		_, err := exec.Command(program, "opinion", "--readings", "150 151 65 149").Output()
		require.NoError(b, err)
	}
}
