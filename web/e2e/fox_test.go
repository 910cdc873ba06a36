//go:build !js

package e2e

import (
	"bufio"
	"context"
	"encoding/base64"
	"encoding/json"
	"errors"
	"fmt"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/chromedp/kb"
	"github.com/coder/websocket"
	"github.com/stretchr/testify/require"

	"crankbay/web/site"
)

// A fox is a Firefox driven by WebDriver BiDi, the W3C's protocol, over its own
// socket: no driver program is needed.
type fox struct {
	conn *websocket.Conn
	tab  string
	down string // folder of downloads

	mu     sync.Mutex
	id     int
	answer map[int]chan foxMessage
	log    []string // console errors and warnings
}

type foxMessage struct {
	ID      int             `json:"id"`
	Type    string          `json:"type"`
	Method  string          `json:"method"`
	Error   string          `json:"error"`
	Message string          `json:"message"`
	Result  json.RawMessage `json:"result"`
	Params  json.RawMessage `json:"params"`
}

// foxPrefs keep the browser from asking anybody anything, and let it save files.
const foxPrefs = `user_pref("datareporting.policy.dataSubmissionEnabled", false);
user_pref("toolkit.telemetry.enabled", false);
user_pref("app.normandy.enabled", false);
user_pref("app.update.enabled", false);
user_pref("services.settings.server", "http://127.0.0.1:9/");
user_pref("network.captive-portal-service.enabled", false);
user_pref("network.connectivity-service.enabled", false);
user_pref("browser.safebrowsing.malware.enabled", false);
user_pref("browser.safebrowsing.phishing.enabled", false);
user_pref("browser.shell.checkDefaultBrowser", false);
user_pref("browser.download.folderList", 2);
user_pref("browser.download.alwaysOpenPanel", false);
user_pref("browser.helperApps.neverAsk.saveToDisk", "application/json");
user_pref("intl.accept_languages", "en-US");
user_pref("browser.download.dir", %q);
`

// openFox starts Firefox with an empty profile and goes to the site.
func openFox(t *testing.T, query string) *page {
	t.Helper()
	dir := siteDir(t)
	program, err := exec.LookPath("firefox-esr")
	if err != nil {
		missing(t, "no Firefox on this machine: apt-get install firefox-esr")
	}
	s := httptest.NewServer(site.Handler(os.DirFS(dir)))
	t.Cleanup(s.Close)
	f := startFox(t, program)
	p := &page{t: t, base: s.URL, fox: f}
	require.NoError(t, f.call("browsingContext.setViewport", map[string]any{"context": f.tab, "viewport": map[string]any{"width": 1280, "height": 800}}, nil))
	require.NoError(t, f.call("browsingContext.navigate", map[string]any{"context": f.tab, "url": p.base + "/?" + query, "wait": "complete"}, nil))
	p.waitFor(`!!document.querySelector('[data-act="open"]')`, "the core to answer")
	f.focus(p)
	return p
}

// focus waits until keys work in the page: a window that has just come up takes
// none for a while.
func (f *fox) focus(p *page) {
	p.t.Helper()
	if !until(func() bool {
		f.key(p, kb.Tab)
		var moved bool
		err := f.evaluate(`document.hasFocus() && document.activeElement !== document.body`, &moved)
		return err == nil && moved
	}) {
		p.fail("no key works in the page")
	}
}

func startFox(t *testing.T, program string) *fox {
	t.Helper()
	profile, down := t.TempDir(), t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(profile, "user.js"), fmt.Appendf(nil, foxPrefs, down), 0o644))
	// A page to start with: from about:blank the focus stays in the address bar, and
	// keys press no button.
	cmd := exec.Command(program, "--headless", "--no-remote", "--profile", profile, "--remote-debugging-port", "0", "data:text/html,.")
	cmd.Env = append(os.Environ(), "HOME="+profile, "MOZ_HEADLESS=1")
	said, err := cmd.StderrPipe()
	require.NoError(t, err)
	require.NoError(t, cmd.Start())
	t.Cleanup(func() { cmd.Process.Kill(); cmd.Wait() })
	address := make(chan string, 1)
	go func() {
		for lines := bufio.NewScanner(said); lines.Scan(); {
			if _, at, ok := strings.Cut(lines.Text(), "WebDriver BiDi listening on "); ok {
				address <- at
			}
		}
	}()
	f := &fox{down: down, answer: map[int]chan foxMessage{}}
	select {
	case at := <-address:
		ctx, cancel := context.WithTimeout(context.Background(), patience)
		defer cancel()
		f.conn, _, err = websocket.Dial(ctx, at+"/session", nil)
		require.NoError(t, err)
	case <-time.After(patience):
		t.Fatal("Firefox did not say where it listens")
	}
	f.conn.SetReadLimit(64 << 20)
	t.Cleanup(func() { f.conn.CloseNow() })
	go f.listen()
	require.NoError(t, f.call("session.new", map[string]any{"capabilities": map[string]any{}}, nil))
	require.NoError(t, f.call("session.subscribe", map[string]any{"events": []string{"log.entryAdded"}}, nil))
	var tree struct {
		Contexts []struct {
			Context string `json:"context"`
		} `json:"contexts"`
	}
	require.NoError(t, f.call("browsingContext.getTree", map[string]any{}, &tree))
	require.NotEmpty(t, tree.Contexts)
	f.tab = tree.Contexts[0].Context
	require.NoError(t, f.call("browsingContext.activate", map[string]any{"context": f.tab}, nil))
	return f
}

