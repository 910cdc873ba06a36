//go:build !js

package e2e

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/scenarios"
	"crankbay/scenarios/attempt"
	"crankbay/scenarios/attempt/script"
	"crankbay/scenarios/class"
	"crankbay/scenarios/code"
	"crankbay/scenarios/seal"
)

// A room is a class of thirty with their engines.
type room struct {
	class *class.Class
	set   []*class.Variant
	file  string // text of the class file
	key   *seal.Key
}

// theRoom is made once: thirty variants, each tested by the book, take some seconds.
var theRoom = sync.OnceValues(func() (*room, error) {
	key, err := seal.NewKey()
	if err != nil {
		return nil, err
	}
	c := &class.Class{Name: "Auto 2", Secret: []byte("a secret of some length"), Mode: "grade", Seal: key.Public(), Scenario: scenarios.Find(faulty)}
	first := []string{"Ana", "Beto", "Carla", "Dana", "Eli", "Fátima", "Gus", "Hana", "Ivo", "Julia"}
	last := []string{"Núñez", "Peña", "O'Brien"}
	for i := range 30 {
		c.Students = append(c.Students, class.Student{Name: first[i%10] + " " + last[i/10]})
	}
	set, err := c.Set(nil)
	if err != nil {
		return nil, err
	}
	data, err := c.Encode()
	return &room{c, set, string(data), key}, err
})

func roomOf(t *testing.T) *room {
	t.Helper()
	r, err := theRoom()
	require.NoError(t, err)
	return r
}

// work does a variant under a name, by a script of intent.
func (r *room) work(t *testing.T, n int, who, more string) *attempt.File {
	t.Helper()
	s := r.set[n].Scenario
	session, err := script.Compile(fmt.Sprintf("scenario %s\nmode grade\nwho %s\n%s\nhand in\n", s.ID, who, more), func(string) *scenarios.Scenario { return s })
	require.NoError(t, err)
	return session.File()
}

// Ways to work, from careful to careless.
const (
	careful  = finished
	careless = "prepare\n6 strokes on 1\nwrite dry 1\nconclude ring_or_bore 1\nsure certain\nbecause dry"
	halfDone = prepared + "\n5 strokes on 1\nwrite dry 1\n5 strokes on 2\nwrite dry 2\n10 ml in 2\n5 strokes on 2\nwrite wet 2\nconclude ring_or_bore 2\nsure certain\nbecause dry wet"
)

func (r *room) who(n int) string { return r.class.Students[n].Name }

// signed gives a changed attempt a digest that fits again.
func signed(f *attempt.File, change func(*attempt.File)) *attempt.File {
	g := *f
	g.Actions = slices.Clone(f.Actions)
	change(&g)
	g.Digest = g.Sum()
	return &g
}

func encoded(t *testing.T, f *attempt.File) string {
	t.Helper()
	data, err := f.Encode()
	require.NoError(t, err)
	return string(data)
}

func coded(t *testing.T, f *attempt.File) string {
	t.Helper()
	text, err := code.Encode(f)
	require.NoError(t, err)
	return text
}

// disk writes files and returns their names.
func disk(t *testing.T, files map[string]string) []string {
	t.Helper()
	dir := t.TempDir()
	var names []string
	for name, text := range files {
		path := filepath.Join(dir, name)
		require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
		names = append(names, path)
	}
	slices.Sort(names)
	return names
}

// lot is what a class hands in: every kind of trouble in it.
func (r *room) lot(t *testing.T) map[string]string {
	t.Helper()
	files := map[string]string{"class.json": r.file}
	for i, how := range []string{careful, halfDone, careless, halfDone, careful, careless, halfDone, careful} {
		files[fmt.Sprintf("%s.json", strings.ReplaceAll(strings.ToLower(r.who(i)), " ", "-"))] = encoded(t, r.work(t, i, r.who(i), how))
	}
	ninth := r.work(t, 8, r.who(8), halfDone)
	files["forged.json"] = encoded(t, signed(ninth, func(f *attempt.File) {
		for i := range f.Actions {
			if f.Actions[i].Kind == attempt.KindWrite && f.Actions[i].Choice == "dry_last" {
				f.Actions[i].Number += 68947
				return
			}
		}
	}))
	files["swapped.json"] = encoded(t, signed(r.work(t, 0, r.who(0), halfDone), func(f *attempt.File) { f.Who = r.who(9) }))
	files["older.json"] = encoded(t, signed(r.work(t, 10, r.who(10), halfDone), func(f *attempt.File) { f.Model-- }))
	files["codes.csv"] = fmt.Sprintf("name,code\n%s,%s\n%s,%s\n", r.who(11), coded(t, r.work(t, 11, r.who(11), careful)), r.who(12), coded(t, r.work(t, 12, r.who(12), careless)))
	closed, err := seal.Seal(r.key.Public(), []byte(coded(t, r.work(t, 13, r.who(13), careful))))
	require.NoError(t, err)
	files["mail.txt"] = "Here is mine:\n" + closed + "\nThanks!"
	files["notes.txt"] = "Bring safety glasses on Monday."
	return files
}

