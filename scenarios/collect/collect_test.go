package collect_test

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/diagnose"
	"crankbay/diagnose/library"
	"crankbay/diagnose/reason"
	"crankbay/scenarios"
	"crankbay/scenarios/attempt"
	"crankbay/scenarios/attempt/script"
	"crankbay/scenarios/class"
	"crankbay/scenarios/code"
	"crankbay/scenarios/collect"
	"crankbay/sim"
	"crankbay/sim/bench"
	"crankbay/sim/record"
)

// room is a class of four with its set.
func room(t testing.TB) (*class.Class, []*class.Variant) {
	t.Helper()
	c := &class.Class{Name: "Auto 2", Secret: []byte("a secret of some length"), Mode: "grade", Scenario: scenarios.Find("burnt-exhaust-inline-four")}
	for _, n := range []string{"Ana Núñez", "José Peña", "Li Wei", "Pat O'Brien"} {
		c.Students = append(c.Students, class.Student{Name: n})
	}
	vs, err := c.Set(nil)
	require.NoError(t, err)
	return c, vs
}

// work does a variant under a name: a few strokes on two cylinders, and a conclusion.
func work(t testing.TB, s *scenarios.Scenario, who, more string) *attempt.File {
	t.Helper()
	text := fmt.Sprintf("scenario %s\nmode grade\nwho %s\nprepare\n5 strokes on 1\nwrite dry 1\n5 strokes on 2\nwrite dry 2\n10 ml in 2\n5 strokes on 2\nwrite wet 2\nconclude ring_or_bore 2\nsure certain\n%s", s.ID, who, more)
	session, err := script.Compile(text, func(string) *scenarios.Scenario { return s })
	require.NoError(t, err)
	return session.File()
}

func collector(t testing.TB, c *class.Class) *collect.Collector {
	t.Helper()
	k, err := collect.New(nil, c, nil)
	require.NoError(t, err)
	return k
}

// row collects one file.
func row(t testing.TB, k *collect.Collector, f *attempt.File) collect.Row {
	t.Helper()
	data, err := f.Encode()
	require.NoError(t, err)
	in := collect.Find(collect.Source{Name: "x.json", Data: data})
	require.Len(t, in, 1)
	return k.Row(in[0])
}

// signed gives a changed file a digest that fits again.
func signed(f attempt.File) *attempt.File {
	f.Digest = f.Sum()
	return &f
}