// listen hands every answer to whoever waits for it.
func (f *fox) listen() {
	for {
		_, data, err := f.conn.Read(context.Background())
		if err != nil {
			return
		}
		var m foxMessage
		if json.Unmarshal(data, &m) != nil {
			continue
		}
		f.mu.Lock()
		if m.Type == "event" {
			var entry struct{ Level, Text string }
			if json.Unmarshal(m.Params, &entry) == nil && (entry.Level == "error" || entry.Level == "warn") {
				f.log = append(f.log, entry.Level+": "+entry.Text)
			}
		} else if wait, ok := f.answer[m.ID]; ok {
			delete(f.answer, m.ID)
			wait <- m
		}
		f.mu.Unlock()
	}
}

// call sends one command and reads its answer.
func (f *fox) call(method string, params any, into any) error {
	wait := make(chan foxMessage, 1)
	f.mu.Lock()
	f.id++
	id := f.id
	f.answer[id] = wait
	f.mu.Unlock()
	text, err := json.Marshal(map[string]any{"id": id, "method": method, "params": params})
	if err != nil {
		return err
	}
	ctx, cancel := context.WithTimeout(context.Background(), patience)
	defer cancel()
	if err := f.conn.Write(ctx, websocket.MessageText, text); err != nil {
		return err
	}
	select {
	case m := <-wait:
		if m.Error != "" {
			return fmt.Errorf("%s: %s: %s", method, m.Error, m.Message)
		}
		if into == nil {
			return nil
		}
		return json.Unmarshal(m.Result, into)
	case <-ctx.Done():
		return errors.New(method + ": no answer")
	}
}

// evaluate runs an expression, waits for a promise and reads the value.
func (f *fox) evaluate(js string, into any) error {
	var out struct {
		Type   string `json:"type"`
		Result struct {
			Type  string `json:"type"`
			Value string `json:"value"`
		} `json:"result"`
		ExceptionDetails struct {
			Text string `json:"text"`
		} `json:"exceptionDetails"`
	}
	err := f.call("script.evaluate", map[string]any{
		"expression":   "(async () => JSON.stringify((await (" + js + ")) ?? null) ?? 'null')()",
		"target":       map[string]any{"context": f.tab},
		"awaitPromise": true, "userActivation": true,
	}, &out)
	if err != nil {
		return err
	}
	if out.Type == "exception" {
		return errors.New(out.ExceptionDetails.Text)
	}
	return json.Unmarshal([]byte(out.Result.Value), into)
}

// foxKeys are the key values of WebDriver.
var foxKeys = map[string]string{
	kb.Tab: "\ue004", kb.Enter: "\ue007", kb.Backspace: "\ue003", kb.ArrowDown: "\ue015", kb.ArrowUp: "\ue013", kb.ArrowRight: "\ue014",
}

func (f *fox) key(p *page, keys string, hold ...modifier) {
	p.t.Helper()
	var actions []map[string]string
	strike := func(kind, value string) { actions = append(actions, map[string]string{"type": kind, "value": value}) }
	codes := map[modifier]string{shift: "\ue008", control: "\ue009"}
	for _, m := range hold {
		strike("keyDown", codes[m])
	}
	for _, v := range strings.Split(keys, "") {
		if code, ok := foxKeys[v]; ok {
			v = code
		}
		strike("keyDown", v)
		strike("keyUp", v)
	}
	for _, m := range hold {
		strike("keyUp", codes[m])
	}
	if err := f.call("input.performActions", map[string]any{"context": f.tab, "actions": []map[string]any{{"type": "key", "id": "keys", "actions": actions}}}, nil); err != nil {
		p.fail("a key: %v", err)
	}
}

func (f *fox) picture() ([]byte, error) {
	var out struct {
		Data string `json:"data"`
	}
	if err := f.call("browsingContext.captureScreenshot", map[string]any{"context": f.tab}, &out); err != nil {
		return nil, err
	}
	return base64.StdEncoding.DecodeString(out.Data)
}

// complaints are the errors and warnings of the console.
func (f *fox) complaints() []string {
	f.mu.Lock()
	defer f.mu.Unlock()
	return slices.Clone(f.log)
}

// saved waits for the file that a press of the download button leaves.
func (f *fox) saved(p *page) string {
	p.t.Helper()
	return p.arrived(filepath.Join(f.down, "*.json"))
}