// toCollect goes to the Desk and opens Collect.
func (p *page) toCollect() {
	p.t.Helper()
	mouse{p}.press(css("act", "to-desk"))
	p.waitFor(`!!document.querySelector('#desk-tab-collect')`, "the Desk")
	mouse{p}.press("#desk-tab-collect")
	p.waitFor(`!!document.querySelector('.collect-drop')`, "Collect")
}

// handedTo gives files to Collect and waits until all are looked at.
func (p *page) handedTo(field string, names []string) {
	p.t.Helper()
	p.give(field, names)
	p.collectedAll()
}

func (p *page) give(field string, names []string) {
	p.t.Helper()
	p.do("give files", chromedp.SetUploadFiles(chromedp.CSS(`input[name="`+field+`"]`), names, chromedp.NodeReady))
}

func (p *page) collectedAll() {
	p.t.Helper()
	p.waitFor(`!!document.querySelector('[data-act="collect-csv"]:not([disabled])') && !document.querySelector('.collect-progress') && !document.querySelector('.collect [role="status"].notice')`, "all of them")
}

// status is what a student's line says.
func (p *page) status(who string) string {
	return eval[string](p, `[...document.querySelectorAll('.collect-table tbody tr')].find((tr) => tr.querySelector('th button').textContent === `+quote(who)+`)?.dataset.status ?? 'none'`)
}

// A class hands in by file, code, table and sealed code; whatever is wrong with one is
// named, and where it was changed.
func TestCollectNamesWhatEveryHandInIs(t *testing.T) {
	t.Parallel()
	r := roomOf(t)
	p := open(t, look{noWebGL: true}, "lang=en")
	p.toCollect()
	p.handedTo("collect-files", disk(t, r.lot(t)))
	for who, status := range map[string]string{
		r.who(0): "ok", r.who(7): "ok", r.who(8): "differs", r.who(9): "other_student", r.who(10): "version", r.who(11): "ok", r.who(12): "ok",
	} {
		assert.Equal(t, status, p.status(who), who)
	}
	assert.Regexp(t, `^Replay differs, tick [0-9,]+`, eval[string](p, `document.querySelector('tr[data-status="differs"] .of-is').textContent`))
	assert.Contains(t, eval[string](p, `document.querySelector('tr[data-status="other_student"]').textContent`), "Engine of "+r.who(0))
	assert.Equal(t, 1, eval[int](p, `document.querySelectorAll('tr[data-status="unreadable"]').length`))

	assert.Equal(t, 1, eval[int](p, `document.querySelectorAll('tr[data-status="sealed"]').length`))
	p.handedTo("collect-files", disk(t, map[string]string{"key.txt": r.key.Private() + "\n"}))
	p.waitFor(`!document.querySelector('tr[data-status="sealed"]')`, "the seal to open")
	p.collectedAll()
	assert.Equal(t, "ok", p.status(r.who(13)))
	assert.Contains(t, eval[string](p, `document.querySelector('[data-out="summary"]').textContent`), "15 hand-ins, 12 replayed whole")
	quiet(t, p)
}