func TestEveryHandInIsNamedForWhatItIs(t *testing.T) {
	c, vs := room(t)
	k := collector(t, c)
	ana := work(t, vs[0].Scenario, "Ana Núñez", "hand in\n")

	r := row(t, k, ana)
	assert.Equal(t, collect.StatusOK, r.Status)
	assert.True(t, r.Holds && r.HandedIn)
	assert.Equal(t, "Ana Núñez", r.Student)
	assert.Empty(t, r.Owner)
	assert.Contains(t, r.Missteps, "rings_from_gain_alone")
	assert.NotZero(t, r.Percent)

	typed := *ana
	typed.Who = " ana  nunez"
	r = row(t, k, signed(typed))
	assert.Equal(t, collect.StatusOK, r.Status, "a name is known however it is typed")
	assert.Equal(t, "Ana Núñez", r.Student)

	assert.Equal(t, collect.StatusOpen, row(t, k, work(t, vs[1].Scenario, "José Peña", "")).Status)

	swapped := *ana
	swapped.Who = "José Peña"
	r = row(t, k, signed(swapped))
	assert.Equal(t, collect.StatusOther, r.Status)
	assert.Equal(t, []string{"José Peña", "Ana Núñez"}, []string{r.Student, r.Owner})
	assert.True(t, r.Holds, "it is a whole attempt, only not his")

	swapped.Who = "Nobody"
	r = row(t, k, signed(swapped))
	assert.Equal(t, collect.StatusNotOnRoster, r.Status)
	assert.Equal(t, "Ana Núñez", r.Owner)

	plain := work(t, c.Scenario, "Li Wei", "hand in\n")
	assert.Equal(t, collect.StatusWrongVariant, row(t, k, plain).Status, "the scenario itself is nobody's variant")
	assert.Equal(t, collect.StatusWrongVariant, row(t, k, work(t, scenarios.Find("sound-v6"), "Li Wei", "")).Status)

	easy := *ana
	easy.Mode = "alone"
	r = row(t, k, signed(easy))
	assert.Equal(t, collect.StatusWrongMode, r.Status)
	assert.Equal(t, []string{"alone", "grade"}, []string{r.Then, r.Now})

	older := *ana
	older.Model--
	r = row(t, k, signed(older))
	assert.Equal(t, collect.StatusVersion, r.Status)
	assert.Equal(t, []string{"model", fmt.Sprint(sim.ModelVersion - 1), fmt.Sprint(sim.ModelVersion)}, []string{r.What, r.Then, r.Now})
	assert.False(t, r.Holds)
	grader := *ana
	grader.Grader--
	r = row(t, k, signed(grader))
	assert.Equal(t, collect.StatusOK, r.Status, "graded again by the present grader")
	assert.Equal(t, attempt.GraderVersion-1, r.Grader)

	changed := *ana
	changed.ScenarioDigest = strings.Repeat("0", 32)
	r = row(t, k, signed(changed))
	assert.Equal(t, collect.StatusChanged, r.Status)
	changed.Scenario = "job-000000000000"
	assert.Equal(t, collect.StatusUnknown, row(t, k, signed(changed)).Status)

	forged := *ana
	forged.Actions = slices.Clone(ana.Actions)
	at := slices.IndexFunc(forged.Actions, func(a record.Action) bool { return a.Kind == attempt.KindWrite })
	forged.Actions[at].Number += 6894.757293168361
	r = row(t, k, signed(forged))
	assert.Equal(t, collect.StatusDiffers, r.Status)
	assert.InDelta(t, forged.Actions[at].Tick, r.Tick, record.TicksPerSecond, "placed within a second")
	forged.Actions = slices.Clone(ana.Actions)
	at = slices.IndexFunc(forged.Actions, func(a record.Action) bool { return a.Kind == bench.KindPlugOut && a.Cylinder == 2 })
	forged.Actions[at].Cylinder = 1
	r = row(t, k, signed(forged))
	assert.Equal(t, collect.StatusImpossible, r.Status)
	assert.Equal(t, at+1, r.Action)
}

// Who is given more time after a first hand-in, once and again, has still handed in the
// work that was given out, in the time there was then. Time that nobody gave is another
// edition.
func TestMoreTimeLeavesEarlierHandInsAlone(t *testing.T) {
	c, _ := room(t)
	timed := *c.Scenario
	timed.Work = &scenarios.Work{Minutes: 200}
	c.Scenario = &timed
	vs, err := c.Set(nil)
	require.NoError(t, err)
	list := []*attempt.File{work(t, vs[0].Scenario, "Ana Núñez", "hand in\n")}
	for _, extra := range []int{25, 50} {
		students := slices.Clone(c.Students)
		students[0].Extra = extra
		require.NoError(t, c.Change(students, nil))
		vs, err = c.Again()
		require.NoError(t, err)
		list = append(list, work(t, vs[0].Scenario, "Ana Núñez", "hand in\n"))
	}
	k := collector(t, c)
	for i, f := range list {
		short, err := code.Encode(f)
		require.NoError(t, err)
		for _, r := range []collect.Row{row(t, k, f), k.Row(collect.HandIn{Form: collect.FormCode, Data: []byte(short)})} {
			assert.Equal(t, collect.StatusOK, r.Status, "%d %s: %s", i, r.Form, r.Text)
			assert.Equal(t, []any{"Ana Núñez", 50}, []any{r.Student, r.Extra})
		}
	}
	own := *vs[0].Scenario
	own.Work = &scenarios.Work{Minutes: 800}
	r := row(t, k, work(t, &own, "Ana Núñez", "hand in\n"))
	assert.Equal(t, []string{collect.StatusChanged, "Ana Núñez"}, []string{r.Status, r.Student})
}

