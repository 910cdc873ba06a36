//go:build !js

package e2e

import (
	"context"
	"fmt"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/network"
	cdppage "github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"crankbay/web/site"
)

// A wait for the page is bounded in looks, not in seconds: each look waits for the page
// to answer and then lets it work for a moment. A machine with other work on it gets
// the time it needs, and a page that answers but never comes to what is waited for is
// found out after half a minute on an idle one.
const (
	looks = 1000
	pause = 30 * time.Millisecond
)

// patience bounds a single question: one that isn't answered by then never is.
const patience = 4 * time.Minute

// A page is one tab with the site in it, and what the tab complained about.
type page struct {
	t    *testing.T
	ctx  context.Context
	base string // address of the site, no slash at the end
	fox  *fox   // instead of ctx, where the browser is Firefox

	mu       sync.Mutex
	console  []string // errors and warnings
	requests []string // every address asked for
	dialogs  []string // kinds of dialogs that opened
}

// A look says how a tab sees the site.
type look struct {
	width, height int64
	noWebGL       bool
	dark          bool
	folder        string                          // where the host keeps the site: "" or "/some/folder"
	gate          func(http.Handler) http.Handler // in front of the host, for what goes wrong with it
}

// siteDir returns the built site; a tree in which nobody has built it cannot
// run these tests.
func siteDir(t *testing.T) string {
	t.Helper()
	dir := filepath.Join("..", "dist")
	if err := site.Check(os.DirFS(dir)); err != nil {
		missing(t, fmt.Sprintf("web/dist is not built (%v): run 'make site' first", err))
	}
	return dir
}

// missing skips a test for want of a tool, or fails it where tools are a duty.
func missing(t *testing.T, why string) {
	t.Helper()
	if os.Getenv("CI") != "" {
		t.Fatal(why)
	}
	t.Skip(why)
}

func chromium(t *testing.T) string {
	t.Helper()
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	missing(t, "no Chromium on this machine: apt-get install chromium")
	return ""
}

// open starts a browser with an empty profile and goes to the site. query is
// the search part of the address without the question mark.
func open(t *testing.T, l look, query string) *page {
	t.Helper()
	dir := siteDir(t)
	host := site.Handler(os.DirFS(dir))
	if l.gate != nil {
		host = l.gate(host)
	}
	s := httptest.NewServer(http.StripPrefix(l.folder, host))
	t.Cleanup(s.Close)
	p := &page{t: t, base: s.URL + l.folder}
	p.ctx = start(t, l)
	p.watch()
	if l.width == 0 {
		l.width, l.height = 1280, 800
	}
	require.NoError(t, chromedp.Do(p.ctx,
		chromedp.EmulateViewport(l.width, l.height, chromedp.EmulateScale(1))))
	p.visit(query)
	return p
}

func start(t *testing.T, l look) context.Context {
	t.Helper()
	o := []chromedp.ExecAllocatorOption{
		chromedp.ExecPath(chromium(t)), chromedp.Headless, chromedp.NoSandbox,
		chromedp.NoFirstRun, chromedp.NoDefaultBrowserCheck, chromedp.UserDataDir(t.TempDir()),
		chromedp.WindowSize(1280, 800),
		// Nothing but this machine can be reached, whatever a page asks for.
		chromedp.Flag("host-resolver-rules", "MAP * ~NOTFOUND, EXCLUDE 127.0.0.1"),
	}
	for _, f := range []string{"disable-quic", "disable-background-networking", "disable-component-update",
		"disable-sync", "disable-extensions", "mute-audio"} {
		o = append(o, chromedp.Flag(f, true))
	}
	switch {
	case l.noWebGL:
		o = append(o, chromedp.Flag("disable-gpu", true), chromedp.Flag("disable-software-rasterizer", true),
			chromedp.Flag("disable-3d-apis", true))
	default:
		o = append(o, chromedp.Flag("use-gl", "angle"), chromedp.Flag("use-angle", "gl-egl"),
			chromedp.Flag("ignore-gpu-blocklist", true))
	}
	alloc, stop := chromedp.NewExecAllocator(context.Background(), o...)
	ctx, done := chromedp.NewContext(alloc)
	t.Cleanup(func() { done(); stop() })
	require.NoError(t, chromedp.Do(ctx), "starting the browser")
	return ctx
}

// watch keeps every request and every complaint of the tab.
func (p *page) watch() {
	err := chromedp.Listen(p.ctx, func(ev any) {
		p.mu.Lock()
		defer p.mu.Unlock()
		switch e := ev.(type) {
		case *network.EventRequestWillBeSent:
			p.requests = append(p.requests, e.Request.URL)
		case *runtime.EventExceptionThrown:
			p.console = append(p.console, "exception: "+thrown(e.ExceptionDetails))
		case *cdppage.EventJavascriptDialogOpening: // the page asks before it is left; a test means it
			p.dialogs = append(p.dialogs, string(e.Type))
			go chromedp.Call(p.ctx, cdppage.HandleJavaScriptDialog, cdppage.HandleJavaScriptDialogParams{Accept: true})
		}
	})
	require.NoError(p.t, err)
	msgs := chromedp.Console(p.ctx)
	go func() {
		for m, err := range msgs {
			if err != nil {
				return
			}
			if m.Type == chromedp.ConsoleError || m.Type == chromedp.ConsoleWarning {
				p.mu.Lock()
				p.console = append(p.console, fmt.Sprintf("%s: %s (%s)", m.Type, m.Text, m.URL))
				p.mu.Unlock()
			}
		}
	}()
}

