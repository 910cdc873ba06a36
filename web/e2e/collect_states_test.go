//go:build !js

package e2e

import (
	"archive/zip"
	"bytes"
	"encoding/base64"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// filled is Collect with the lot of a class in it.
func filled(t *testing.T, query string) (*page, *room) {
	t.Helper()
	r := roomOf(t)
	p := open(t, look{noWebGL: true}, query)
	p.toCollect()
	p.handedTo("collect-files", disk(t, r.lot(t)))
	return p, r
}

// The accessibility checker finds nothing in any state of Collect, light or dark, in
// either language.
func TestCollectAccessible(t *testing.T) {
	t.Parallel()
	src := axeSource(t)
	r := roomOf(t)
	for _, l := range []look{{width: 1280, height: 800}, {width: 390, height: 844, dark: true}} {
		t.Run(fmt.Sprintf("%dx%d", l.width, l.height), func(t *testing.T) {
			p := open(t, look{noWebGL: true}, map[bool]string{true: "lang=es", false: "lang=en"}[l.dark])
			p.toCollect()
			p.dress(l)
			p.accessible(src, "empty")
			p.give("collect-files", disk(t, r.lot(t)))
			p.waitFor(`!!document.querySelector('.collect-progress')`, "the work")
			p.accessible(src, "at work")
			p.collectedAll()
			mouse{p}.press(".collect-with summary")
			mouse{p}.press(css("act", "key-make"))
			p.waitFor(`!!document.querySelector('[data-act="key-save"]')`, "a key")
			p.collectedAll()
			mouse{p}.press(`[data-act="misstep"]`)
			p.accessible(src, "one misstep")
			mouse{p}.press(`tr[data-status="ok"] [data-act="open-row"]`)
			mouse{p}.press(css("act", "override"))
			mouse{p}.press(css("act", "override-save"))
			p.waitFor(`!!document.querySelector('#override-bad')`, "a word about the form")
			p.accessible(src, "an opened row with a mistake in the form")
			mouse{p}.press(css("act", "desk-hidden"))
			mouse{p}.press(css("act", "desk-large"))
			p.accessible(src, "large, names hidden")
			assert.LessOrEqual(t, eval[int](p, `document.documentElement.scrollWidth - document.documentElement.clientWidth`), 0, "nothing runs out of the page sideways")
		})
	}
}

// All of Collect by keyboard: paste, sort, open a row, decide on it, close it.
func TestCollectByKeyboard(t *testing.T) {
	t.Parallel()
	r := roomOf(t)
	p := open(t, look{noWebGL: true}, "lang=en")
	k := keyboard{p}
	k.press(css("act", "to-desk"))
	p.waitFor(`!!document.querySelector('#desk-tab-job')`, "the Desk")
	k.reach(`[role="tab"][aria-selected="true"]`)
	eval[any](p, `document.querySelector('#desk-tab-job').focus()`)
	for range 2 {
		p.key(kb.ArrowRight)
	}
	p.waitFor(`!!document.querySelector('.collect-drop')`, "Collect")
	p.give("collect-class-file", disk(t, map[string]string{"class.json": r.file}))
	p.waitFor(`document.querySelector('[name="collect-class"]').value === 'file'`, "the class")
	text := coded(t, r.work(t, 0, r.who(0), careful)) + "\n" + coded(t, r.work(t, 1, r.who(1), careless))
	eval[any](p, `document.getElementById('collect-paste').value = `+quote(escaped(text)))
	k.press(css("act", "collect-paste"))
	p.collectedAll()
	first := func() string {
		return eval[string](p, `document.querySelector('.collect-table tbody th button').textContent`)
	}
	assert.Equal(t, r.who(0), first(), "by name at first")
	k.press(css("act", "sort", "choice", "student"))
	assert.Equal(t, r.who(1), first())
	assert.Equal(t, "descending", eval[string](p, `document.querySelector('th[aria-sort]').getAttribute('aria-sort')`))
	k.press(css("act", "sort", "choice", "result"))
	assert.Equal(t, r.who(0), first(), "the best first")
	k.press(css("act", "open-row"))
	p.waitFor(`document.activeElement?.id === 'row-title'`, "the focus on the opened row")
	k.press(css("act", "override"))
	k.write(`[name="override-percent"]`, "85,5")
	k.press(css("act", "override-save"))
	p.waitFor(`document.activeElement?.name === 'override-comment'`, "the focus where the reason is missing")
	k.write(`[name="override-comment"]`, "worked with me at the bench")
	k.press(css("act", "override-save"))
	p.waitFor(`document.querySelector('.collect-table .changed')?.textContent.includes('Instructor: 85.5 % instead of')`, "the word in the table")
	k.press(css("act", "close-row"))
	p.waitFor(`document.activeElement?.dataset.act === 'open-row'`, "the focus back on the row")
	p.collectedAll()
	data, err := os.ReadFile(p.downloadAs(css("act", "collect-csv"), "*.csv"))
	require.NoError(t, err)
	assert.Contains(t, string(data), ",85.5,worked with me at the bench,")

	p.visit("lang=en") // the same comes in again another day
	p.toCollect()
	p.handedTo("collect-files", disk(t, map[string]string{"class.json": r.file, "mail.txt": text}))
	assert.Contains(t, eval[string](p, `document.querySelector('.collect-table').textContent`), "worked with me", "a decision outlives the tab")
	quiet(t, p)
}

// Much work can be watched and stopped, and goes on where it was.
func TestCollectStopsAndGoesOn(t *testing.T) {
	t.Parallel()
	r := roomOf(t)
	p := open(t, look{noWebGL: true}, "lang=en")
	p.toCollect()
	text := coded(t, r.work(t, 0, r.who(0), careful))
	files := map[string]string{"class.json": r.file}
	for i := range 24 {
		files[fmt.Sprintf("%02d.txt", i)] = text
	}
	p.give("collect-files", disk(t, files))
	mouse{p}.press(css("act", "collect-stop"))
	p.waitFor(`!!document.querySelector('[data-act="collect-go-on"]')`, "the stop")
	n := eval[int](p, `document.querySelectorAll('.collect-table tbody tr').length`)
	assert.Less(t, n, 24)
	mouse{p}.press(css("act", "collect-go-on"))
	p.waitFor(`document.querySelectorAll('.collect-table tbody tr').length === 24`, "the rest")
	p.collectedAll()
	assert.Equal(t, 23, strings.Count(eval[string](p, `document.querySelector('.collect-table').textContent`), "The same work, action for action, as 00.txt"), "sent again and again it is one work")
}

// With names hidden no name of a student stands anywhere on the screen, nor the name of
// a file, which may hold one.
func TestCollectHidesNames(t *testing.T) {
	t.Parallel()
	p, r := filled(t, "lang=en")
	mouse{p}.press(css("act", "desk-hidden"))
	p.waitFor(`document.querySelector('.collect-table tbody th button').textContent.startsWith('Student')`, "numbers")
	mouse{p}.press(`tr[data-status="other_student"] [data-act="open-row"]`)
	text := eval[string](p, `document.querySelector('main').innerText`)
	for i := range r.class.Students {
		assert.NotContains(t, text, r.who(i))
	}
	assert.NotContains(t, text, ".json")
	assert.Contains(t, text, "Engine of Student 1")
	mouse{p}.press(css("act", "desk-hidden"))
}

// A saved mail gives up what hangs on it, however it was packed.
func TestCollectReadsMails(t *testing.T) {
	t.Parallel()
	r := roomOf(t)
	file := base64.StdEncoding.EncodeToString([]byte(encoded(t, r.work(t, 0, r.who(0), careless))))
	var lines []string
	for ; len(file) > 76; file = file[76:] {
		lines = append(lines, file[:76])
	}
	code := coded(t, r.work(t, 1, r.who(1), careless))
	quoted := strings.ReplaceAll(code[:60], "=", "=3D") + "=\r\n" + strings.ReplaceAll(code[60:], "=", "=3D")
	mail := "From: ana@school.example\r\nSubject: my work\r\nMIME-Version: 1.0\r\nContent-Type: multipart/mixed; boundary=\"b1\"\r\n\r\n--b1\r\n" +
		"Content-Type: text/plain; charset=utf-8\r\nContent-Transfer-Encoding: quoted-printable\r\n\r\n" + quoted + "\r\n--b1\r\n" +
		"Content-Type: application/json; name=\"mine.json\"\r\nContent-Transfer-Encoding: base64\r\n\r\n" + strings.Join(append(lines, file), "\r\n") + "\r\n--b1--\r\n"
	p := open(t, look{noWebGL: true}, "lang=en")
	p.toCollect()
	p.handedTo("collect-files", disk(t, map[string]string{"class.json": r.file, "mail.eml": mail}))
	assert.Equal(t, []string{"ok", "ok"}, []string{p.status(r.who(0)), p.status(r.who(1))})
}

// Class sheet and reports on paper: the sheet of thirty on one page, a page for each
// report, on either paper, in either language, whatever a row says.
func TestCollectOnPaper(t *testing.T) {
	t.Parallel()
	r := roomOf(t)
	p := open(t, look{noWebGL: true}, "lang=en")
	p.toCollect()
	files := map[string]string{"class.json": r.file}
	hows := []string{careful, halfDone, careless}
	for i := range 30 {
		files[fmt.Sprintf("%02d.txt", i)] = coded(t, r.work(t, i, r.who(i), hows[i%3]))
	}
	p.handedTo("collect-files", disk(t, files))
	eval[any](p, `globalThis.print = () => {}`)
	hold := func(what string) { // the page takes the paper away once it has printed
		eval[any](p, `import('./app/office-collect-work.js').then(({ box }) => { box.printing = `+what+`; document.querySelector('.collect-table thead button').click(); })`)
		p.waitFor(`!!document.querySelector('.collect-paper')`, "the paper")
	}
	for _, lang := range []string{"en", "es"} {
		for paper, size := range map[string][2]float64{"A4": {8.27, 11.69}, "Letter": {8.5, 11}} {
			hold(`'all'`)
			reports := p.pages(size[0], size[1])
			if assert.Len(t, reports, 30, "reports, %s, %s", paper, lang) {
				for i, text := range reports {
					assert.Contains(t, text, map[string]string{"en": "Report: ", "es": "Informe: "}[lang], "report %d", i)
					assert.Contains(t, text, map[string]string{"en": "no accreditation", "es": "no acreditan"}[lang], "report %d, to its last line", i)
				}
			}
			hold(`'class'`)
			sheet := p.pages(size[0], size[1])
			require.Len(t, sheet, 1, "class sheet, %s, %s", paper, lang)
			for i := range 30 {
				assert.Contains(t, sheet[0], r.who(i), "%s, %s", paper, lang)
			}
			assert.Contains(t, sheet[0], map[string]string{"en": "What went wrong", "es": "Qué salió mal"}[lang])
			assert.Contains(t, sheet[0], map[string]string{"en": "no accreditation", "es": "no acreditan"}[lang], "to its last line")
			assert.NotContains(t, sheet[0], "mail")
		}
		mouse{p}.press(css("act", "language"))
		p.waitFor(fmt.Sprintf(`document.documentElement.lang !== %q`, lang), "the other language")
	}
}

// archived packs files the way a course hands them out.
func archived(t *testing.T, files map[string]string) string {
	t.Helper()
	name := filepath.Join(t.TempDir(), "course.zip")
	f, err := os.Create(name)
	require.NoError(t, err)
	defer f.Close()
	z := zip.NewWriter(f)
	for inner, text := range files {
		w, err := z.CreateHeader(&zip.FileHeader{Name: inner, Method: map[bool]uint16{true: zip.Store, false: zip.Deflate}[strings.HasSuffix(inner, ".txt")]})
		require.NoError(t, err)
		_, err = w.Write([]byte(text))
		require.NoError(t, err)
	}
	require.NoError(t, z.Close())
	return name
}

// A folder and an archive come in with their folders, without what systems leave behind;
// a damaged archive is named.
func TestCollectTakesFoldersAndArchives(t *testing.T) {
	t.Parallel()
	r := roomOf(t)
	dir := t.TempDir()
	require.NoError(t, os.MkdirAll(filepath.Join(dir, "week 3"), 0o755))
	for name, text := range map[string]string{
		"class.json": r.file, "week 3/a.json": encoded(t, r.work(t, 0, r.who(0), careless)), ".hidden.json": "{}",
	} {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644))
	}
	p := open(t, look{noWebGL: true}, "lang=en")
	p.toCollect()
	p.do("choose a folder", chromedp.SetUploadFiles(chromedp.CSS(`input[name="collect-folder"]`), []string{dir}, chromedp.NodeReady))
	p.collectedAll()
	assert.Equal(t, "ok", p.status(r.who(0)))
	assert.Equal(t, 1, eval[int](p, `document.querySelectorAll('.collect-table tbody tr').length`))

	whole := archived(t, map[string]string{
		"Submissions/b.json": encoded(t, r.work(t, 1, r.who(1), careless)), "Submissions/c.txt": coded(t, r.work(t, 2, r.who(2), careless)), "__MACOSX/._b.json": "x",
	})
	data, err := os.ReadFile(whole)
	require.NoError(t, err)
	cut := disk(t, map[string]string{"cut.zip": string(data[:len(data)/2])})
	p.handedTo("collect-files", append(cut, whole))
	assert.Equal(t, []string{"ok", "ok", "unreadable"}, []string{p.status(r.who(1)), p.status(r.who(2)), p.status("no name")})
	assert.Equal(t, 4, eval[int](p, `document.querySelectorAll('.collect-table tbody tr').length`))
}

