//go:build !js

package cli

import (
	"context"
	"encoding/json"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The address comes as JSON before anything is served, the site answers there,
// and the command ends in peace when it is told to.
func TestServeSaysWhereAndStops(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{"index.html", "core.wasm", "wasm_exec.js"} {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte("yard"), 0o644))
	}
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	read, write := io.Pipe()
	c := newServe()
	c.SetOut(write)
	c.SetArgs([]string{"--site", dir, "--addr", "127.0.0.1:0", "--json"})
	done := make(chan error, 1)
	go func() {
		err := c.ExecuteContext(ctx)
		write.CloseWithError(io.EOF)
		done <- err
	}()
	var at struct {
		URL string `json:"url"`
	}
	require.NoError(t, json.NewDecoder(read).Decode(&at))
	resp, err := http.Get(at.URL)
	require.NoError(t, err)
	body, err := io.ReadAll(resp.Body)
	require.NoError(t, err)
	require.NoError(t, resp.Body.Close())
	assert.Equal(t, "yard", string(body))
	stop()
	assert.NoError(t, <-done)
}
