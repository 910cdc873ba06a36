//go:build !js

package e2e

import (
	"archive/zip"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/scenarios"
	"crankbay/scenarios/code"
	"crankbay/web/pack/lms"
	"crankbay/web/site"
)

// packed writes a package of the faulty engine, unpacks it the way a platform does, and
// returns the files.
func packed(t *testing.T, format string) http.Handler {
	t.Helper()
	p := lms.Package{Format: format, Pass: 0.7, Job: code.Assignment{Scenario: scenarios.Find(faulty), Mode: "grade"}}
	var b bytes.Buffer
	require.NoError(t, p.Write(&b, os.DirFS(siteDir(t))))
	z, err := zip.NewReader(bytes.NewReader(b.Bytes()), int64(b.Len()))
	require.NoError(t, err)
	dir := t.TempDir()
	for _, f := range z.File {
		r, err := f.Open()
		require.NoError(t, err)
		data, err := io.ReadAll(r)
		require.NoError(t, err)
		name := filepath.Join(dir, filepath.FromSlash(f.Name))
		require.NoError(t, os.MkdirAll(filepath.Dir(name), 0o755))
		require.NoError(t, os.WriteFile(name, data, 0o644))
	}
	t.Logf("%s: %d bytes", format, b.Len())
	return site.Handler(os.DirFS(dir))
}

// platformJS is a platform around the page: the run-time of scorm-again, which
// remembers what was committed.
const platformJS = `{
  const kept = JSON.parse(localStorage.getItem('platform') ?? 'null');
  const api = new %s({ autocommit: false });
  if (kept) api.loadFromJSON({ cmi: kept });
  window.%s = api;
  api.on('%s', () => {
    const cmi = JSON.parse(JSON.stringify(api.cmi));
    localStorage.setItem('seen', JSON.stringify(cmi));
    localStorage.setItem('platform', JSON.stringify(%s));
  });
}`

// onPlatform serves a package on a platform of scorm-again and opens it.
func onPlatform(t *testing.T, format string) *page {
	t.Helper()
	program, err := os.ReadFile("../../testdata/npm/node_modules/scorm-again/dist/scorm-again.js")
	if err != nil {
		missing(t, "the npm packages are not installed (npm ci in testdata/npm)")
	}
	script := fmt.Sprintf(platformJS, "Scorm12API", "API", "LMSCommit",
		`{ suspend_data: cmi.suspend_data, core: { entry: 'resume', lesson_status: cmi.core.lesson_status, student_name: 'Núñez, Ana' } }`)
	if format == lms.SCORM2004 {
		script = fmt.Sprintf(platformJS, "Scorm2004API", "API_1484_11", "Commit",
			`{ suspend_data: cmi.suspend_data, entry: 'resume', completion_status: cmi.completion_status }`)
	}
	files := packed(t, format)
	s := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		switch r.URL.Path {
		case "/scorm-again.js", "/platform.js":
			w.Header().Set("Content-Type", "text/javascript")
			w.Write(map[string][]byte{"/scorm-again.js": program, "/platform.js": []byte(script)}[r.URL.Path])
		case "/":
			rec := httptest.NewRecorder()
			files.ServeHTTP(rec, r)
			w.Header().Set("Content-Type", "text/html; charset=utf-8")
			io.WriteString(w, strings.Replace(rec.Body.String(), "<meta name=\"viewport\"", "<script src=\"scorm-again.js\"></script><script src=\"platform.js\"></script><meta name=\"viewport\"", 1))
		default:
			files.ServeHTTP(w, r)
		}
	}))
	t.Cleanup(s.Close)
	return jobAt(t, s.URL)
}

// jobAt opens a platform's course and waits for its job.
func jobAt(t *testing.T, base string) *page {
	t.Helper()
	p := &page{t: t, base: base}
	p.ctx = start(t, look{noWebGL: true})
	p.watch()
	require.NoError(t, chromedp.Do(p.ctx, chromedp.EmulateViewport(1280, 800, chromedp.EmulateScale(1)), chromedp.Navigate(p.base+"/")))
	p.waitFor(`!!document.querySelector('[data-act="start-job"]:not([disabled])')`, "the job")
	return p
}

