//go:build !js

package pack_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/web/pack"
)

// The file's own reader of its parts, run in Node, gives back every byte.
func TestPartsReadBackWhatWasPacked(t *testing.T) {
	node, err := exec.LookPath("node")
	if err != nil {
		if os.Getenv("CI") != "" {
			t.Fatal("Node is not installed")
		}
		t.Skip("Node is not installed: apt-get install nodejs")
	}
	every := make([]byte, 0, 3*256)
	for i := range 256 {
		every = append(every, byte(i), byte(255-i), byte(i*7))
	}
	source, err := os.ReadFile("../shell/app/parts.js")
	require.NoError(t, err)
	for _, n := range []int{0, 1, 2, 6, 7, 8, 13, len(every)} {
		text := pack.Dense(every[:n])
		assert.True(t, utf8.ValidString(text))
		assert.NotContains(t, text, "<")
		assert.NotContains(t, text, "\r")
		assert.NotContains(t, text, "\x00")
		dir := t.TempDir()
		require.NoError(t, os.WriteFile(filepath.Join(dir, "parts.mjs"), source, 0o644))
		require.NoError(t, os.WriteFile(filepath.Join(dir, "part.txt"), []byte(text), 0o644))
		require.NoError(t, os.WriteFile(filepath.Join(dir, "read.mjs"), []byte(`import { readFileSync } from 'node:fs';
const textContent = readFileSync(new URL('./part.txt', import.meta.url), 'utf8');
globalThis.document = { documentElement: { hasAttribute: () => true }, querySelector: () => ({ textContent }) };
const { part } = await import('./parts.mjs');
process.stdout.write(Buffer.from(part('x')));
`), 0o644))
		out, err := exec.Command(node, filepath.Join(dir, "read.mjs")).Output()
		require.NoError(t, err)
		assert.Equal(t, every[:n], append([]byte{}, out...), "%d bytes", n)
	}
}

// The page in one file runs nothing but what its policy names, and stays small
// enough for a mail.
func TestSingleFileOfTheSite(t *testing.T) {
	page := string(built(t, "crankbay.html"))
	t.Logf("crankbay.html: %d bytes of %d", len(page), pack.SingleLimit)
	assert.LessOrEqual(t, len(page), pack.SingleLimit)
	assert.True(t, utf8.ValidString(page))
	policy := regexp.MustCompile(`Content-Security-Policy" content="([^"]*)"`).FindStringSubmatch(page)
	require.NotNil(t, policy)
	assert.NotContains(t, policy[1], "unsafe-inline")
	assert.NotContains(t, policy[1], "http")
	assert.Equal(t, 2, strings.Count(page, "<script>"), "glue and page; parts are no scripts")
	assert.NotRegexp(t, `(src|href)="[^d#]`, page[:strings.Index(page, "<body>")], "nothing beside the file is asked for")
}
