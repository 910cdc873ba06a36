package opinion

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/diagnose/intake"
	"crankbay/diagnose/library"
	"crankbay/diagnose/reason"
)

// engines are readings of many kinds [psi], dry and, where it was tried, wet.
var engines = []struct{ dry, wet []float64 }{
	{[]float64{150, 151, 65, 149}, nil},
	{[]float64{150, 151, 65, 149}, []float64{163, 165, 72, 162}},
	{[]float64{142, 95, 145, 141}, []float64{156, 140, 160, 155}},
	{[]float64{140, 40, 42, 142}, nil},
	{[]float64{107, 60, 80, 105}, nil},
	{[]float64{105, 103, 106, 104}, nil},
	{[]float64{190, 181, 160, 185}, nil},
	{[]float64{150, 149, 205, 151}, nil},
	{[]float64{175, 172, 0, 174}, nil},
	{[]float64{95, 165, 71, 70}, []float64{120, 215, 90, 130}},
	{[]float64{172, 170, 174, 171}, nil},
	{[]float64{165, 165, 166, 98, 164, 166}, nil},
	{[]float64{60, 95, 45, 80}, []float64{120, 150, 110, 140}},
}

// table writes an engine as a table, its figures by a verb of fmt.
func table(dry, wet []float64, factor float64, verb string) string {
	var b strings.Builder
	b.WriteString("cylinder;dry;wet\n")
	for i, d := range dry {
		fmt.Fprintf(&b, "%d;"+verb+";", i+1, d*factor)
		if wet != nil {
			fmt.Fprintf(&b, verb, wet[i]*factor)
		}
		b.WriteByte('\n')
	}
	return b.String()
}

func said(pairs ...string) []intake.Said {
	var out []intake.Said
	for i := 0; i < len(pairs); i += 2 {
		out = append(out, intake.Said{Name: pairs[i], Value: pairs[i+1]})
	}
	return out
}

// apart returns the largest difference between the groups of two opinions.
func apart(a, b reason.Opinion) float64 {
	most := 0.0
	for _, x := range a.Groups {
		for _, y := range b.Groups {
			if x.Group == y.Group {
				most = math.Max(most, math.Abs(x.Probability-y.Probability))
			}
		}
	}
	return most
}

// The same readings in another unit, to about the same precision, say the same.
func TestUnitsDoNotMatter(t *testing.T) {
	for _, e := range engines {
		in := ask(t, table(e.dry, e.wet, 1, "%.0f"), said("unit", "psi", "layout", "inline")...)
		for _, u := range []struct {
			unit   string
			factor float64
			verb   string
		}{{"kPa", 6.894757, "%.0f"}, {"bar", 0.06894757, "%.2f"}, {"kgf/cm2", 0.0703070, "%.2f"}, {"MPa", 0.006894757, "%.3f"}} {
			o := ask(t, table(e.dry, e.wet, u.factor, u.verb), said("unit", u.unit, "layout", "inline")...)
			assert.Less(t, apart(in, o), 0.01, "%v in %s: %v, %v", e.dry, u.unit, in.Groups[:3], o.Groups[:3])
		}
	}
}

// A gauge that reads one in a hundred high, and a psi more or less here and there, don't
// turn anything round.
func TestSmallChangesAreSmall(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 7))
	for _, e := range engines {
		in := ask(t, table(e.dry, e.wet, 1, "%.0f"), said("unit", "psi", "layout", "inline")...)
		o := ask(t, table(e.dry, e.wet, 1.01, "%.2f"), said("unit", "psi", "layout", "inline")...)
		assert.Less(t, apart(in, o), 0.02, "%v a hundredth more: %v, %v", e.dry, in.Groups[:3], o.Groups[:3])
		for range 4 {
			dry := append([]float64(nil), e.dry...)
			for i := range dry {
				dry[i] = math.Max(0, dry[i]+float64(r.IntN(3)-1))
			}
			o = ask(t, table(dry, e.wet, 1, "%.0f"), said("unit", "psi", "layout", "inline")...)
			assert.Less(t, apart(in, o), 0.08, "%v and %v: %v, %v", e.dry, dry, in.Groups[:3], o.Groups[:3])
		}
	}
}

