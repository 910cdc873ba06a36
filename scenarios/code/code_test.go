package code_test

import (
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/scenarios"
	"crankbay/scenarios/attempt"
	"crankbay/scenarios/attempt/script"
	"crankbay/scenarios/code"
	"crankbay/sim/bench"
	"crankbay/sim/record"
)

const testdata = "../../testdata"

// files are the recorded attempts.
func files(t testing.TB) map[string]*attempt.File {
	t.Helper()
	names, err := filepath.Glob(filepath.Join(testdata, "attempts", "*.json"))
	require.NoError(t, err)
	require.NotEmpty(t, names)
	all := map[string]*attempt.File{}
	for _, name := range names {
		data, err := os.ReadFile(name)
		require.NoError(t, err)
		f, err := attempt.Decode(data)
		require.NoError(t, err, name)
		all[filepath.Base(name)] = f
	}
	return all
}

func TestACodeCarriesTheWholeAttempt(t *testing.T) {
	all := files(t)
	longest := 0
	for i, name := range slices.Sorted(maps.Keys(all)) {
		f := all[name]
		text, err := code.Encode(f)
		require.NoError(t, err, name)
		longest = max(longest, len(text))
		qr, err := code.QR(text)
		require.NoError(t, err, name)
		forms := []string{qr}
		if i%8 == 0 {
			forms = append(forms, " \n"+text+"\r\n", "\t"+text[:30]+"\n> "+text[30:60]+"\n> "+text[60:], text[:50]+"\u200b"+text[50:])
		}
		for _, form := range forms {
			b, err := code.Decode(form)
			require.NoError(t, err, name)
			assert.Equal(t, f.Actions, b.File.Actions, name)
		}
		if i%4 != 0 {
			continue
		}
		b, err := code.Decode(text)
		require.NoError(t, err)
		r, err := b.Verify(scenarios.Find)
		require.NoError(t, err, name)
		assert.Equal(t, f, r.Session.File(), "%s: the replay gives back the whole file, every mark", name)
	}
	t.Logf("longest of %d recorded attempts: %d characters", len(all), longest)
	assert.Less(t, longest, 1400)
}

func TestABriefAttemptIsTakenUpWhereItStood(t *testing.T) {
	f := files(t)["worn-rings-cut-short.json"]
	text, err := code.Encode(f)
	require.NoError(t, err)
	b, err := code.Decode(text)
	require.NoError(t, err)
	s, err := b.Resume(scenarios.Find(f.Scenario))
	require.NoError(t, err)
	want, err := attempt.Resume(f, scenarios.Find(f.Scenario))
	require.NoError(t, err)
	assert.Equal(t, want.File(), s.File())
	_, err = b.Resume(scenarios.Find("sound-inline-four"))
	assert.ErrorContains(t, err, "scenario")
}

// byHand is a long log with the unevenness of a person: no replay gives it, but a
// packer does not ask.
func byHand(t testing.TB, actions int) *attempt.File {
	t.Helper()
	var text strings.Builder
	text.WriteString("scenario gasket-unequal-inline-six\nmode grade\nwho María-José Núñez de la Peña\nprepare\nwrite spec\n")
	for cyl := 1; cyl <= 6; cyl++ {
		fmt.Fprintf(&text, "%d strokes on %d\nwrite dry %d\n", 5+cyl%2, cyl, cyl)
	}
	text.WriteString("6 strokes on 3\nwrite dry 3\n10 ml in 3\n6 strokes on 3\nwrite wet 3\nwrite oil 3\n12 ml in 1\n6 strokes on 1\nwrite wet 1\nwrite oil 1\n" +
		"conclude valve_leak 3\nsure likely\nbecause dry wet first_stroke repeat spec\nnext leakage\ntick all\n" +
		"remark All six read close together. I would look at ignition and fuel before anything is taken apart.\nput back\nhand in\n")
	s, err := script.Compile(text.String(), scenarios.Find)
	require.NoError(t, err)
	f := s.File()
	r := rand.New(rand.NewPCG(7, 11))
	var log []record.Action
	late := int64(0)
	for _, a := range f.Actions {
		if a.Tick > 0 {
			late += r.Int64N(40)
		}
		a.Tick += late
		if a.Kind == attempt.KindWrite && a.Number > 1e5 {
			a.Number = float64(80+r.IntN(60)) * 2.5 * 6894.757293168361
		}
		log = append(log, a)
		if a.Kind == attempt.KindWrite && r.IntN(4) == 0 && len(f.Actions)+len(log) < actions+len(f.Actions) {
			log = append(log, a) // written again
		}
	}
	for len(log) < actions {
		at := 20 + r.IntN(len(log)-20)
		log = slices.Insert(log, at, record.Action{Tick: log[at-1].Tick, Kind: []string{"needle-words", "plug-look", "release", "voltmeter"}[r.IntN(4)], Choice: "on", Cylinder: r.IntN(7)})
	}
	f.Actions = log[:actions]
	f.Tick = log[actions-1].Tick
	f.Marks = nil
	second := int64(1)
	for _, a := range f.Actions {
		for ; second*record.TicksPerSecond <= a.Tick; second++ {
			f.Marks = append(f.Marks, record.Mark{Tick: second * record.TicksPerSecond, Digest: r.Uint64()})
		}
		f.Marks = append(f.Marks, record.Mark{Tick: a.Tick, Digest: r.Uint64()})
	}
	f.Marks = append(f.Marks, record.Mark{Tick: f.Tick, Digest: r.Uint64()})
	f.Digest = f.Sum()
	return f
}