// visit goes to the site and waits until the core answers.
func (p *page) visit(query string) {
	p.t.Helper()
	u := p.base + "/"
	if query != "" {
		u += "?" + query
	}
	require.NoError(p.t, chromedp.Do(p.ctx, chromedp.Navigate(u)))
	p.waitFor(`!!document.querySelector('[data-act="open"]')`, "the core to answer")
}

func (p *page) do(what string, steps ...chromedp.Action[chromedp.Void]) {
	p.t.Helper()
	ctx, cancel := context.WithTimeout(p.ctx, patience)
	defer cancel()
	if err := chromedp.Do(ctx, steps...); err != nil {
		p.fail("%s: %v", what, err)
	}
}

// eval runs an expression in the page and returns its value.
func eval[T any](p *page, js string) T {
	p.t.Helper()
	if p.fox != nil {
		var v T
		if err := p.fox.evaluate(js, &v); err != nil {
			p.fail("%.120s: %v", js, err)
		}
		return v
	}
	ctx, cancel := context.WithTimeout(p.ctx, patience)
	defer cancel()
	v, err := chromedp.Run(ctx, chromedp.Evaluate[T](js, chromedp.EvalAwaitPromise))
	if err != nil {
		p.fail("%.120s: %v", js, err)
	}
	return v
}

// waitFor waits until an expression holds.
func (p *page) waitFor(js, what string) {
	p.t.Helper()
	var last error
	if !until(func() bool {
		var ok bool
		ok, last = p.holds(js)
		return ok
	}) {
		p.fail("waiting for %s: it doesn't come (%v)", what, last)
	}
}

// holds asks the page whether an expression holds just now. A page that is being left
// or is just coming answers with an error.
func (p *page) holds(js string) (ok bool, err error) {
	if p.fox != nil {
		err = p.fox.evaluate("!!("+js+")", &ok)
		return ok, err
	}
	ctx, cancel := context.WithTimeout(p.ctx, patience)
	defer cancel()
	return chromedp.Run(ctx, chromedp.Evaluate[bool]("!!("+js+")"))
}

// asks is holds for a page that goes away meanwhile: the question is lost then, and
// given up after a while.
func (p *page) asks(js string) bool {
	ctx, cancel := context.WithTimeout(p.ctx, 5*time.Second)
	defer cancel()
	ok, err := chromedp.Run(ctx, chromedp.Evaluate[bool](js))
	return err == nil && ok
}

// until looks again and again until something is so; false when it never is.
func until(so func() bool) bool {
	for range looks {
		if so() {
			return true
		}
		time.Sleep(pause)
	}
	return false
}

// fail stops the test with a picture of the page and all it complained about.
func (p *page) fail(format string, args ...any) {
	p.t.Helper()
	if png, err := p.picture(); err == nil {
		name := filepath.Join("screens", "failed-"+strings.ReplaceAll(p.t.Name(), "/", "-")+".png")
		if os.MkdirAll("screens", 0o755) == nil && os.WriteFile(name, png, 0o644) == nil {
			p.t.Logf("picture of the page: web/e2e/%s", name)
		}
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	for _, line := range p.console {
		p.t.Logf("console: %s", line)
	}
	if p.fox != nil {
		for _, line := range p.fox.complaints() {
			p.t.Logf("console: %s", line)
		}
	}
	p.t.Fatalf(format, args...)
}

// picture is what the tab shows just now.
func (p *page) picture() ([]byte, error) {
	if p.fox != nil {
		return p.fox.picture()
	}
	ctx, cancel := context.WithTimeout(p.ctx, 10*time.Second)
	defer cancel()
	return chromedp.Run(ctx, chromedp.CaptureScreenshot())
}

// complaints returns what the console said, without what the test's own way of
// drawing without a graphics card causes.
func (p *page) complaints() []string {
	p.mu.Lock()
	defer p.mu.Unlock()
	var out []string
	for _, line := range p.console {
		if strings.Contains(line, "GPU stall due to ReadPixels") {
			continue
		}
		out = append(out, line)
	}
	return out
}

// asked returns every address that was asked for.
func (p *page) asked() []string {
	p.mu.Lock()
	defer p.mu.Unlock()
	return slices.Clone(p.requests)
}

// strangers returns the requests that went anywhere but to the site itself.
func (p *page) strangers() []string {
	home, err := url.Parse(p.base)
	require.NoError(p.t, err)
	var out []string
	for _, r := range p.asked() {
		u, err := url.Parse(r)
		if err != nil || (u.Scheme != "data" && u.Scheme != "blob" && u.Host != home.Host) {
			out = append(out, r)
		}
	}
	return out
}

// thrown says what an uncaught exception was.
func thrown(d *runtime.ExceptionDetails) string {
	if d.Exception != nil && d.Exception.Description != "" {
		return d.Exception.Description
	}
	return d.Text
}
