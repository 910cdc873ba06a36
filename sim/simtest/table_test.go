package simtest_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/sim/simtest"
)

const good = `# source: NACA1135
# digits: 4
# mark: recalled
# note: one
# note: two
name,M,p_pt
a,0.10,0.9930
b,1.00,5e-1
`

func TestParse(t *testing.T) {
	tab, err := simtest.Parse([]byte(good))
	require.NoError(t, err)
	assert.Equal(t, "NACA1135", tab.Source)
	assert.Equal(t, 4, tab.Digits)
	assert.Equal(t, simtest.MarkRecalled, tab.Mark)
	assert.Equal(t, "one\ntwo", tab.Note)
	assert.Equal(t, []string{"name", "M", "p_pt"}, tab.Columns)
	assert.Equal(t, []string{"a", "b"}, tab.Names)
	assert.Equal(t, []float64{0.993, 0.5}, tab.Column("p_pt"))
	assert.InEpsilon(t, 0.01, tab.Unit(0, "M"), 1e-12)
	assert.InEpsilon(t, 0.0001, tab.Unit(0, "p_pt"), 1e-12)
	assert.InEpsilon(t, 0.1, tab.Unit(1, "p_pt"), 1e-12, "one unit of 5 in 5e-1")
	row, ok := tab.Name("b")
	assert.True(t, ok)
	assert.Equal(t, 1.0, row["M"])
	_, ok = tab.Name("c")
	assert.False(t, ok)
	assert.Panics(t, func() { tab.Column("Mach") })
	assert.Panics(t, func() { tab.Unit(0, "name") })
}

func TestParseRejects(t *testing.T) {
	for _, c := range []struct{ name, from, to, want string }{
		{"unknown key", "# note: one", "# author: one", `line 4: unknown header key "author"`},
		{"no colon", "# note: one", "# one", `line 4: header "# one", want "# key: value"`},
		{"no source", "# source: NACA1135\n", "", "no source"},
		{"empty source", "NACA1135", "", `line 1: header "# source: ", want "# key: value"`},
		{"a sentence for a source", "NACA1135", "some book", `line 1: source "some book", want one key of SOURCES.md`},
		{"two sources", "# note: one", "# source: Other", `line 4: source "Other", want one key of SOURCES.md`},
		{"no digits", "# digits: 4\n", "", "line 6: M = 0.10 has more than -1 decimals"},
		{"odd digits", "digits: 4", "digits: four", `line 2: digits "four", want one whole number from 0 to 17`},
		{"odd mark", "recalled", "guessed", `line 3: mark "guessed", want read, recalled or computed`},
		{"hole", "0.10,", ",", `line 7: M = "" is not a finite number`},
		{"text", "0.10", "high", `line 7: M = "high" is not a finite number`},
		{"not a number", "0.10", "NaN", `line 7: M = "NaN" is not a finite number`},
		{"infinite", "0.10", "1e999", `line 7: M = "1e999" is not a finite number`},
		{"short row", "b,1.00,5e-1", "b,1.00", "line 8: 2 cells under 3 columns"},
		{"too precise", "0.9930", "0.99304", "line 7: p_pt = 0.99304 has more than 4 decimals"},
		{"same name", "b,1.00", "a,1.00", `line 8: name "a" is empty or taken`},
		{"same column", "M,p_pt", "M,M", `line 6: two columns are called "M"`},
		{"spaced column", "M,p_pt", "M, p_pt", `line 6: column 3 is called " p_pt"`},
		{"name in the middle", "name,M,p_pt", "M,name,p_pt", "line 6: column name must be the first"},
		{"late header", "b,1.00,5e-1", "# note: late", "line 8: 1 cells under 3 columns"},
		{"no rows", "a,0.10,0.9930\nb,1.00,5e-1\n", "", "no rows"},
	} {
		text := strings.Replace(good, c.from, c.to, 1)
		require.NotEqual(t, good, text, c.name)
		_, err := simtest.Parse([]byte(text))
		assert.EqualError(t, err, c.want, c.name)
	}
}

func FuzzParse(f *testing.F) {
	f.Add([]byte(good))
	f.Add([]byte("# source: A\n# digits: 0\nx\n1\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		tab, err := simtest.Parse(data)
		if err != nil {
			return
		}
		for _, c := range tab.Columns {
			if c != "name" {
				assert.Len(t, tab.Column(c), len(tab.Rows))
				assert.Positive(t, tab.Unit(0, c))
			}
		}
	})
}