// Two students with one name are told apart by their ids, and where only the name was
// typed by the engine. A name that is somebody's whole label is theirs.
func TestStudentsOfOneName(t *testing.T) {
	c := &class.Class{Secret: []byte("a secret of some length"), Mode: "grade", Scenario: scenarios.Find("burnt-exhaust-inline-four"), Students: []class.Student{
		{Name: "Ana Ruiz", ID: "7"}, {Name: "Ana Ruiz", ID: "8"}, {Name: "Li Wei", ID: "9"}, {Name: "Li Wei"}, {Name: "Nguyễn Ân"},
	}}
	vs, err := c.Set(nil)
	require.NoError(t, err)
	k := collector(t, c)
	for _, x := range []struct {
		engine  int
		who     string
		status  string
		student string
	}{
		{0, "Ana Ruiz (7)", collect.StatusOK, "Ana Ruiz (7)"},
		{1, "Ana Ruiz", collect.StatusOK, "Ana Ruiz (8)"},
		{0, "ana  ruiz ", collect.StatusOK, "Ana Ruiz (7)"},
		{1, "Ana Ruiz (7)", collect.StatusOther, "Ana Ruiz (7)"},
		{2, "Ana Ruiz", collect.StatusNotOnRoster, ""},
		{3, "Li Wei", collect.StatusOK, "Li Wei"},
		{2, "Li Wei (9)", collect.StatusOK, "Li Wei (9)"},
		{2, "Li Wei", collect.StatusOther, "Li Wei"},
		{4, "NGUYE\u0302\u0303N A\u0302N", collect.StatusOK, "Nguyễn Ân"},
	} {
		r := row(t, k, work(t, vs[x.engine].Scenario, x.who, "hand in\n"))
		assert.Equal(t, []string{x.status, x.student}, []string{r.Status, r.Student}, "%s on engine %d", x.who, x.engine)
	}
}

func TestCodesAndSealedOnesAreTakenToo(t *testing.T) {
	c, vs := room(t)
	ana := work(t, vs[0].Scenario, "Ana Núñez", "hand in\n")
	text, err := code.Encode(ana)
	require.NoError(t, err)
	k := collector(t, c)
	in := collect.Find(collect.Source{Name: "mail.txt", Data: []byte("Here it is:\n" + text)})
	require.Len(t, in, 1)
	r := k.Row(in[0])
	assert.Equal(t, collect.StatusOK, r.Status)
	want := row(t, k, ana)
	want.Source, want.Form = r.Source, r.Form
	assert.Equal(t, want, r, "whichever way it comes, it is the same")

	forged := *ana
	forged.Actions = slices.Clone(ana.Actions)
	forged.Actions[len(forged.Actions)-3].Choice = "sound"
	bad, err := code.Encode(&forged)
	require.NoError(t, err)
	r = k.Row(collect.HandIn{Source: "x", Form: collect.FormCode, Data: []byte(bad)})
	assert.Equal(t, collect.StatusDiffers, r.Status)

	sealed := collect.HandIn{Source: "x", Form: collect.FormSealed, Data: []byte("CBS1.whatever")}
	assert.Equal(t, collect.StatusSealed, k.Row(sealed).Status)
	for plain, status := range map[string]string{text: collect.StatusOK, "": collect.StatusUnreadable, "CBS1.AAAA": collect.StatusUnreadable} {
		opened, err := collect.New(nil, c, func([]byte) ([]byte, error) { return []byte(plain), nil })
		require.NoError(t, err)
		assert.Equal(t, status, opened.Row(sealed).Status)
	}
	locked, err := collect.New(nil, c, func([]byte) ([]byte, error) { return nil, errors.New("another key") })
	require.NoError(t, err)
	r = locked.Row(sealed)
	assert.Equal(t, []string{collect.StatusSealed, "another key"}, []string{r.Status, r.Text})
}