// A test in a SCORM 1.2 package: suspended in the middle, taken up from the platform's
// memory alone, handed in, and reported.
func TestPackageSCORM12(t *testing.T) {
	t.Parallel()
	p := onPlatform(t, lms.SCORM12)
	assert.Zero(t, eval[int](p, `document.querySelectorAll('[data-act="open"]').length`), "one job and no catalogue")
	w := studentAt(t, p, mouse{p})
	w.act("start-job")
	p.waitFor(`!!document.querySelector('main.bay')`, "the Bay")
	w.prepare()
	w.test(1, "dry")
	w.onCylinder("hose-on", "plug", 2)
	w.act("stroke")
	w.act("stroke")
	before := p.facts()
	require.True(t, before.Starter)
	p.waitFor(`JSON.parse(localStorage.getItem('platform'))?.suspend_data.length > 100`, "something kept by the platform")
	// The device forgets; only the platform remembers.
	p.waitFor(`!(Object.keys(localStorage).filter((k) => k.startsWith('crankbay/')).forEach((k) => localStorage.removeItem(k)))`, "the device to forget")
	p.do("reload", chromedp.Reload())
	p.waitFor(`!!document.querySelector('main.bay')`, "the Bay, out of the platform's memory")
	w.rest()
	after := p.facts()
	assert.False(t, after.Starter, "the starter is off")
	assert.Equal(t, before.Plugs, after.Plugs)
	assert.Equal(t, before.Page, after.Page)
	assert.Equal(t, before.HoseOn, after.HoseOn)
	assert.InDelta(t, before.Minutes, after.Minutes, 0.2)
	assert.JSONEq(t, string(before.Sheet), string(after.Sheet))
	assert.Equal(t, "197.5", eval[string](p, `document.querySelector('`+css("field", "dry_last", "cylinder", 1)+`').value`))

	w.conclude("valve_leak", 3, "leakage")
	w.handIn()
	points, outOf, _ := w.graded()
	p.waitFor(`JSON.parse(localStorage.getItem('seen'))?.core.lesson_status !== 'incomplete'`, "the report")
	var cmi struct {
		SuspendData string `json:"suspend_data"`
		Core        struct {
			Status string `json:"lesson_status"`
			Score  struct {
				Raw json.Number `json:"raw"`
			} `json:"score"`
		} `json:"core"`
	}
	require.NoError(t, json.Unmarshal([]byte(eval[string](p, `localStorage.getItem('seen')`)), &cmi))
	assert.Equal(t, "failed", cmi.Core.Status, "hardly anything was done")
	raw, err := cmi.Core.Score.Raw.Float64()
	require.NoError(t, err)
	assert.InDelta(t, 100*points/outOf, raw, 0.2)
	assert.LessOrEqual(t, len(cmi.SuspendData), 4096)
	quiet(t, p)
}

// The same by SCORM 2004, in short.
func TestPackageSCORM2004(t *testing.T) {
	t.Parallel()
	p := onPlatform(t, lms.SCORM2004)
	w := studentAt(t, p, mouse{p})
	w.act("start-job")
	p.waitFor(`!!document.querySelector('main.bay')`, "the Bay")
	w.act("glasses")
	before := p.facts()
	p.waitFor(`JSON.parse(localStorage.getItem('platform'))?.suspend_data?.length > 20`, "something kept by the platform")
	p.waitFor(`!(Object.keys(localStorage).filter((k) => k.startsWith('crankbay/')).forEach((k) => localStorage.removeItem(k)))`, "the device to forget")
	p.do("reload", chromedp.Reload())
	p.waitFor(`!!document.querySelector('main.bay')`, "the Bay, out of the platform's memory")
	w.rest()
	assert.InDelta(t, before.Minutes, p.facts().Minutes, 0.2)
	assert.JSONEq(t, string(before.Sheet), string(p.facts().Sheet))
	w.conclude("valve_leak", 3, "leakage")
	w.handIn()
	points, outOf, _ := w.graded()
	p.waitFor(`JSON.parse(localStorage.getItem('seen'))?.completion_status === 'completed'`, "the report")
	assert.Equal(t, "failed", eval[string](p, `JSON.parse(localStorage.getItem('seen')).success_status`))
	assert.InDelta(t, points/outOf, eval[float64](p, `Number(JSON.parse(localStorage.getItem('seen')).score.scaled)`), 0.002)
	// Opened again it shows what was handed in, and reports nothing twice.
	p.do("reload", chromedp.Reload())
	p.waitFor(`!!document.querySelector('.score')`, "the Debrief, out of the platform's memory")
	again, _, _ := w.graded()
	assert.Equal(t, points, again)
	quiet(t, p)
}

// records is a record store of cmi5 on an origin of its own.
type records struct {
	*httptest.Server
	mu         sync.Mutex
	statements []map[string]any
	state      string
	refuse     string // end of a state that is not taken
}

