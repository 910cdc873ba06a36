//go:build !js

package main

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"

	"github.com/chromedp/chromedp"
)

// page runs the binary and collects what it prints in OUT and its exit status
// in CODE. The Go runtime writes through fs.writeSync and leaves through go.exit.
const page = `<!doctype html><meta charset="utf-8"><title>test</title><body>
<script src="/wasm_exec.js"></script>
<script>
globalThis.OUT = ''; globalThis.CODE = null;
const decoder = new TextDecoder();
fs.writeSync = (fd, bytes) => { OUT += decoder.decode(bytes, {stream: true}); return bytes.length; };
globalThis.take = () => { const out = OUT; OUT = ''; return {out, code: CODE}; };
(async () => {
	const go = new Go();
	go.argv = ARGV;
	go.exit = code => { CODE = code; };
	const {instance} = await WebAssembly.instantiateStreaming(fetch('/test.wasm'), go.importObject);
	await go.run(instance);
})().catch(e => { OUT += (e && e.stack || e) + '\n'; CODE = 3; });
</script>`

// browserArgs leaves out what a browser cannot do: files to write.
func browserArgs(args []string) []string {
	kept := make([]string, 0, len(args))
	for _, a := range args {
		name, _, _ := strings.Cut(a, "=")
		switch name {
		case "-test.testlogfile", "-test.gocoverdir", "-test.coverprofile", "-test.outputdir":
			continue
		}
		kept = append(kept, a)
	}
	return kept
}

// run serves the binary, opens it in a headless browser and copies what it
// prints to out. It returns the exit status of the test.
func run(ctx context.Context, binary string, args []string, out io.Writer) (int, error) {
	server, err := serve(binary, args)
	if err != nil {
		return 0, err
	}
	defer server.Close()
	tab, stop, err := browser(ctx)
	if err != nil {
		return 0, err
	}
	defer stop()
	if err := chromedp.Do(tab, chromedp.Navigate(server.URL)); err != nil {
		return 0, fmt.Errorf("opening the test's page: %w", err)
	}
	return follow(tab, out)
}

// serve offers page, binary and the toolchain's wasm_exec.js on this machine alone.
func serve(binary string, args []string) (*httptest.Server, error) {
	goRoot, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		return nil, fmt.Errorf("go env GOROOT: %w", err)
	}
	argv, err := json.Marshal(append([]string{filepath.Base(binary)}, args...))
	if err != nil {
		return nil, err
	}
	if _, err := os.Stat(binary); err != nil {
		return nil, err
	}
	mux := http.NewServeMux()
	mux.HandleFunc("/{$}", func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		io.WriteString(w, strings.Replace(page, "ARGV", string(argv), 1))
	})
	mux.HandleFunc("/test.wasm", func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Type", "application/wasm")
		http.ServeFile(w, r, binary)
	})
	mux.HandleFunc("/wasm_exec.js", func(w http.ResponseWriter, r *http.Request) {
		http.ServeFile(w, r, filepath.Join(strings.TrimSpace(string(goRoot)), "lib", "wasm", "wasm_exec.js"))
	})
	return httptest.NewServer(mux), nil
}

// browser starts Chromium with WebGL drawn in software and nothing reachable
// but this machine.
func browser(ctx context.Context) (tab context.Context, stop func(), err error) {
	path, err := exec.LookPath("chromium")
	if err != nil {
		return nil, nil, fmt.Errorf("no Chromium on this machine: %w", err)
	}
	profile, err := os.MkdirTemp("", "wasmchrome-")
	if err != nil {
		return nil, nil, err
	}
	options := []chromedp.ExecAllocatorOption{
		chromedp.ExecPath(path), chromedp.Headless, chromedp.NoSandbox, chromedp.NoFirstRun,
		chromedp.NoDefaultBrowserCheck, chromedp.UserDataDir(profile), chromedp.WindowSize(1280, 800),
		chromedp.Flag("host-resolver-rules", "MAP * ~NOTFOUND, EXCLUDE 127.0.0.1"),
		chromedp.Flag("use-gl", "angle"), chromedp.Flag("use-angle", "gl-egl"),
	}
	for _, flag := range []string{"ignore-gpu-blocklist", "disable-quic", "disable-background-networking",
		"disable-component-update", "disable-sync", "disable-extensions", "mute-audio"} {
		options = append(options, chromedp.Flag(flag, true))
	}
	alloc, stopBrowser := chromedp.NewExecAllocator(ctx, options...)
	tab, closeTab := chromedp.NewContext(alloc)
	stop = func() {
		closeTab()
		stopBrowser()
		os.RemoveAll(profile)
	}
	if err := chromedp.Do(tab); err != nil {
		stop()
		return nil, nil, fmt.Errorf("starting Chromium: %w", err)
	}
	return tab, stop, nil
}

// follow copies what the test prints until it exits.
func follow(tab context.Context, out io.Writer) (int, error) {
	type news struct {
		Out  string `json:"out"`
		Code *int   `json:"code"`
	}
	for {
		n, err := chromedp.Run(tab, chromedp.Evaluate[news](`take()`))
		if err != nil {
			return 0, fmt.Errorf("the test gave no verdict: %w", err)
		}
		if _, err := io.WriteString(out, n.Out); err != nil {
			return 0, err
		}
		if n.Code != nil {
			return *n.Code, nil
		}
		select {
		case <-tab.Done():
			return 0, fmt.Errorf("the test gave no verdict: %w", tab.Err())
		case <-time.After(50 * time.Millisecond):
		}
	}
}