func TestFindTakesEveryCodeOutOfAText(t *testing.T) {
	f := work(t, scenarios.Find("sound-inline-four"), "A", "hand in\n")
	a, err := code.Encode(f)
	require.NoError(t, err)
	qr, err := code.QR(a)
	require.NoError(t, err)
	wrap := func(s string) string {
		var b strings.Builder
		for i := 0; i < len(s); i += 60 {
			b.WriteString("> " + s[i:min(i+60, len(s))] + "\r\n")
		}
		return b.String()
	}
	for name, c := range map[string]struct {
		text string
		want []string
	}{
		"alone":       {a, []string{a}},
		"list":        {"Ana: " + a + "\nLuz: " + a + "\n", []string{a, a}},
		"a table":     {"time,who,code\n1,Ana," + a + "\n2,Luz,\"" + a + "\"\n3,Pat,\n", []string{a, a}},
		"quoted":      {"On Monday Ana wrote:\n" + wrap(a) + "\nBye\n", []string{a}},
		"square":      {"Scanned: " + qr + "\n" + qr, []string{qr, qr}},
		"run on":      {a + a, []string{a, a}},
		"cut short":   {a[:40] + "\n\n" + a, []string{a[:40], a}},
		"cut, run on": {a[:40] + a, []string{a[:40], a}},
		"square cut":  {"1,Ana," + qr[:40] + "\n2,Luz," + qr + "\n", []string{qr[:40], qr}},
		"squares":     {qr[:40] + qr, []string{qr[:40], qr}},
		"square lies": {"CB1:ZZ0 and\n" + qr + "\n" + qr, []string{"CB1:ZZ0", qr, qr}},
		"kinds":       {a + qr + a + " " + qr, []string{a, qr, a, qr}},
		"sealed":      {"x CBS1.AAAAAkFC and more", []string{"CBS1.AAAAAkFC"}},
		"none":        {"nothing here, not even ACB1.xyz", nil},
		"empty":       {"", nil},
	} {
		in := collect.Find(collect.Source{Name: "s", Data: []byte(c.text)})
		if c.want == nil {
			require.Len(t, in, 1, name)
			assert.Equal(t, collect.FormNone, in[0].Form, name)
			continue
		}
		require.Len(t, in, len(c.want), name)
		for i := range in {
			got := strings.NewReplacer("\r", "", "\n", "", "> ", "").Replace(string(in[i].Data))
			assert.Equal(t, c.want[i], strings.TrimSpace(got), name)
			if len(in) > 1 {
				assert.Equal(t, fmt.Sprintf("s (%d)", i+1), in[i].Label())
			}
		}
	}
}

// A text may hold whatever somebody wrote: it is gone through once, and what is too much
// for any class is named and not lost.
func TestFindIsDoneWithAnyText(t *testing.T) {
	find := func(text string) []collect.HandIn {
		return collect.Find(collect.Source{Name: "s", Data: []byte(text)})
	}
	const long = 2 << 20
	assert.Len(t, find("CB1.AA"+strings.Repeat(" ", long)+"x"), 1)
	assert.Len(t, find("CB1.AA"+strings.Repeat(" >", long)), 1)
	assert.Len(t, find(strings.Repeat("xCB1:", long)), 1)
	many := strings.Repeat("CB1.\n", long)
	in := find(many)
	require.Len(t, in, collect.MostInSource+1)
	last := in[collect.MostInSource]
	assert.Equal(t, collect.FormNone, last.Form)
	assert.Equal(t, len(many)-5*collect.MostInSource, len(last.Data), "all that is left over")
}