// An archive that unpacks to more than any class hands in takes no more memory than
// that: the directory may list one packed file many times, or lie about its length.
func TestArchiveThatSwells(t *testing.T) {
	t.Parallel()
	data, err := os.ReadFile(archived(t, map[string]string{"a.json": strings.Repeat("0", 1000)}))
	require.NoError(t, err)
	at := bytes.Index(data, []byte("PK\x01\x02")) // the directory, with one entry
	end := bytes.Index(data, []byte("PK\x05\x06"))
	entry := data[at:end]
	many := slices.Concat(data[:at], bytes.Repeat(entry, 50), data[end:])
	tail := many[len(many)-22:]
	tail[8], tail[10] = 50, 50
	lying := slices.Clone(data)
	copy(lying[at+24:], []byte{10, 0, 0, 0}) // says ten bytes, holds a thousand
	stored, err := os.ReadFile(archived(t, map[string]string{"a.txt": strings.Repeat("0", 1000)}))
	require.NoError(t, err)
	copy(stored[bytes.Index(stored, []byte("PK\x01\x02"))+24:], []byte{10, 0, 0, 0})
	p := open(t, look{noWebGL: true}, "")
	lengths := func(zip []byte) []int {
		return eval[[]int](p, fmt.Sprintf(`import('./app/office-collect-zip.js').then(async ({unzip}) =>
			(await unzip(Uint8Array.from(atob(%q), (c) => c.charCodeAt(0)), 4096, 3500)).map((f) => f.bytes.length))`, base64.StdEncoding.EncodeToString(zip)))
	}
	assert.Equal(t, []int{1000}, lengths(data))
	got := lengths(many)
	assert.Len(t, got, 50, "every file is named")
	assert.Equal(t, []int{1000, 1000, 1000, 0, 0}, got[:5])
	assert.Equal(t, 0, slices.Max(got[3:]))
	assert.Equal(t, []int{0}, lengths(lying))
	assert.Equal(t, []int{0}, lengths(stored))
}