// Pictures of Collect, for a person to look at.
func TestCollectScreens(t *testing.T) {
	if os.Getenv("SCREENS") == "" {
		t.Skip("pictures are taken by 'make screens'")
	}
	require.NoError(t, os.MkdirAll("screens", 0o755))
	r := roomOf(t)
	var looks []look
	for _, size := range [][2]int64{{1280, 800}, {768, 1024}, {390, 844}} {
		looks = append(looks, look{width: size[0], height: size[1]}, look{width: size[0], height: size[1], dark: true})
	}
	p := open(t, look{noWebGL: true}, "lang="+os.Getenv("SCREENS_LANG"))
	p.toCollect()
	p.pictures("collect-empty", looks, func() {})
	p.handedTo("collect-files", disk(t, r.lot(t)))
	eval[any](p, `document.querySelector('.collect-with summary').click()`)
	mouse{p}.press(css("act", "key-make"))
	p.waitFor(`!!document.querySelector('[data-act="key-save"]')`, "a key")
	p.collectedAll()
	p.pictures("collect-table", looks, func() {})
	eval[any](p, `document.querySelector('tr[data-status="ok"] [data-act="open-row"]').click()`)
	mouse{p}.press(css("act", "override"))
	p.pictures("collect-row", looks, func() {})
	p.visit("lang=en")
	p.assigned(r.key.Public())
	mouse{p}.press(css("act", "show-code"))
	p.waitFor(`!!document.querySelector('[data-out="code"]')`, "the code")
	p.pictures("handin", looks, func() {})
}

// Engines of a class set are held against the class of this device that has their
// students, without being told; where there is none, it is said what is missing.
func TestCollectFindsItsClass(t *testing.T) {
	t.Parallel()
	r := roomOf(t)
	in := map[string]string{}
	for i := range 3 {
		in[fmt.Sprint(i, ".json")] = encoded(t, r.work(t, i, r.who(i), halfDone))
	}
	p := open(t, look{noWebGL: true}, "lang=en")
	p.toCollect()
	p.handedTo("collect-files", disk(t, in))
	assert.Equal(t, "unknown", p.status(r.who(1)))
	assert.Contains(t, p.text("main"), "3 hand-ins are of a class set that isn't open here")

	eval[bool](p, fmt.Sprintf(`(localStorage.setItem('crankbay/classes', JSON.stringify([
		{id: 'a', name: 'Auto 2', n: 30, saved: 1, text: %q}, {id: 'b', name: 'Others', n: 1, saved: 2, text: JSON.stringify({students: [{name: 'Nobody Else'}]})}])), true)`, r.file))
	p.visit("lang=en")
	p.toCollect()
	p.handedTo("collect-files", disk(t, in))
	assert.Equal(t, "ok", p.status(r.who(1)))
	assert.Contains(t, p.text("main"), "Held against “Auto 2”, which is kept on this device.")
	assert.Equal(t, "0", eval[string](p, `document.querySelector('select[name="collect-class"]').value`))
	// Whoever wants them each for itself has them so.
	mouse{p}.choose(`select[name="collect-class"]`, "")
	p.collectedAll()
	assert.Equal(t, "unknown", p.status(r.who(1)))
	quiet(t, p)
}

// What was sealed to a key of another year opens too, once that key's file is there; the
// instructor's own stays the one in the links.
func TestCollectOpensWithASecondKey(t *testing.T) {
	r := roomOf(t)
	older, err := seal.NewKey()
	require.NoError(t, err)
	in := map[string]string{"class.json": r.file}
	for i, k := range []*seal.Key{r.key, older} {
		closed, err := seal.Seal(k.Public(), []byte(coded(t, r.work(t, i, r.who(i), careless))))
		require.NoError(t, err)
		in[fmt.Sprint(i, ".txt")] = closed
	}
	p := open(t, look{noWebGL: true}, "lang=en")
	p.toCollect()
	p.handedTo("collect-files", disk(t, in))
	mine, his := disk(t, map[string]string{"my-key.txt": r.key.Private()}), disk(t, map[string]string{"old-key.txt": older.Private()})
	p.handedTo("collect-files", mine)
	assert.Equal(t, "ok", p.status(r.who(0)))
	assert.Equal(t, 1, eval[int](p, `document.querySelectorAll('tr[data-status="sealed"]').length`))
	p.handedTo("collect-files", his)
	assert.Equal(t, "ok", p.status(r.who(1)))
	assert.Contains(t, eval[string](p, `document.querySelector('.collect').innerText`), "old-key.txt holds another key than yours")
	assert.Equal(t, r.key.Public(), eval[string](p, `document.querySelector('[data-out="public-key"]').value`))
	quiet(t, p)
}