func TestRowsAreHeldAgainstEachOther(t *testing.T) {
	c, vs := room(t)
	k := collector(t, c)
	ana := work(t, vs[0].Scenario, "Ana Núñez", "hand in\n")
	pat := *ana
	pat.Who = "Pat O'Brien"
	again := work(t, vs[0].Scenario, "Ana Núñez", "write spec\nhand in\n")
	other := work(t, vs[3].Scenario, "Pat O'Brien", "hand in\n")
	other.Mode = "alone"
	rows := []collect.Row{
		row(t, k, ana), row(t, k, signed(pat)), row(t, k, ana), row(t, k, work(t, vs[2].Scenario, "Li Wei", "next leakage\nhand in\n")), row(t, k, again), row(t, k, signed(*other)),
	}
	for i := range rows {
		rows[i].Source = fmt.Sprint("file ", i)
	}
	k.Finish(rows)
	same, times := []string{}, []int{}
	for _, r := range rows {
		same, times = append(same, r.SameAs), append(times, r.Again)
	}
	assert.Equal(t, []string{"", "file 0", "file 0", "", "", ""}, same, "under another name, and sent twice")
	assert.Equal(t, []int{0, 0, 0, 0, 2, 0}, times, "what is sent twice is no second try")
	p := k.Picture(rows)
	assert.Equal(t, 6, p.HandIns)
	assert.Equal(t, 5, p.Graded, "each work once")
	assert.InDelta(t, (rows[0].Percent+rows[1].Percent+rows[3].Percent+rows[4].Percent+rows[5].Percent)/5, p.Mean, 1e-9)
	assert.Equal(t, map[string]int{collect.StatusOK: 4, collect.StatusOther: 1, collect.StatusWrongMode: 1}, p.Statuses)
	assert.Equal(t, []string{"José Peña"}, p.Missing, "the wrong way of working is still one's own")
	require.NotEmpty(t, p.Missteps)
	for i := 1; i < len(p.Missteps); i++ {
		assert.GreaterOrEqual(t, p.Missteps[i-1].N, p.Missteps[i].N)
	}
	assert.Equal(t, 5, p.Missteps[0].N)
}

// What a spreadsheet would run it only shows, whichever sign its cells are separated by;
// the page's own tables go by the same list.
func TestNoCellIsAFormula(t *testing.T) {
	data, err := os.ReadFile("../../testdata/vectors/cells.json")
	require.NoError(t, err)
	var cells [][2]string
	require.NoError(t, json.Unmarshal(data, &cells))
	for _, c := range cells {
		assert.Equal(t, c[1], collect.Inert(c[0]), "%q", c[0])
		var b strings.Builder
		require.NoError(t, collect.WriteCSV(&b, []collect.Row{{Who: c[0], Source: c[0], Tags: []string{"a", c[0]}}}))
		for _, comma := range ",;\t" {
			r := csv.NewReader(strings.NewReader(b.String()))
			r.Comma, r.LazyQuotes, r.FieldsPerRecord = comma, true, -1
			all, err := r.ReadAll()
			require.NoError(t, err)
			require.Len(t, all, 2, "%q by %q", c[0], comma)
			for _, cell := range all[1] {
				if _, err := strconv.ParseFloat(cell, 64); err != nil {
					assert.NotRegexp(t, `^[\s\p{Z}\p{Cf}"]*[=+\-@＝＋－＠]`, cell, "%q by %q", c[0], comma)
				}
			}
		}
	}
}

func TestMisstepsAreTakenFromRulesThereAre(t *testing.T) {
	for _, name := range collect.Rules() {
		assert.Contains(t, diagnose.RuleNames(), name)
	}
	assert.Len(t, slices.Compact(slices.Sorted(slices.Values(collect.Missteps()))), len(collect.Missteps()))
	assert.Len(t, slices.Compact(slices.Sorted(slices.Values(collect.Statuses()))), len(collect.Statuses()))
	for _, s := range collect.Statuses() {
		assert.True(t, collect.Counts(s) || !collect.Fits(s), s)
	}
}

// recorded returns the attempts in testdata, shortest first.
func recorded(t testing.TB) []*attempt.File {
	t.Helper()
	names, err := filepath.Glob("../../testdata/attempts/*.json")
	require.NoError(t, err)
	var all []*attempt.File
	for _, name := range names {
		data, err := os.ReadFile(name)
		require.NoError(t, err)
		f, err := attempt.Decode(data)
		require.NoError(t, err)
		all = append(all, f)
	}
	slices.SortFunc(all, func(a, b *attempt.File) int { return int(a.Tick - b.Tick) })
	return all
}

