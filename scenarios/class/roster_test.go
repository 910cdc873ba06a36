package class_test

import (
	"bytes"
	"encoding/csv"
	"os"
	"strconv"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/scenarios/class"
)

func students(pairs ...string) (all []class.Student) {
	for i := 0; i < len(pairs); i += 2 {
		all = append(all, class.Student{Name: pairs[i], ID: pairs[i+1]})
	}
	return all
}

func TestRostersOfEveryKind(t *testing.T) {
	for name, c := range map[string]struct {
		text string
		want []class.Student
	}{
		"pasted":               {"Ana Núñez\n  José   Peña \n\nLi Wei\n", students("Ana Núñez", "", "José Peña", "", "Li Wei", "")},
		"one":                  {"Ana", students("Ana", "")},
		"carriage returns":     {"Ana\rLuz\r", students("Ana", "", "Luz", "")},
		"commas, headings":     {"Name,Student ID\nAna Núñez,0017\n\"Peña, José\",0018\n", students("Ana Núñez", "0017", "Peña, José", "0018")},
		"semicolons, Spanish":  {"Matrícula;Apellidos;Nombres\n17;Núñez Ávila;Ana\n18;Peña;José\n", students("Ana Núñez Ávila", "17", "José Peña", "18")},
		"decimal commas apart": {"Nombre;Promedio\nAna;8,5\nLuz;9,25\n", students("Ana", "", "Luz", "")},
		"tabs":                 {"Last Name\tFirst Name\tSection\nDoe\tPat\tA\nRoe\tSam\tA\n", students("Pat Doe", "", "Sam Roe", "")},
		"no headings, id":      {"4711,Ana\n4712,Luz\n", students("Ana", "4711", "Luz", "4712")},
		"no headings, id last": {"Ana,4711\nLuz,4712\n", students("Ana", "4711", "Luz", "4712")},
		"family, given":        {"Núñez, Ana\nPeña, José\n", students("Núñez, Ana", "", "Peña, José", "")},
		"numbers only":         {"1001\n1002\n", students("1001", "", "1002", "")},
		"a line of a comma":    {"Ana\n,\n ; \nLuz", students("Ana", "", "Luz", "")},
		"byte order mark":      {"\ufeffStudent,ID\nAna,1\n", students("Ana", "1")},
		"same name, other id":  {"name,id\nAna,1\nAna,2\n", students("Ana", "1", "Ana", "2")},
		"Windows-1252":         {"Nombre;Matr\xedcula\nAna N\xfa\xf1ez;1\nZo\xeb \x96 x;2", students("Ana Núñez", "1", "Zoë – x", "2")},
		"UTF-16":               {utf16le("Alumno;Clave\r\nÁngel;a1\r\n"), students("Ángel", "a1")},
		"more cells than name": {"Name,ID,Email\nAna,7,ana@school.example,x\n", students("Ana", "7")},
	} {
		got, err := class.ReadRoster([]byte(c.text))
		if assert.NoError(t, err, name) {
			assert.Equal(t, c.want, got, name)
		}
	}
}

func TestRosterWithExtraTime(t *testing.T) {
	for _, text := range []string{
		"Name,ID,Extra time\nAna,1,50\nLuz,2,\n", "Nombre;Matrícula;Tiempo extra\nAna;1;50 %\nLuz;2\n", "Extra time %,student,id\n50%,Ana,1\n0,Luz,2\n",
	} {
		got, err := class.ReadRoster([]byte(text))
		require.NoError(t, err)
		assert.Equal(t, []class.Student{{Name: "Ana", ID: "1", Extra: 50}, {Name: "Luz", ID: "2"}}, got, text)
	}
}

func utf16le(s string) string {
	out := []byte{0xff, 0xfe}
	for _, u := range utf16.Encode([]rune(s)) {
		out = append(out, byte(u), byte(u>>8))
	}
	return string(out)
}