func recordStore(t *testing.T, home *string) *records {
	t.Helper()
	s := &records{}
	s.Server = httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Access-Control-Allow-Origin", *home)
		w.Header().Set("Access-Control-Allow-Headers", "Authorization, Content-Type, X-Experience-API-Version")
		w.Header().Set("Access-Control-Allow-Methods", "GET, PUT, POST")
		body, _ := io.ReadAll(r.Body)
		s.mu.Lock()
		defer s.mu.Unlock()
		switch {
		case r.Method == http.MethodOptions:
		case r.URL.Path == "/fetch":
			io.WriteString(w, `{"auth-token":"dG9rZW4="}`)
		case r.Header.Get("Authorization") != "Basic dG9rZW4=":
			w.WriteHeader(http.StatusUnauthorized)
		case strings.HasSuffix(r.URL.Path, "/activities/state") && r.URL.Query().Get("stateId") == "LMS.LaunchData":
			io.WriteString(w, `{"contextTemplate":{"extensions":{"https://w3id.org/xapi/cmi5/context/extensions/sessionid":"s1"}},"launchMode":"Normal","masteryScore":0.7,"moveOn":"CompletedAndPassed"}`)
		case strings.HasSuffix(r.URL.Path, "/activities/state") && r.Method == http.MethodPut && s.refuse != "" && strings.HasSuffix(string(body), s.refuse):
			w.WriteHeader(http.StatusInternalServerError)
		case strings.HasSuffix(r.URL.Path, "/activities/state") && r.Method == http.MethodPut:
			s.state = string(body)
		case strings.HasSuffix(r.URL.Path, "/activities/state") && s.state != "":
			io.WriteString(w, s.state)
		case strings.HasSuffix(r.URL.Path, "/agents/profile"):
			io.WriteString(w, `{"languagePreference":"es-MX","audioPreference":"off"}`)
		case strings.HasSuffix(r.URL.Path, "/statements"):
			var st map[string]any
			if json.Unmarshal(body, &st) == nil {
				s.statements = append(s.statements, st)
			}
			w.WriteHeader(http.StatusNoContent)
		default:
			w.WriteHeader(http.StatusNotFound)
		}
	}))
	t.Cleanup(s.Close)
	return s
}

func (s *records) verbs() (all []string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, st := range s.statements {
		id := st["verb"].(map[string]any)["id"].(string)
		all = append(all, id[strings.LastIndexByte(id, '/')+1:])
	}
	return all
}

// launched opens a cmi5 package as a platform would.
func launched(t *testing.T, home string, store *records) *page {
	t.Helper()
	q := url.Values{
		"endpoint": {store.URL + "/xapi/"}, "fetch": {store.URL + "/fetch"}, "registration": {"3e7f5f3a-0b65-4a55-9a2b-2d8a2fd6b0aa"},
		"activityId": {"https://school.example/act/7"}, "actor": {`{"objectType":"Agent","name":"Ana Núñez","account":{"homePage":"https://school.example","name":"17"}}`},
	}
	p := &page{t: t, base: home}
	p.ctx = start(t, look{noWebGL: true})
	p.watch()
	require.NoError(t, chromedp.Do(p.ctx, chromedp.EmulateViewport(1280, 800, chromedp.EmulateScale(1)), chromedp.Navigate(p.base+"/?"+q.Encode())))
	p.waitFor(`!!document.querySelector('[data-act="start-job"]:not([disabled])') && document.documentElement.lang === 'es'`, "the job, in Spanish")
	return p
}

// A cmi5 package speaks to the record store it was launched with and to nobody else,
// and takes language and sound from it.
func TestPackageCMI5(t *testing.T) {
	t.Parallel()
	home := ""
	store := recordStore(t, &home)
	stranger := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) { w.Header().Set("Access-Control-Allow-Origin", "*") }))
	t.Cleanup(stranger.Close)
	s := httptest.NewServer(packed(t, lms.CMI5))
	t.Cleanup(s.Close)
	home = s.URL
	p := launched(t, s.URL, store)
	w := studentAt(t, p, mouse{p})
	w.act("start-job")
	p.waitFor(`!!document.querySelector('main.bay')`, "the Bay")
	assert.Equal(t, "Ana Núñez", p.facts().Who)
	w.act("glasses")
	p.waitFor(`document.getElementById('lms').dataset.state === 'kept'`, "the attempt to be kept")
	w.conclude("valve_leak", 3, "leakage")
	w.handIn()
	w.graded()
	p.waitFor(`document.getElementById('lms').dataset.state === 'reported'`, "the report")
	assert.Equal(t, []string{"initialized", "completed", "failed"}, store.verbs())
	assert.True(t, strings.HasPrefix(store.state, "CB1.") && strings.HasSuffix(store.state, " reported"), store.state)
	for _, line := range p.complaints() {
		assert.Contains(t, line, "status of 404", "only that nothing had been kept yet")
	}

	assert.Equal(t, "refused", eval[string](p, fmt.Sprintf(`fetch(%q).then(() => 'heard', () => 'refused')`, stranger.URL+"/")))
	assert.Equal(t, "heard", eval[string](p, fmt.Sprintf(`fetch(%q, {method: 'POST'}).then(() => 'heard', () => 'refused')`, store.URL+"/fetch")))
	for _, asked := range p.asked() {
		u, err := url.Parse(asked)
		require.NoError(t, err)
		if u.Scheme == "http" && u.Host != strings.TrimPrefix(s.URL, "http://") && u.Host != strings.TrimPrefix(stranger.URL, "http://") {
			assert.Equal(t, strings.TrimPrefix(store.URL, "http://"), u.Host)
		}
	}
	p.do("leave", chromedp.Navigate("about:blank"))
	until(func() bool { return len(store.verbs()) == 4 })
	assert.Equal(t, []string{"initialized", "completed", "failed", "terminated"}, store.verbs())
}