// A thousand attempts changed by chance. Where the digest was left as it was, every
// one is refused before it is played. Where it was made to fit, each is refused by its
// replay, or it is graded as what it now is: then only what replay doesn't cover has
// changed, the name and the way of working. Nothing panics.
func TestAThousandChangedAttempts(t *testing.T) {
	files := recorded(t)
	k := collector(t, nil)
	r := rand.New(rand.NewPCG(20, 26))
	counts := map[string]int{}
	for i := range 1000 {
		base := files[0]
		if i%10 == 0 {
			base = files[1+r.IntN(len(files)-1)]
		}
		if i%2 == 0 {
			data, err := base.Encode()
			require.NoError(t, err)
			bad := bytes.Clone(data)
			at := r.IntN(len(bad))
			bad[at] = "0123456789abcdef,\"{}[]:- xyz"[r.IntN(28)]
			if same, err := attempt.Decode(bad); err == nil {
				assert.Equal(t, base, same, "a blank for a blank")
				continue
			}
			row := k.Row(collect.Find(collect.Source{Name: "x", Data: bad})[0])
			assert.Equal(t, collect.StatusUnreadable, row.Status)
			assert.NotEmpty(t, row.Text)
			counts["digest left: refused"]++
			continue
		}
		f, what := changed(r, base)
		row := row(t, k, f)
		counts[what+": "+row.Status]++
		switch what {
		case "who", "mode":
			assert.True(t, row.Holds, "%d %s: %s", i, what, row.Text)
		default:
			assert.False(t, row.Holds, "%d %s holds, of %s", i, what, f.Scenario)
		}
	}
	for _, key := range slices.Sorted(mapKeys(counts)) {
		t.Logf("%4d %s", counts[key], key)
	}
}

// A thousand codes changed by chance: a letter for another, left out, doubled, cut, two
// exchanged. What still counts as handed in is the same as before, to the last figure.
// Sealed ones: package seal.
func TestAThousandChangedCodes(t *testing.T) {
	base := recorded(t)[0]
	text, err := code.Encode(base)
	require.NoError(t, err)
	square, err := code.QR(text)
	require.NoError(t, err)
	k := collector(t, nil)
	want := map[string]collect.Row{}
	for _, form := range []string{text, square} {
		want[form] = k.Row(collect.Find(collect.Source{Name: "x", Data: []byte(form)})[0])
		require.Equal(t, collect.StatusOK, want[form].Status)
	}
	r := rand.New(rand.NewPCG(20, 28))
	counts := map[string]int{}
	for i := range 1000 {
		form := []string{text, square}[i%2]
		bad, what := scratched(r, form)
		for _, in := range collect.Find(collect.Source{Name: "x", Data: []byte(bad)}) {
			got := k.Row(in)
			counts[in.Form+" "+what+": "+got.Status]++
			if got.Holds {
				assert.Equal(t, want[form], got, "%d %s", i, what)
			} else {
				assert.Equal(t, collect.StatusUnreadable, got.Status, "%d %s: %s", i, what, got.Text)
				assert.NotEmpty(t, got.Text)
			}
		}
	}
	for _, key := range slices.Sorted(mapKeys(counts)) {
		t.Logf("%4d %s", counts[key], key)
	}
}

// scratched changes a text in one place.
func scratched(r *rand.Rand, text string) (bad, what string) {
	const letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_ $%*+./:"
	at := r.IntN(len(text) - 1)
	switch what = []string{"letter", "left out", "doubled", "exchanged", "cut"}[r.IntN(5)]; what {
	case "letter":
		return text[:at] + string(letters[r.IntN(len(letters))]) + text[at+1:], what
	case "left out":
		return text[:at] + text[at+1:], what
	case "doubled":
		return text[:at] + text[at:at+1] + text[at:], what
	case "exchanged":
		return text[:at] + text[at+1:at+2] + text[at:at+1] + text[at+2:], what
	}
	return text[:at], what
}

