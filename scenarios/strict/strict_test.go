package strict_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/scenarios/strict"
)

// plan is a small reader in the way the real ones are written.
type plan struct {
	Bore   float64
	Count  int64
	Name   string
	Kind   string
	Seed   uint64
	On     bool
	Faults []int64
}

func read(data string) (plan, error) {
	var p plan
	d, err := strict.Parse([]byte(data), 1<<20)
	if err != nil {
		return p, err
	}
	o := d.Root().Object()
	p.Bore = o.Need("bore_mm").Float(30, 200)
	p.Count = o.Need("cylinders").Int(1, 12)
	p.Name = o.May("name").Text(5)
	p.Kind = o.May("kind").OneOf("inline", "v")
	p.Seed = o.May("seed").Uint64()
	p.On = o.May("on").Bool()
	for _, v := range o.May("faults").List(0, 3) {
		f := v.Object()
		c := f.Need("cylinder").Int(-100, 100)
		if c < 1 || c > p.Count {
			f.Need("cylinder").Fail("%d, this engine has cylinders 1 to %d", c, p.Count)
		}
		p.Faults = append(p.Faults, c)
		f.Close()
	}
	o.Close()
	return p, d.Err()
}

func TestReadsWhatIsThere(t *testing.T) {
	p, err := read(`{"bore_mm": 86.5, "cylinders": 4, "name": "año", "kind": "v", "seed": "18446744073709551615",
		"on": true, "faults": [{"cylinder": 2}, {"cylinder": 4.0}]}`)
	require.NoError(t, err)
	assert.Equal(t, plan{86.5, 4, "año", "v", 18446744073709551615, true, []int64{2, 4}}, p)
}

func TestFaultsAreOneSentenceWithAPath(t *testing.T) {
	deep := strings.Repeat("[", 33)
	for _, c := range []struct{ in, want string }{
		{``, "empty: there is nothing to read"},
		{" \n", "empty: there is nothing to read"},
		{`{"bore_mm": 86,`, "cut short: the document ends in the middle"},
		{`{"bore_mm"`, "cut short: the document ends in the middle"},
		{`{"name": "x`, "cut short: the document ends in the middle"},
		{"{\n\"bore_mm\": NaN}", "line 2: not JSON"},
		{`{"bore_mm": 86 "cylinders": 4}`, "line 1: not JSON"},
		{`[1,]`, "line 1: not JSON"},
		{`{"a":1}]`, "line 1: something follows the end of the document"},
		{"\xff\xfe", "not text: the bytes are not UTF-8"},
		{deep, "line 1: more than 32 lists or objects inside each other"},
		{`[]`, "a list, want an object"},
		{`null`, "null, want an object"},
		{`{"bore_mm": 86}`, "cylinders: missing"},
		{`{"bore_mm": "86", "cylinders": 4}`, "bore_mm: a text, want a number"},
		{`{"bore_mm": null, "cylinders": 4}`, "bore_mm: null, want a number"},
		{`{"bore_mm": -86, "cylinders": 4}`, "bore_mm: -86, want a number from 30 to 200"},
		{`{"bore_mm": 1e999, "cylinders": 4}`, "bore_mm: 1e999, want a number from 30 to 200"},
		{`{"bore_mm": 0.086, "cylinders": 4}`, "bore_mm: 0.086, want a number from 30 to 200"},
		{`{"bore_mm": 86, "cylinders": 4.5}`, "cylinders: 4.5, want a whole number from 1 to 12"},
		{`{"bore_mm": 86, "cylinders": 13}`, "cylinders: 13, want a whole number from 1 to 12"},
		{`{"Bore_mm": 86, "cylinders": 4}`, "Bore_mm: unknown field, it is written bore_mm"},
		{`{"bore_mm": 86, "cylinders": 4, "colour red": 1}`, `"colour red": unknown field`},
		{`{"bore_mm": 86, "cylinders": 4, "": 1}`, `"": unknown field`},
		{`{"bore_mm": 86, "bore_mm": 86, "cylinders": 4}`, "bore_mm: given twice"},
		{`{"bore_mm": 86, "cylinders": 4, "name": "toolong"}`, "name: 7 characters, at most 5"},
		{`{"bore_mm": 86, "cylinders": 4, "kind": "w"}`, `kind: "w", want one of inline, v`},
		{`{"bore_mm": 86, "cylinders": 4, "seed": 7}`, "seed: a number, want a text"},
		{`{"bore_mm": 86, "cylinders": 4, "seed": "007"}`, `seed: "007", want a whole number in quotes, from "0" to "18446744073709551615"`},
		{`{"bore_mm": 86, "cylinders": 4, "on": 1}`, "on: a number, want true or false"},
		{`{"bore_mm": 86, "cylinders": 4, "faults": [1,2,3,4]}`, "faults: 4 items, want 0 to 3"},
		{`{"bore_mm": 86, "cylinders": 4, "faults": [{"cylinder": 7}]}`, "faults[0].cylinder: 7, this engine has cylinders 1 to 4"},
		{`{"bore_mm": 86, "cylinders": 4, "faults": [{"cylinder": 1}, {"cylinder": 1, "area": 2}]}`, "faults[1].area: unknown field"},
	} {
		_, err := read(c.in)
		assert.EqualError(t, err, c.want, "%s", c.in)
	}
}