// Numbers are names: an engine whose cylinders are numbered otherwise, and whose bank map
// says so, is the same engine.
func TestNumbersAreNames(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 1))
	for _, e := range engines {
		n := len(e.dry)
		if sorted(e.dry) {
			continue
		}
		in := ask(t, table(e.dry, e.wet, 1, "%.0f"), said("unit", "psi", "banks", bankMap(identity(n)))...)
		p := r.Perm(n)
		dry, wet := make([]float64, n), make([]float64, n)
		for i, k := range p { // what was i is now k
			dry[k] = e.dry[i]
			if e.wet != nil {
				wet[k] = e.wet[i]
			}
		}
		if e.wet == nil {
			wet = nil
		}
		if sorted(dry) {
			continue
		}
		o := ask(t, table(dry, wet, 1, "%.0f"), said("unit", "psi", "banks", bankMap(p))...)
		assert.Less(t, apart(in, o), 1e-6, "%v as %v", e.dry, dry)
	}
}

// bankMap names where the cylinders stand: those of one row, in two banks for six.
func bankMap(p []int) string {
	var b strings.Builder
	for i, k := range p {
		switch {
		case i == len(p)/2:
			b.WriteByte('/')
		case i > 0:
			b.WriteByte('-')
		}
		fmt.Fprint(&b, k+1)
	}
	return b.String()
}

func identity(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = i
	}
	return out
}

// sorted reports whether readings fall in the order of their numbers, which says something.
func sorted(dry []float64) bool {
	for i := 1; i < len(dry); i++ {
		if dry[i] >= 0.99*dry[i-1] {
			return false
		}
	}
	return true
}

// An empty column, the same thing said in another way, and a remark change nothing.
func TestEmptyColumnsSayNothing(t *testing.T) {
	for _, e := range engines {
		text := table(e.dry, e.wet, 1, "%.0f")
		in := ask(t, text, said("unit", "psi", "layout", "inline")...)
		lines := strings.Split(strings.TrimSpace(text), "\n")
		for i := range lines {
			if i == 0 {
				lines[i] += ";leakage_percent;heard;first"
			} else {
				lines[i] += ";;;"
			}
		}
		o := ask(t, "# a remark\n"+strings.Join(lines, "\n"), said("unit", "psi", "layout", "inline")...)
		assert.Equal(t, in.Groups, o.Groups, "%v", e.dry)
		order := make([]string, len(e.dry))
		for i := range order {
			order[i] = fmt.Sprint(i + 1)
		}
		o = ask(t, text, said("unit", "psi", "banks", strings.Repeat("1,", len(e.dry)-1)+"1")...)
		assert.Less(t, apart(in, o), 0.02, "%v in one bank", e.dry)
	}
}

// First strokes that rise as those of a sound engine do change little, and one more healthy
// cylinder makes nobody change his mind.
func TestMoreOfTheSameChangesLittle(t *testing.T) {
	for _, e := range engines {
		in := ask(t, table(e.dry, e.wet, 1, "%.0f"), said("unit", "psi", "layout", "inline")...)
		healthy := 0.0
		for _, d := range e.dry {
			healthy = math.Max(healthy, d)
		}
		if e.wet != nil || healthy > 200 {
			continue
		}
		dry := append(append([]float64(nil), e.dry...), healthy-1)
		o := ask(t, table(dry, nil, 1, "%.0f"), said("unit", "psi", "layout", "inline")...)
		assert.Less(t, apart(in, o), 0.2, "%v and one more: %v, %v", e.dry, in.Groups[:4], o.Groups[:4]) // a pair stands out the more
		assert.Equal(t, in.Groups[0].Group, o.Groups[0].Group, "%v and one more", e.dry)
		var b strings.Builder
		b.WriteString("cylinder,dry,first\n")
		for i, d := range e.dry {
			fmt.Fprintf(&b, "%d,%.0f,%.0f\n", i+1, d, 0.62*d)
		}
		o = ask(t, b.String(), said("unit", "psi", "layout", "inline")...)
		assert.Less(t, apart(in, o), 0.15, "%v with first strokes: %v, %v", e.dry, in.Groups[:4], o.Groups[:4])
	}
}

// ask weighs the evidence of a text and of what was said beside it.
func ask(t *testing.T, text string, beside ...intake.Said) reason.Opinion {
	t.Helper()
	r, err := intake.Parse(text, beside...)
	require.NoError(t, err, text)
	lib, err := shelved()
	require.NoError(t, err)
	return reason.Weigh(lib, evidenceOf(r), reason.Priors{})
}

var shelved = sync.OnceValues(func() (*library.Library, error) {
	data, err := os.ReadFile("../../cmd/crankbay/internal/library/library.bin")
	if err != nil {
		return nil, err
	}
	return library.Open(data)
})
