package desk_test

import (
	"encoding/base64"

	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/scenarios"
	"crankbay/scenarios/attempt"
	"crankbay/scenarios/attempt/script"
	"crankbay/scenarios/class"
	"crankbay/scenarios/code"
	"crankbay/scenarios/collect"
	"crankbay/sim/record"
	"crankbay/web/desk"
)

func scenarioText(t *testing.T, id string) string {
	t.Helper()
	data, err := scenarios.Find(id).Encode()
	require.NoError(t, err)
	return string(data)
}

// got asks for something that has to be answered.
func got(t *testing.T, request any) map[string]any {
	t.Helper()
	a := ask(t, request)
	require.Nil(t, a.Error, "%v", a.Error)
	return a.OK
}

func TestLookFollowsTheScenario(t *testing.T) {
	text := scenarioText(t, faulty)
	a := got(t, map[string]any{"do": "look", "scenario": text, "quick": true})
	look := a["look"].(map[string]any)
	assert.Len(t, look["dry"], 4)
	assert.Equal(t, faulty, a["id"])
	assert.Empty(t, look["verdict"])
	lib, err := os.ReadFile("../../cmd/crankbay/internal/library/library.bin")
	require.NoError(t, err)
	require.NoError(t, desk.UseLibrary(lib))
	assert.ErrorContains(t, desk.UseLibrary(lib[:40]), "library")
	a = got(t, map[string]any{"do": "look", "scenario": text})
	look = a["look"].(map[string]any)
	assert.Equal(t, "settled", look["verdict"])
	assert.Greater(t, look["key_tests"], 0.3)
	assert.NotEmpty(t, look["by_tests"])
	again := got(t, map[string]any{"do": "look", "scenario": a["text"], "quick": true})
	assert.Equal(t, a["digest"], again["digest"], "its usual form is the same scenario")
	assert.Equal(t, desk.ErrScenario, ask(t, map[string]any{"do": "look", "scenario": "{}"}).Error.Key)
}

func TestLinkAndSquare(t *testing.T) {
	a := got(t, map[string]any{"do": "link", "scenario": scenarioText(t, faulty), "mode": "grade", "who": "Ana", "base": "https://school.example/"})
	job, err := code.ReadLink(a["link"].(string))
	require.NoError(t, err)
	assert.Equal(t, scenarios.Find(faulty), job.Scenario)
	assert.Equal(t, "Ana", job.Who)
	rows := a["square"].([]any)
	assert.Len(t, rows[0], len(rows))
	assert.Equal(t, desk.ErrLink, ask(t, map[string]any{"do": "link", "scenario": scenarioText(t, faulty), "mode": "easy"}).Error.Key)
	assert.Len(t, got(t, map[string]any{"do": "square", "text": "A"})["square"], 21)
	assert.Equal(t, desk.ErrSquare, ask(t, map[string]any{"do": "square", "text": strings.Repeat("x", 4000)}).Error.Key)
}

func TestCodeAndBack(t *testing.T) {
	text := attemptText(t, scenarios.Find(faulty), true)
	a := got(t, map[string]any{"do": "code", "attempt": text})
	assert.Regexp(t, `^CB1\.`, a["code"])
	assert.NotEmpty(t, a["square"])
	for _, form := range []any{a["code"], a["qr"]} {
		back := got(t, map[string]any{"do": "unpack", "code": form})
		assert.Equal(t, text, back["attempt"], "every mark is there again")
		assert.Equal(t, true, back["handed_in"])
	}
	assert.Equal(t, desk.ErrCode, ask(t, map[string]any{"do": "unpack", "code": "CB1.AAAA"}).Error.Key)
	assert.Equal(t, desk.ErrAttempt, ask(t, map[string]any{"do": "code", "attempt": "{}"}).Error.Key)
	s := scenarios.Find(faulty)
	long, err := attempt.New(s, attempt.Header{Mode: "grade", Who: strings.Repeat("w", 100)})
	require.NoError(t, err)
	for range 2 {
		require.NoError(t, long.Do(record.Action{Kind: attempt.KindRemark, Text: strings.Repeat("word ", 70)}))
	}
	data, err := long.Encode()
	require.NoError(t, err)
	e := ask(t, map[string]any{"do": "code", "attempt": string(data)}).Error
	assert.Equal(t, desk.ErrTooLong, e.Key)
	assert.Equal(t, 400.0, e.Params["max"])
}