// Whoever hands in another one's work, signed anew under any name, is caught by the
// roster: the engine is its owner's.
func TestSwapsAreCaughtByTheRoster(t *testing.T) {
	c, vs := room(t)
	k := collector(t, c)
	r := rand.New(rand.NewPCG(20, 27))
	for owner, v := range vs {
		f := work(t, v.Scenario, c.Students[owner].Label(), "hand in\n")
		for i := range 50 {
			swapped := *f
			other := r.IntN(len(c.Students) + 1)
			if swapped.Who = fmt.Sprintf("Somebody %d", i); other < len(c.Students) {
				swapped.Who = c.Students[other].Label()
			}
			got := row(t, k, signed(swapped))
			assert.True(t, got.Holds)
			switch {
			case other == owner:
				assert.Equal(t, collect.StatusOK, got.Status)
			case other == len(c.Students):
				assert.Equal(t, collect.StatusNotOnRoster, got.Status)
				assert.Equal(t, c.Students[owner].Label(), got.Owner)
			default:
				assert.Equal(t, collect.StatusOther, got.Status)
				assert.Equal(t, []string{c.Students[other].Label(), c.Students[owner].Label()}, []string{got.Student, got.Owner})
			}
		}
	}
}

func mapKeys(m map[string]int) func(func(string) bool) {
	return func(yield func(string) bool) {
		for k := range m {
			if !yield(k) {
				return
			}
		}
	}
}

// changed changes one thing for certain and signs the result.
func changed(r *rand.Rand, base *attempt.File) (*attempt.File, string) {
	f := *base
	f.Actions, f.Marks = slices.Clone(base.Actions), slices.Clone(base.Marks)
	at := r.IntN(len(f.Actions))
	a := &f.Actions[at]
	what := []string{"tick", "number", "cylinder", "choice", "left out", "doubled", "exchanged", "mark", "end", "who", "mode", "seed", "kind"}[r.IntN(13)]
	switch what {
	case "tick":
		for i := range f.Actions[at:] {
			f.Actions[at+i].Tick++
		}
		f.Tick++
		f.Marks[len(f.Marks)-1].Tick++
	case "number":
		a.Number += 1 + r.Float64()
	case "cylinder":
		a.Cylinder = (a.Cylinder + 1 + r.IntN(3)) % 5
	case "choice":
		a.Choice += "x"
	case "left out":
		f.Actions = slices.Delete(f.Actions, at, at+1)
	case "doubled":
		f.Actions = slices.Insert(f.Actions, at, *a)
	case "exchanged":
		other := (at + 1) % len(f.Actions)
		if f.Actions[other] == *a || f.Actions[other].Tick != a.Tick {
			a.Number += 3
			break
		}
		f.Actions[at], f.Actions[other] = f.Actions[other], f.Actions[at]
	case "mark":
		f.Marks[r.IntN(len(f.Marks))].Digest ^= 1 << r.IntN(64)
	case "end":
		f.Marks[len(f.Marks)-1].Digest++
	case "who":
		f.Who = fmt.Sprint("Student ", r.IntN(1000))
	case "mode":
		f.Mode = attempt.ModeReasons
		if slices.ContainsFunc(f.Actions, func(a record.Action) bool { return a.Kind == bench.KindHint || a.Kind == bench.KindSection }) {
			f.Mode = attempt.ModeAlone
		}
	case "seed":
		f.Seed++
	case "kind":
		a.Kind = []string{bench.KindHint, bench.KindWait, bench.KindProve, attempt.KindRemark}[r.IntN(4)]
		if a.Kind == base.Actions[at].Kind {
			a.Kind = bench.KindSnap
		}
	}
	return signed(f), what
}