// A platform that takes the grade but not the mark behind the attempt has the grade,
// and is told it once.
func TestReportedThoughTheMarkIsRefused(t *testing.T) {
	t.Parallel()
	home := ""
	store := recordStore(t, &home)
	store.refuse = " reported"
	s := httptest.NewServer(packed(t, lms.CMI5))
	t.Cleanup(s.Close)
	home = s.URL
	p := launched(t, s.URL, store)
	w := studentAt(t, p, mouse{p})
	w.act("start-job")
	p.waitFor(`!!document.querySelector('main.bay')`, "the Bay")
	w.conclude("valve_leak", 3, "leakage")
	w.handIn()
	w.graded()
	p.waitFor(`document.getElementById('lms').dataset.state === 'reported'`, "the word that the grade is there")
	assert.Equal(t, []string{"initialized", "completed", "failed"}, store.verbs())
}

// A link carries its job into the Yard, in whichever tab it is opened.
func TestAssignmentLink(t *testing.T) {
	t.Parallel()
	p := open(t, look{noWebGL: true}, "")
	link, err := (&code.Assignment{Scenario: scenarios.Find("gasket-inline-four"), Mode: "grade", Who: "Ana Núñez", Class: "Auto 2"}).Link()
	require.NoError(t, err)
	p.do("the link", chromedp.Navigate(p.base+"/#"+link))
	p.waitFor(`!!document.querySelector('[data-act="start-job"]:not([disabled])')`, "the job")
	w := studentAt(t, p, mouse{p})
	w.act("start-job")
	p.waitFor(`!!document.querySelector('main.bay')`, "the Bay")
	assert.Equal(t, "Ana Núñez", p.facts().Who)
	p.do("a damaged one", chromedp.Navigate("about:blank"), chromedp.Navigate(p.base+"/#"+link[:200]))
	p.waitFor(`document.querySelector('[role="alert"]')?.textContent.includes('cut short')`, "the sentence")
	quiet(t, p)
}

// Where no platform answers, or one that fails at every call, the page says so in a
// sentence, and the work stays with the student, who hands it in by hand.
func TestPackageWithoutAPlatform(t *testing.T) {
	for name, platform := range map[string]string{
		"none":  ``,
		"dead":  `window.API = new Proxy({}, { get: () => () => { throw new Error('gone'); } });`,
		"mute":  `window.API = new Proxy({}, { get: () => () => '' });`,
		"shuts": `window.API = { LMSInitialize: () => 'true', LMSGetValue: () => '', LMSSetValue: () => 'false', LMSCommit: () => 'false', LMSGetLastError: () => '101', LMSFinish: () => { throw new Error('gone'); } };`,
	} {
		t.Run(name, func(t *testing.T) {
			files := packed(t, lms.SCORM12)
			s := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
				if r.URL.Path == "/platform.js" {
					w.Header().Set("Content-Type", "text/javascript")
					io.WriteString(w, platform)
					return
				}
				if r.URL.Path != "/" {
					files.ServeHTTP(w, r)
					return
				}
				rec := httptest.NewRecorder()
				files.ServeHTTP(rec, r)
				w.Header().Set("Content-Type", "text/html; charset=utf-8")
				io.WriteString(w, strings.Replace(rec.Body.String(), "<meta name=\"viewport\"", "<script src=\"platform.js\"></script><meta name=\"viewport\"", 1))
			}))
			t.Cleanup(s.Close)
			p := jobAt(t, s.URL)
			w := studentAt(t, p, mouse{p})
			w.act("start-job")
			p.waitFor(`!!document.querySelector('main.bay')`, "the Bay")
			w.act("glasses")
			state := map[bool]string{true: "none", false: "failed"}[name == "none" || name == "dead"]
			p.waitFor(`document.getElementById('lms').dataset.state === '`+state+`'`, "a word about the platform")
			w.conclude("valve_leak", 3, "leakage")
			w.handIn()
			assert.Empty(t, p.handed(), "nobody has it yet")
		})
	}
}