func TestLengthOfALongAttempt(t *testing.T) {
	f := byHand(t, 220)
	text, err := code.Encode(f)
	require.NoError(t, err)
	t.Logf("220 actions with a person's timing: %d characters", len(text))
	assert.Less(t, len(text), 1400)
	qr, err := code.QR(text)
	require.NoError(t, err, "and it fits a QR code")
	assert.LessOrEqual(t, len(qr), code.MaxQR)
	b, err := code.Decode(qr)
	require.NoError(t, err)
	assert.Equal(t, f.Actions, b.File.Actions)
}

func TestWhatDoesNotFitIsHandedInAsAFile(t *testing.T) {
	f := byHand(t, 220)
	f.Actions = append([]record.Action{{Kind: attempt.KindRemark, Text: strings.Repeat("long ", 80)}}, f.Actions...)
	f.Marks = append([]record.Mark{{}}, f.Marks...)
	_, err := code.Encode(f)
	assert.EqualError(t, err, "code: 521 characters of free text, a short code holds 400: hand in the file")

	r := rand.New(rand.NewPCG(1, 2))
	f = byHand(t, 220)
	for i := range f.Actions {
		f.Actions[i] = record.Action{Kind: attempt.KindWrite, Choice: "rpm"}
	}
	f.Actions = append(f.Actions, f.Actions...)
	for i := range f.Actions {
		f.Actions[i].Number = r.Float64() * 1e6 // nobody types that
	}
	f.Marks = make([]record.Mark, len(f.Actions)+1)
	f.Tick = 0
	_, err = code.Encode(f)
	long := (*code.TooLong)(nil)
	require.ErrorAs(t, err, &long)
	assert.Equal(t, code.MaxLength, long.Max)
	assert.ErrorContains(t, err, "hand in the file")

	for i := range f.Actions {
		f.Actions[i] = record.Action{Kind: bench.KindSpec, Choice: fmt.Sprint("page-", i)}
	}
	_, err = code.Encode(f)
	assert.ErrorContains(t, err, "different words")

	f.Marks = nil
	_, err = code.Encode(f)
	assert.ErrorContains(t, err, "code: marks: none")
}

func TestTextsOfEveryKindSurviveACode(t *testing.T) {
	for _, text := range []string{"", "ñandú <b>&\"\\ 🛠", "line\nbreak\ttab", "\u2028\x00", strings.Repeat("é", 99)} {
		s, err := attempt.New(scenarios.Find("sound-inline-four"), attempt.Header{Mode: "alone", Who: text})
		require.NoError(t, err)
		require.NoError(t, s.Do(record.Action{Kind: attempt.KindRemark, Text: text + "·"}))
		require.NoError(t, s.Do(record.Action{Kind: attempt.KindWrite, Choice: "rpm", Number: 1 / 3.}))
		require.NoError(t, s.Do(record.Action{Kind: attempt.KindWrite, Choice: "rpm", Number: -1e-300}))
		out, err := code.Encode(s.File())
		require.NoError(t, err)
		b, err := code.Decode(out)
		require.NoError(t, err)
		assert.Equal(t, s.File().Actions, b.File.Actions)
		assert.Equal(t, text, b.File.Who)
	}
}

// One character changed, lost or doubled anywhere is noticed.
func TestDamageToACodeIsNoticed(t *testing.T) {
	text, err := code.Encode(files(t)["burnt-valve-by-the-card.json"])
	require.NoError(t, err)
	qr, err := code.QR(text)
	require.NoError(t, err)
	r := rand.New(rand.NewPCG(3, 5))
	for i := range 60 {
		whole := []string{text, qr}[i%2]
		at := len(code.Prefix) + r.IntN(len(whole)-len(code.Prefix))
		other := whole[len(code.Prefix)+r.IntN(len(whole)-len(code.Prefix))]
		for _, bad := range []string{whole[:at] + string(other) + whole[at+1:], whole[:at] + whole[at+1:], whole[:at] + string(other) + whole[at:], whole[:at]} {
			if bad == whole {
				continue
			}
			_, err := code.Decode(bad)
			if assert.Error(t, err, bad) {
				assert.NotContains(t, err.Error(), "\n")
				assert.Regexp(t, "^code: ", err.Error())
			}
		}
	}
}

