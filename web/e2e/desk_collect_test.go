//go:build !js

package e2e

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/scenarios"
	"crankbay/scenarios/attempt"
	"crankbay/scenarios/class"
)

// deskSays has the desk answer in the page, as the page itself asks it.
func deskSays[T any](p *page, command string, body any) T {
	p.t.Helper()
	request, err := json.Marshal(body)
	require.NoError(p.t, err)
	text := eval[string](p, fmt.Sprintf(`import('./app/desk.js').then(({ ask }) => ask(%q, %s)).then((v) => JSON.stringify(v), (e) => 'refused: ' + e.key + ' ' + JSON.stringify(e.params))`, command, request))
	var out T
	require.NoError(p.t, json.Unmarshal([]byte(text), &out), text)
	return out
}

// handedOut is what the desk answers when a class set is made.
type handedOut struct {
	Class   string `json:"class"`
	Answers []struct {
		Who    string   `json:"who"`
		Link   string   `json:"link"`
		Square []string `json:"square"`
	} `json:"answers"`
}

// thirty has a scenario composed, checked, and made into a class set of thirty, sealed
// to a key.
func (p *page) thirty(key string) handedOut {
	p.t.Helper()
	s := *scenarios.Find(faulty)
	s.ID, s.Title = "my-shaking-four", scenarios.Text{EN: "Shakes at the light", ES: "Tiembla en el semáforo"}
	text, err := s.Encode()
	require.NoError(p.t, err)
	looked := deskSays[struct {
		Text string `json:"text"`
		Look struct {
			Verdict string `json:"verdict"`
		} `json:"look"`
	}](p, "look", map[string]any{"scenario": string(text)})
	require.Equal(p.t, "settled", looked.Look.Verdict)
	var roster strings.Builder
	roster.WriteString("Nombre;Clave\n")
	for i := range 30 {
		fmt.Fprintf(&roster, "Student %c%c;%d\n", 'A'+i/10, 'a'+i%10, 100+i)
	}
	students := deskSays[struct {
		Students []any `json:"students"`
	}](p, "roster", map[string]any{"text": roster.String()})
	require.Len(p.t, students.Students, 30)
	return deskSays[handedOut](p, "class", map[string]any{
		"scenario": looked.Text, "students": students.Students, "name": "Auto 2", "mode": "grade", "seal": key,
		"secret": "00112233445566778899aabbccddeeff", "base": p.base + "/",
	})
}

// worksOn opens a link in a browser of its own and does a short test for the grade.
func worksOn(t *testing.T, link string, s *scenarios.Scenario, cylinder int) *page {
	t.Helper()
	p := open(t, look{noWebGL: true}, "lang=en")
	eval[any](p, `location.hash = '#`+link+`'`)
	p.waitFor(`!!document.querySelector('[data-act="start-job"]')`, "the assignment")
	mouse{p}.press(css("act", "start-job"))
	p.waitFor(`!!document.querySelector('main.bay')`, "the Bay")
	w := &student{p: p, h: mouse{p}, s: s}
	w.prepare()
	w.test(cylinder, "dry")
	w.conclude("valve_leak", cylinder, "leakage")
	w.handIn()
	assert.Empty(t, p.handed(), "nobody has it yet")
	return p
}

func (p *page) code() string {
	p.t.Helper()
	mouse{p}.press(css("act", "show-code"))
	p.waitFor(`!!document.querySelector('[data-out="code"]')`, "the code")
	return eval[string](p, `document.querySelector('[data-out="code"]').value`)
}

