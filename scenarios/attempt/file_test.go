package attempt_test

import (
	"bytes"
	"encoding/json"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/diagnose"
	"crankbay/scenarios"
	"crankbay/scenarios/attempt"
	"crankbay/scenarios/attempt/script"
	"crankbay/sim/bench"
)

const testdata = "../../testdata"

// compiled returns the attempt of a script in testdata/scripts.
func compiled(t testing.TB, name string) *attempt.Session {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(testdata, "scripts", name+".txt"))
	require.NoError(t, err)
	s, err := script.Compile(string(text), scenarios.Find)
	require.NoError(t, err, name)
	return s
}

// scripts lists the names of all scripts.
func scripts(t testing.TB) []string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(testdata, "scripts", "*.txt"))
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for i, f := range files {
		files[i] = strings.TrimSuffix(filepath.Base(f), ".txt")
	}
	return files
}

// some is every fourth of them, for what one attempt shows as well as another.
func some(t testing.TB) []string {
	t.Helper()
	var out []string
	for i, name := range scripts(t) {
		if i%4 == 0 || name == "worn-rings-cut-short" {
			out = append(out, name)
		}
	}
	return out
}

func TestVectorsGiveTheirSentence(t *testing.T) {
	table, err := os.ReadFile(filepath.Join(testdata, "vectors", "attempts.txt"))
	require.NoError(t, err)
	seen := map[string]bool{}
	for _, line := range strings.Split(strings.TrimSpace(string(table)), "\n") {
		name, want, found := strings.Cut(line, "\t")
		require.True(t, found, line)
		seen[name+".json"] = true
		t.Run(name, func(t *testing.T) {
			data, err := os.ReadFile(filepath.Join(testdata, "vectors", "attempts", name+".json"))
			require.NoError(t, err)
			_, err = attempt.Decode(data)
			if want == "ok" {
				assert.NoError(t, err)
				return
			}
			require.Error(t, err)
			assert.Equal(t, want, err.Error())
			assert.NotContains(t, err.Error(), "\n", "one sentence")
		})
	}
	files, err := os.ReadDir(filepath.Join(testdata, "vectors", "attempts"))
	require.NoError(t, err)
	for _, f := range files {
		assert.True(t, seen[f.Name()], "%s has no sentence", f.Name())
	}
}

func TestAFileOfTenMegabytesIsNotRead(t *testing.T) {
	_, err := attempt.Decode(bytes.Repeat([]byte("["), 10<<20))
	require.Error(t, err)
	assert.Equal(t, "attempt: too big: 10485760 bytes, at most 4194304 are read", err.Error())
}

func TestEncodeAndDecodeAreInverse(t *testing.T) {
	for _, name := range some(t) {
		f := compiled(t, name).File()
		data, err := f.Encode()
		require.NoError(t, err)
		back, err := attempt.Decode(data)
		require.NoError(t, err, name)
		assert.Equal(t, f, back, name)
		again, err := back.Encode()
		require.NoError(t, err)
		assert.Equal(t, string(data), string(again), name)
	}
}

func TestSpacesAndOrderDontMatter(t *testing.T) {
	f := compiled(t, "worn-rings-cut-short").File()
	data, err := f.Encode()
	require.NoError(t, err)
	var any map[string]json.RawMessage
	require.NoError(t, json.Unmarshal(data, &any))
	sorted, err := json.Marshal(any) // names in alphabetical order, no spaces
	require.NoError(t, err)
	back, err := attempt.Decode(sorted)
	require.NoError(t, err)
	assert.Equal(t, f, back)
}

func TestTextsOfEveryKindSurviveTheFile(t *testing.T) {
	for _, text := range []string{"", "ñandú <b>&\"\\ 🛠", "line\nbreak\ttab", "\u2028\x00", strings.Repeat("é", 100)} {
		s, err := attempt.New(scenarios.Find("sound-inline-four"), attempt.Header{Mode: "alone", Who: text})
		require.NoError(t, err)
		data, err := s.Encode()
		require.NoError(t, err)
		back, err := attempt.Decode(data)
		require.NoError(t, err)
		assert.Equal(t, text, back.Who)
	}
	for _, bad := range []string{"\xff", strings.Repeat("é", 101)} {
		_, err := attempt.New(scenarios.Find("sound-inline-four"), attempt.Header{Mode: "alone", Who: bad})
		assert.Error(t, err)
	}
	_, err := attempt.New(scenarios.Find("sound-inline-four"), attempt.Header{Mode: "easy"})
	assert.ErrorContains(t, err, "mode")
}

// Damage anywhere is noticed: a byte of a whole file changed to another either
// changes nothing that is read, or is a sentence.
func TestAnyChangedByteIsNoticed(t *testing.T) {
	f := compiled(t, "worn-rings-cut-short").File()
	data, err := f.Encode()
	require.NoError(t, err)
	r := rand.New(rand.NewPCG(3, 5))
	for range 400 {
		bad := bytes.Clone(data)
		i := r.IntN(len(bad))
		bad[i] = byte(32 + r.IntN(95))
		back, err := attempt.Decode(bad)
		if err == nil {
			assert.Equal(t, f, back, "byte %d", i)
		}
	}
}

func TestTheSpecificationPageNamesEverything(t *testing.T) {
	page, err := os.ReadFile("FORMAT.md")
	require.NoError(t, err)
	for _, kind := range append(bench.Kinds(), attempt.SheetKinds()...) {
		assert.Contains(t, string(page), "`"+kind+"`")
	}
	for _, list := range [][]string{
		diagnose.Fields(), diagnose.HeardPlaces(), diagnose.EvidenceKinds(), diagnose.NextTests(), diagnose.Sureness(),
	} {
		for _, name := range list {
			assert.Contains(t, string(page), "`"+name+"`")
		}
	}
	data, err := compiled(t, "worn-rings-cut-short").Encode()
	require.NoError(t, err)
	var fields map[string]json.RawMessage
	require.NoError(t, json.Unmarshal(data, &fields))
	for name := range fields {
		assert.Contains(t, string(page), "`"+name+"`")
	}
}

func FuzzDecode(f *testing.F) {
	files, err := filepath.Glob(filepath.Join(testdata, "vectors", "attempts", "*.json"))
	require.NoError(f, err)
	for _, name := range files {
		data, err := os.ReadFile(name)
		require.NoError(f, err)
		if len(data) < 1<<16 {
			f.Add(data)
		}
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		file, err := attempt.Decode(data)
		if err != nil {
			if file != nil || strings.Contains(err.Error(), "\n") || !strings.HasPrefix(err.Error(), "attempt: ") {
				t.Fatalf("%q is no sentence", err)
			}
			return
		}
		out, err := file.Encode()
		if err != nil {
			t.Fatal(err)
		}
		back, err := attempt.Decode(out)
		if err != nil {
			t.Fatal(err)
		}
		assert.Equal(t, file, back)
	})
}