func TestRosterClassAndCollect(t *testing.T) {
	students := got(t, map[string]any{"do": "roster", "file": base64.StdEncoding.EncodeToString([]byte("Nombre;Clave\nAna N\xfa\xf1ez;17\nLuz;18\n"))})["students"]
	assert.Equal(t, []any{map[string]any{"name": "Ana Núñez", "id": "17"}, map[string]any{"name": "Luz", "id": "18"}}, students)
	assert.Equal(t, desk.ErrRoster, ask(t, map[string]any{"do": "roster", "text": ""}).Error.Key)

	steps := 0
	request := map[string]any{
		"do": "class", "scenario": scenarioText(t, faulty), "students": students, "name": "Auto 2", "mode": "grade",
		"secret": "00112233445566778899aabbccddeeff", "base": "https://school.example/",
	}
	made := read(t, desk.Work([]byte(encoded(t, request)), func(done, of int) { steps++; assert.Equal(t, 2, of) })).OK
	assert.Equal(t, 2, steps)
	assert.Equal(t, "one_low", made["pattern"])
	assert.Len(t, made["answers"], 2)
	again := got(t, map[string]any{"do": "class", "class": made["class"], "base": "https://school.example/"})
	assert.Equal(t, made, again, "a class file makes the same set")
	late := append([]any{map[string]any{"name": "Zoe", "extra_time": 25}}, students.([]any)...)
	more := got(t, map[string]any{"do": "class", "class": made["class"], "students": late})["answers"].([]any)
	assert.Equal(t, made["answers"].([]any)[1].(map[string]any)["link"], more[2].(map[string]any)["link"], "nobody else's link changes")
	request["secret"] = "12"
	assert.Equal(t, desk.ErrClass, ask(t, request).Error.Key)

	c, err := class.Decode([]byte(made["class"].(string)))
	require.NoError(t, err)
	set, err := c.Again()
	require.NoError(t, err)
	work := func(v *class.Variant, who string) *attempt.File {
		s, err := script.Compile(fmt.Sprintf("scenario %s\nmode grade\nwho %s\nprepare\n5 strokes on 1\nwrite dry 1\nconclude ring_or_bore 1\nhand in\n", v.Scenario.ID, who),
			func(string) *scenarios.Scenario { return v.Scenario })
		require.NoError(t, err)
		return s.File()
	}
	ana, err := work(set[0], "Ana Núñez (17)").Encode()
	require.NoError(t, err)
	luz, err := code.Encode(work(set[0], "Luz"))
	require.NoError(t, err)
	in := []any{
		map[string]any{"name": "ana.json", "text": string(ana)}, map[string]any{"name": "pasted", "text": "Luz: " + luz},
		map[string]any{"name": "x.txt", "text": "nothing"}, map[string]any{"name": "s.txt", "text": "CBS1.AAAAAkFC"},
	}
	steps = 0
	all := read(t, desk.Work([]byte(encoded(t, map[string]any{"do": "collect", "sources": in, "class": made["class"]})), func(int, int) { steps++ })).OK
	assert.Equal(t, 4, steps)
	var status []any
	for _, r := range all["rows"].([]any) {
		status = append(status, r.(map[string]any)["status"])
	}
	assert.Equal(t, []any{"ok", "other_student", "unreadable", "sealed"}, status)
	assert.Equal(t, []any{"Luz (18)"}, all["picture"].(map[string]any)["missing"])
	assert.Equal(t, 5, strings.Count(all["csv"].(string), "\n"))

	// The instructor's word stands beside what the replay gave.
	rows := all["rows"].([]any)
	rows[0].(map[string]any)["override"] = map[string]any{"percent": 85.5, "comment": "=worked with me at the bench"}
	table := got(t, map[string]any{"do": "table", "rows": rows})["csv"].(string)
	assert.Contains(t, table, ",85.5,'=worked with me at the bench,,\n")

	r := got(t, map[string]any{"do": "report", "source": in[1], "class": made["class"]})
	assert.Equal(t, "other_student", r["row"].(map[string]any)["status"])
	told := got(t, map[string]any{"do": "debrief", "attempt": r["attempt"], "scenario": r["scenario"]})
	assert.NotEmpty(t, told["grade"])
	r = got(t, map[string]any{"do": "report", "source": in[2]})
	assert.Equal(t, "unreadable", r["row"].(map[string]any)["status"])
	assert.Equal(t, desk.ErrAttempt, ask(t, map[string]any{"do": "report", "source": in[2], "number": 3}).Error.Key)
	assert.Equal(t, desk.ErrClass, ask(t, map[string]any{"do": "collect", "class": "{}"}).Error.Key)
	assert.Equal(t, desk.ErrScenario, ask(t, map[string]any{"do": "collect", "scenarios": []string{"{}"}}).Error.Key)
}

// The variants of a class are made once and not for every few hand-ins; another class, or
// other scenarios, is another question.
func TestCollectingKeepsWhatItHoldsAgainst(t *testing.T) {
	students := []any{map[string]any{"name": "Ana"}}
	made := func(secret string) string {
		return got(t, map[string]any{"do": "class", "scenario": scenarioText(t, faulty), "students": students, "mode": "grade", "secret": strings.Repeat(secret, 16)})["class"].(string)
	}
	one, other := made("01"), made("02")
	held := func(class string, scenarios ...string) *collect.Collector {
		k, err := desk.CollectorFor(class, scenarios...)
		require.NoError(t, err)
		return k
	}
	k := held(one)
	got(t, map[string]any{"do": "collect", "hand_ins": []any{}, "class": one, "scenarios": []string{}})
	got(t, map[string]any{"do": "table", "rows": []any{}, "class": one, "scenarios": []string{}})
	assert.Same(t, k, held(one))
	assert.Equal(t, desk.ErrClass, ask(t, map[string]any{"do": "collect", "class": "{}"}).Error.Key)
	assert.Same(t, k, held(one), "what can't be read takes no place")
	assert.NotSame(t, k, held(other))
	assert.NotSame(t, held(other), held(other, scenarioText(t, faulty)))
	assert.Equal(t, "Ana", held(one).Class().Students[0].Name)
}