func TestRostersThatCannotBeUsed(t *testing.T) {
	for text, want := range map[string]string{
		"":                          "class: roster: empty: there is no name in it",
		" \n ,, \n":                 "class: roster: empty: there is no name in it",
		"name,id\n":                 "class: roster: headings and no names below",
		"name,id\nAna,1\n,2\n":      "class: roster: line 3: no name",
		"Ana\nLuz\nANÁ\n":           `class: roster: line 3: "ANÁ" stands in line 1 too; add a column id to tell them apart`,
		"x\n" + manyNames(600):      "class: roster: 601 students, at most 600",
		"Ana\n" + long(101):         "class: roster: line 2: 101 characters, at most 100",
		"name,extra\nAna,yes\n":     `class: roster: line 2: extra time "yes", want percent from 0 to 300, such as 50`,
		"name,extra\nAna,301\n":     `class: roster: line 2: extra time "301", want percent from 0 to 300, such as 50`,
		"id,name\n12,\"" + long(97): "class: roster: line 2: 102 characters, at most 100",
	} {
		_, err := class.ReadRoster([]byte(text))
		assert.EqualError(t, err, want)
	}
	_, err := class.ReadRoster(make([]byte, class.MaxBytes+1))
	assert.ErrorContains(t, err, "at most")
}

func long(n int) string { return strings.Repeat("ñ", n) }

func manyNames(n int) string {
	var b strings.Builder
	for i := range n {
		b.WriteString("s")
		b.WriteString(strings.Repeat("a", i/26))
		b.WriteByte(byte('a' + i%26))
		b.WriteByte('\n')
	}
	return b.String()[:b.Len()]
}

// Names are recognised however they are typed, and different ones stay different.
func TestFold(t *testing.T) {
	for _, same := range [][]string{
		{"María-José Núñez", "maria jose nunez", " MARÍA  JOSÉ NÚÑEZ ", "Mari\u0301a Jose\u0301 Nun\u0303ez"},
		{"O'Brien, Pat", "obrien pat", "O’Brien Pat."},
		{"Łukasz Groß", "lukasz gross"}, {"李伟", " 李伟"}, {"Ana (17)", "ana 17"},
	} {
		for _, s := range same {
			assert.Equal(t, class.Fold(same[0]), class.Fold(s), s)
		}
	}
	assert.NotEqual(t, class.Fold("Ana"), class.Fold("Anna"))
	assert.NotEqual(t, class.Fold("Ana 1"), class.Fold("Ana 2"))
}

func FuzzReadRoster(f *testing.F) {
	f.Add([]byte("Name,ID\nAna,1\n\"Peña, José\";2\n"))
	f.Add([]byte("\xff\xfea\x00"))
	f.Fuzz(func(t *testing.T, data []byte) {
		all, err := class.ReadRoster(data)
		if err != nil {
			require.Nil(t, all)
			require.NotContains(t, err.Error(), "\n")
			return
		}
		require.NotEmpty(t, all)
		for _, s := range all {
			require.NotEmpty(t, s.Name)
			require.LessOrEqual(t, len([]rune(s.Label())), class.MaxName)
		}
	})
}

// However a letter is encoded, the name is the same. Source: Unicode2021.
func TestFoldKnowsBothFormsOfALetter(t *testing.T) {
	data, err := os.ReadFile("../../testdata/vectors/accents.csv")
	require.NoError(t, err)
	rows, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
	require.NoError(t, err)
	require.Greater(t, len(rows), 500)
	text := func(list string) string {
		var b strings.Builder
		for _, x := range strings.Fields(list) {
			n, err := strconv.ParseUint(x, 16, 32)
			require.NoError(t, err)
			b.WriteRune(rune(n))
		}
		return b.String()
	}
	for _, row := range rows[1:] {
		one, other := text(row[0]), text(row[1])
		assert.Equal(t, class.Fold(one), class.Fold(other), row[0])
	}
	assert.Equal(t, "nguyen thi hue", class.Fold("NGUYỄN Thị Huệ "))
}

// No name turns the line it stands in.
func TestNamesDoNotTurnTheLine(t *testing.T) {
	got, err := class.ReadRoster([]byte("\u202egnp.exe\u2066\nمر\u200fيم\n"))
	require.NoError(t, err)
	assert.Equal(t, students("gnp.exe", "", "مريم", ""), got)
}