// From a composed job to the gradebook: a class set of thirty, three students who work
// on their own engines and hand in by file, by code and by sealed code, and three
// hand-ins that aren't what they seem: forged, swapped, made by an older model.
func TestClassFromComposeToGradebook(t *testing.T) {
	t.Parallel()
	desk := open(t, look{noWebGL: true}, "lang=en")
	desk.toCollect()
	mouse{desk}.press(".collect-with summary")
	mouse{desk}.press(css("act", "key-make"))
	desk.waitFor(`!!document.querySelector('[data-out="public-key"]')`, "a key")
	keyFile := desk.downloadAs(css("act", "key-save"), "*.txt")
	public := eval[string](desk, `document.querySelector('[data-out="public-key"]').value`)
	set := desk.thirty(public)
	require.Len(t, set.Answers, 30)
	group, err := class.Decode([]byte(set.Class))
	require.NoError(t, err)
	variants, err := group.Again()
	require.NoError(t, err)

	first := worksOn(t, set.Answers[0].Link, variants[0].Scenario, 1)
	mouse{first}.press(`input[name="sealing"]`)
	byFile, err := os.ReadFile(first.download(css("act", "download-attempt")))
	require.NoError(t, err)
	second := worksOn(t, set.Answers[1].Link, variants[1].Scenario, 2)
	mouse{second}.press(`input[name="sealing"]`)
	byCode := second.code()
	third := worksOn(t, set.Answers[2].Link, variants[2].Scenario, 3)
	bySeal := third.code()
	assert.True(t, strings.HasPrefix(byCode, "CB1.") && strings.HasPrefix(bySeal, "CBS1."))

	honest, err := attempt.Decode(byFile)
	require.NoError(t, err)
	who := func(i int) string { return set.Answers[i].Who }
	at := 0
	for honest.Actions[at].Kind != attempt.KindWrite {
		at++
	}
	forged := signed(honest, func(f *attempt.File) { f.Actions[at].Number += 68947.57 })
	swapped := signed(honest, func(f *attempt.File) { f.Who = who(3) })
	older := signed(honest, func(f *attempt.File) { f.Who, f.Model = who(4), f.Model-1 })
	in := map[string]string{
		"a.json": string(byFile), "forged.json": encoded(t, forged), "swapped.json": encoded(t, swapped), "older.json": encoded(t, older),
		"mail.txt": "Mine, in two pieces of news:\n\n> " + byCode + "\n\nand\n" + bySeal + "\n",
	}

	desk.visit("lang=en") // the instructor comes back a week later: the key is still there
	desk.toCollect()
	desk.give("collect-class-file", disk(t, map[string]string{"class.json": set.Class}))
	desk.waitFor(`document.querySelector('[name="collect-class"]').selectedOptions[0].textContent.includes('Auto 2 (30)')`, "the class")
	desk.handedTo("collect-files", disk(t, in))
	lines := eval[[]string](desk, `[...document.querySelectorAll('.collect-table tbody tr')].map((tr) => tr.querySelector('.source').textContent + ' ' + tr.querySelector('th button').textContent + ' ' + tr.dataset.status).sort()`)
	assert.Equal(t, []string{
		"a.json " + who(0) + " ok", "forged.json " + who(0) + " differs", "mail.txt (1) " + who(1) + " ok", "mail.txt (2) " + who(2) + " ok",
		"older.json " + who(4) + " version", "swapped.json " + who(3) + " other_student",
	}, lines)
	mouse{desk}.press(`tr[data-status="differs"] [data-act="open-row"]`)
	said := eval[string](desk, `document.querySelector('.collect-row [data-out="is"]').textContent`)
	var tick int64
	_, err = fmt.Sscanf(strings.ReplaceAll(said[strings.Index(said, "tick "):], ",", ""), "tick %d", &tick)
	require.NoError(t, err, said)
	assert.InDelta(t, honest.Actions[at].Tick, tick, 1200, "placed within a second of cranking")
	mouse{desk}.press(`tr[data-status="other_student"] [data-act="open-row"]`)
	assert.Contains(t, eval[string](desk, `document.querySelector('.collect-row [data-out="is"]').textContent`), "engine of "+who(0))
	mouse{desk}.press(`tr[data-status="version"] [data-act="open-row"]`)
	assert.Contains(t, eval[string](desk, `document.querySelector('.collect-row [data-out="is"]').textContent`), fmt.Sprintf("model %d", older.Model))

	data, err := os.ReadFile(desk.downloadAs(css("act", "collect-csv"), "*.csv"))
	require.NoError(t, err)
	assert.Equal(t, verifiedTable(t, in, set.Class, keyFile), tableOf(t, data), "the command line comes to the same table")
	quiet(t, desk)
}

// tableOf reads a table: its lines in order, without where each came from.
func tableOf(t *testing.T, data []byte) []string {
	t.Helper()
	all, err := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(data, []byte("\ufeff")))).ReadAll()
	require.NoError(t, err)
	at := slices.Index(all[0], "file")
	var lines []string
	for _, cells := range all {
		lines = append(lines, strings.Join(slices.Delete(cells, at, at+1), ","))
	}
	slices.Sort(lines)
	return lines
}

// verifiedTable is what the command line makes of the same hand-ins.
func verifiedTable(t *testing.T, in map[string]string, group, key string) []string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "in")
	require.NoError(t, os.Mkdir(dir, 0o755))
	for name, text := range in {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644))
	}
	file := disk(t, map[string]string{"class.json": group})[0]
	run := exec.Command(command(t), "verify", ".", "--class", file, "--key", key, "--csv")
	run.Dir = dir
	out, _ := run.Output() // it exits with 1: not all hold
	require.NotEmpty(t, out)
	return tableOf(t, out)
}