// minute is an attempt with a minute of cranking: twelve times five seconds, read and
// written down, and a conclusion.
func minute(b *testing.B) *attempt.File {
	b.Helper()
	text := "scenario burnt-exhaust-inline-four\nmode grade\nwho A\nprepare\n"
	for round, kind := range []string{"dry", "dry", "wet"} {
		for c := 1; c <= 4; c++ {
			if round == 2 {
				text += fmt.Sprintf("10 ml in %d\n", c)
			}
			text += fmt.Sprintf("9 strokes on %d\nwrite %s %d\n", c, kind, c)
		}
	}
	session, err := script.Compile(text+"write speed\nwrite temperature\nwrite throttle\nwrite spec\nconclude valve_leak 3\nsure likely\nbecause dry wet\nnext leakage\nhand in\n", scenarios.Find)
	require.NoError(b, err)
	return session.File()
}

// A minute of cranking each, handed in by a class, replayed and graded with the judge:
// thirty have to take less than three seconds of one core (-cpu 1), and three hundred
// ten times as long.
func BenchmarkVerifyClass(b *testing.B) {
	f := minute(b)
	require.InDelta(b, 60*record.TicksPerSecond, f.Tick, 3*record.TicksPerSecond)
	data, err := f.Encode()
	require.NoError(b, err)
	lib, err := os.ReadFile("../../cmd/crankbay/internal/library/library.bin")
	require.NoError(b, err)
	weights, err := library.Open(lib)
	require.NoError(b, err)
	k := collector(b, nil)
	k.GradeBy(reason.NewJudge(weights, reason.Priors{}))
	for _, n := range []int{30, 300} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				rows := make([]collect.Row, 0, n)
				for range n {
					r := k.Row(collect.HandIn{Form: collect.FormFile, Data: data})
					if !r.Holds {
						b.Fatal(r.Text)
					}
					rows = append(rows, r)
				}
				k.Finish(rows)
				k.Picture(rows)
			}
			b.ReportMetric(b.Elapsed().Seconds()*1000/float64(b.N*n), "ms/attempt")
		})
	}
}

// What is done with all rows at once, for a district.
func BenchmarkTable(b *testing.B) {
	k := collector(b, nil)
	data, err := minute(b).Encode()
	require.NoError(b, err)
	one := k.Row(collect.HandIn{Form: collect.FormFile, Data: data})
	for _, n := range []int{30, 300, 3000} {
		rows := make([]collect.Row, n)
		for i := range rows {
			rows[i] = one
			rows[i].Who, rows[i].Log, rows[i].Source = fmt.Sprint("Student ", i), fmt.Sprint(i), fmt.Sprint(i, ".json")
		}
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				k.Finish(rows)
				k.Picture(rows)
				if err := collect.WriteCSV(io.Discard, rows); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(b.Elapsed().Seconds()*1e6/float64(b.N*n), "µs/row")
		})
	}
}

// What a hand-in costs does not grow with their number: the same attempts over and
// over, held against each other at the end.
func BenchmarkVerifyMany(b *testing.B) {
	data, err := recorded(b)[0].Encode()
	require.NoError(b, err)
	for _, n := range []int{30, 300, 3000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			k := collector(b, nil)
			for b.Loop() {
				rows := make([]collect.Row, n)
				for i := range rows {
					rows[i] = k.Row(collect.HandIn{Source: fmt.Sprint(i), Form: collect.FormFile, Data: data})
				}
				k.Finish(rows)
				k.Picture(rows)
			}
			b.ReportMetric(b.Elapsed().Seconds()*1e3/float64(b.N*n), "ms/attempt")
		})
	}
}

func FuzzFind(f *testing.F) {
	file := work(f, scenarios.Find("sound-inline-four"), "A", "hand in\n")
	text, err := code.Encode(file)
	require.NoError(f, err)
	f.Add([]byte("Ana: " + text + "\nCBS1.AAAAAkFC CB1:AB"))
	f.Add([]byte("{}"))
	k := collector(f, nil)
	f.Fuzz(func(t *testing.T, data []byte) {
		in := collect.Find(collect.Source{Name: "f", Data: data})
		require.NotEmpty(t, in)
		for _, h := range in[:min(len(in), 4)] {
			if h.Form != collect.FormFile || len(h.Data) < 4096 {
				require.Contains(t, collect.Statuses(), k.Row(h).Status)
			}
		}
	})
}