func TestIDs(t *testing.T) {
	id := func(s string) error {
		d, err := strict.Parse([]byte(s), 1000)
		require.NoError(t, err)
		d.Root().ID()
		return d.Err()
	}
	assert.NoError(t, id(`"inline-four-2.0"`))
	assert.EqualError(t, id(`""`), "empty, want a name")
	assert.EqualError(t, id(`"Año"`), `"Año", want small letters, digits, dashes, dots`)
}

// Whatever arrives is refused quickly and in few words.
func TestHugeInputIsRefusedQuicklyAndBriefly(t *testing.T) {
	for name, in := range map[string]string{
		"brackets over the limit":  strings.Repeat("[", 10<<20),
		"brackets within":          strings.Repeat("[", 1<<20),
		"objects within":           strings.Repeat(`{"a":`, 1<<17),
		"many doubled names":       `{` + strings.Repeat(`"a":1,`, 1<<17) + `"a":1}`,
		"a flat list":              `[` + strings.Repeat("0,", 1<<19-2) + `0]`,
		"one very long name":       `{"` + strings.Repeat("é", 1<<18) + `":1}`,
		"one very long number":     `{"bore_mm":` + strings.Repeat("9", 1<<19) + `,"cylinders":4}`,
		"one very long wrong kind": `{"bore_mm":86,"cylinders":4,"kind":"` + strings.Repeat("x", 1<<19) + `"}`,
	} {
		t.Run(name, func(t *testing.T) {
			start := time.Now()
			_, err := read(in)
			require.Error(t, err)
			assert.Less(t, len(err.Error()), 200)
			assert.NotContains(t, err.Error(), "\n")
			// Milliseconds; a reader of quadratic cost takes minutes. The rest is
			// patience with a busy machine.
			assert.Less(t, time.Since(start), 30*time.Second)
		})
	}
}

// An honest document is far below the number of values; one more is refused.
func TestValuesAreCounted(t *testing.T) {
	list := func(n int) string { return `[` + strings.Repeat("0,", n-2) + `0]` } // n values with the list itself
	_, err := strict.Parse([]byte(list(strict.MaxValues)), 1<<20)
	assert.NoError(t, err)
	_, err = strict.Parse([]byte(list(strict.MaxValues+1)), 1<<20)
	assert.EqualError(t, err, "line 1: more than 131072 values")
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{``, `{`, `{"bore_mm":86,"cylinders":4}`, `{"bore_mm":86,"bore_mm":1}`, `[[[]]]`, `{"faults":[{"cylinder":7}]}`, `1e999`, `"\ud800"`} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		if _, err := read(string(data)); err != nil {
			assert.Less(t, len(err.Error()), 400)
			assert.NotContains(t, err.Error(), "\n")
		}
	})
}