// A change with a digest made to fit is found by the replay, and placed.
func TestAForgedCodeIsFoundByItsReplay(t *testing.T) {
	for kind, change := range map[string]func(*record.Action){
		bench.KindHoseOn:      func(a *record.Action) { a.Cylinder = 1 },
		attempt.KindWrite:     func(a *record.Action) { a.Number += 1e5 },
		attempt.KindFinding:   func(a *record.Action) { a.Choice = "sound" },
		attempt.KindNextTest:  func(a *record.Action) { a.Choice = "lash" },
		bench.KindTurn:        func(a *record.Action) { a.Choice = "tdc" },
		bench.KindEngineStart: func(a *record.Action) { a.Kind = bench.KindLeads },
	} {
		f := *files(t)["burnt-valve-by-the-card.json"]
		f.Actions = slices.Clone(f.Actions)
		at := -1
		for i, a := range f.Actions {
			if a.Kind == kind && (at < 0 || i < 60) {
				at = i
			}
		}
		require.GreaterOrEqual(t, at, 0, kind)
		change(&f.Actions[at])
		text, err := code.Encode(&f)
		require.NoError(t, err)
		b, err := code.Decode(text)
		require.NoError(t, err, "whoever changes a log can pack it again")
		_, err = b.Verify(scenarios.Find)
		require.Error(t, err, kind)
		assert.Regexp(t, "^attempt: ", err.Error())
	}
}

// Numbers that no file can hold are damage, not a crash.
func TestACodeWithoutANumberInIt(t *testing.T) {
	for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		f := *files(t)["sloppy.json"]
		f.Actions = slices.Clone(f.Actions)
		f.Actions[0].Number = v
		_, err := code.Decode(code.Crafted(&f))
		assert.ErrorContains(t, err, "damaged", "%v", v)
	}
}

func FuzzDecode(f *testing.F) {
	for _, file := range files(f) {
		if text, err := code.Encode(file); err == nil {
			f.Add(text)
			qr, _ := code.QR(text)
			f.Add(qr)
		}
	}
	vectors, _ := os.ReadFile(filepath.Join(testdata, "codes", "vectors.txt"))
	for line := range strings.Lines(string(vectors)) {
		f.Add(strings.Split(line, "\t")[0])
	}
	f.Fuzz(func(t *testing.T, text string) {
		b, err := code.Decode(text)
		if err != nil {
			if b != nil || strings.Contains(err.Error(), "\n") || !strings.HasPrefix(err.Error(), "code: ") {
				t.Fatalf("%q is no sentence", err)
			}
			return
		}
		if _, err := b.File.Encode(); err != nil {
			t.Fatal(err)
		}
	})
}

// FuzzUnpack gives the packer bytes whose digest fits nothing, so that it gets to
// read all of them.
func FuzzUnpack(f *testing.F) {
	f.Add([]byte("any bytes at all will do here, and they are read to their end"))
	f.Fuzz(func(t *testing.T, data []byte) {
		text := code.Packed(data)
		if _, err := code.Decode(text); err == nil && len(data) > 0 {
			t.Logf("a lucky one: %q", data)
		}
	})
}

// A code is never longer than the smallest memory of a learning platform: not that of the
// longest recorded attempt, and not a log of all there is, over and over, until it is
// refused.
func TestTheLongestCode(t *testing.T) {
	var longest attempt.File
	fits := 0
	all := files(t)
	for _, name := range slices.Sorted(maps.Keys(all)) {
		f := all[name]
		short, err := code.Encode(f)
		require.NoError(t, err, name)
		fits = max(fits, len(short))
		before, tick := longest.Actions, longest.Tick
		longest = *f
		longest.Actions, longest.Tick = before, tick+f.Tick
		for _, a := range f.Actions {
			a.Tick += tick
			longest.Actions = append(longest.Actions, a)
		}
	}
	t.Logf("longest recorded attempt: %d characters", fits)
	assert.Less(t, fits, code.MaxLength)
	longest.Marks = []record.Mark{{Tick: longest.Tick, Digest: 1}}
	n := 100
	for ; n < len(longest.Actions); n += 400 {
		f := longest
		f.Actions = f.Actions[:n]
		f.Digest = f.Sum()
		short, err := code.Encode(&f)
		if err != nil {
			var long *code.TooLong
			require.ErrorAs(t, err, &long)
			break
		}
		require.LessOrEqual(t, len(short), code.MaxLength)
		fits = len(short)
	}
	t.Logf("%d actions of every kind are %d characters, %d are refused", n-400, fits, n)
	assert.Less(t, n, len(longest.Actions), "the limit was reached")
}
