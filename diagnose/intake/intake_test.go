package intake_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/diagnose"
	"crankbay/diagnose/intake"
)

// psiOf and the others are the definitions of the units, in Pa: NIST SP 811,
// appendix B.
const (
	psiOf = 6894.757
	barOf = 1e5
	kgfOf = 98066.5
)

// A reading is field and cylinder, in the unit of its case.
func flat(r intake.Readings, per float64) string {
	var out []string
	for _, c := range r.Cylinders {
		for _, x := range []struct {
			name string
			v    *float64
		}{{"dry", c.Dry}, {"first", c.First}, {"wet", c.Wet}, {"again", one(c.Repeats)}} {
			if x.v != nil {
				out = append(out, fmt.Sprintf("%s%d=%.4g", x.name, c.Number, *x.v/per))
			}
		}
		if c.Leakage != nil {
			out = append(out, fmt.Sprintf("leak%d=%g", c.Number, *c.Leakage))
		}
		for _, h := range c.Heard {
			out = append(out, fmt.Sprintf("heard%d=%s", c.Number, h))
		}
	}
	return strings.Join(out, " ")
}

func one(list []float64) *float64 {
	if len(list) == 0 {
		return nil
	}
	return &list[0]
}

const four = "dry1=150 dry2=151 dry3=65 dry4=149"

// understood lists how people write four readings down, and what they mean. unit is
// what the readings come in, guess whether nobody said so.
var understood = []struct {
	text  string
	unit  string
	per   float64
	guess bool
	want  string
}{
	{"150,151,65,149", "psi", psiOf, true, four},
	{"150 151 65 149", "psi", psiOf, true, four},
	{"150, 151, 65, 149 psi", "psi", psiOf, false, four},
	{"150/151/65/149", "psi", psiOf, true, four},
	{"150-151-65-149", "psi", psiOf, true, four},
	{"150\n151\n65\n149\n", "psi", psiOf, true, four},
	{"1 150\n2 151\n3 65\n4 149", "psi", psiOf, true, four},
	{"1 150 2 151 3 65 4 149", "psi", psiOf, true, four},
	{"1: 150\r\n2: 151\r\n3: 65\r\n4: 149", "psi", psiOf, true, four},
	{"1) 150 psi 2) 151 3) 65 4) 149", "psi", psiOf, false, four},
	{"1:150,2:151,3:65,4:149", "psi", psiOf, true, four},
	{"cyl 1: 150, cyl 2: 151, cyl 3: 65, cyl 4: 149", "psi", psiOf, true, four},
	{"#1 150 #2 151 #3 65 #4 149", "psi", psiOf, true, four},
	{"n. 1 = 150 lb, n. 2 = 151 lb, n. 3 = 65 lb, n. 4 = 149 lb", "psi", psiOf, false, four},
	{"Cyl no. 1 - 150psi\nCyl no. 2 - 151psi\nCyl no. 3 - 65psi\nCyl no. 4 - 149psi", "psi", psiOf, false, four},
	{"dry 150 151 65 149", "psi", psiOf, true, four},
	{"dry\n150\n151\n65\n149", "psi", psiOf, true, four},
	{"psi\n150\n151\n65\n149", "psi", psiOf, false, four},
	{"unit: psi\n150 151 65 149", "psi", psiOf, false, four},
	{"cylinders 1 2 3 4\ndry 150 151 65 149", "psi", psiOf, true, four},
	{"cylinder,1,2,3,4\ndry,150,151,65,149", "psi", psiOf, true, four},
	{"cylinder,dry\n1,150\n2,151\n3,65\n4,149\n", "psi", psiOf, true, four},
	{"cylinder,dry_psi\n4,149\n3,65\n2,151\n1,150\n", "psi", psiOf, false, four},
	{"Cylinder\tDry (psi)\n1\t150\n2\t151\n3\t65\n4\t149", "psi", psiOf, false, four},
	{"| Cyl | PSI |\n|-----|-----|\n| 1 | 150 |\n| 2 | 151 |\n| 3 | 65 |\n| 4 | 149 |", "psi", psiOf, false, four},
	{"\ufeffsep=;\ncylinder;dry\n1;150\n2;151\n3;65\n4;149", "psi", psiOf, true, four},
	{"dry;unit\n150;psi\n151;psi\n65;psi\n149;psi", "psi", psiOf, false, four},
	{"# from the job sheet\ncyl dry\n1 150\n2 151\n3 65\n4 149", "psi", psiOf, true, four},

	{"10,5 10,4 4,5 10,3", "bar", barOf, true, "dry1=10.5 dry2=10.4 dry3=4.5 dry4=10.3"},
	{"10.5,10.4,4.5,10.3", "bar", barOf, true, "dry1=10.5 dry2=10.4 dry3=4.5 dry4=10.3"},
	{"10,5; 10,4; 4,5; 10,3 bar", "bar", barOf, false, "dry1=10.5 dry2=10.4 dry3=4.5 dry4=10.3"},
	{"cil 1: 10,5 kg/cm², cil 2: 4,5 kg/cm²", "kgf/cm²", kgfOf, false, "dry1=10.5 dry2=4.5"},
	{"10.5 kg, 4.5 kg", "kgf/cm²", kgfOf, false, "dry1=10.5 dry2=4.5"},
	{"10.5 kgf/cm2 4.5 kgf/cm2", "kgf/cm²", kgfOf, false, "dry1=10.5 dry2=4.5"},
	{"1,034 1,020 0,980 1,010", "MPa", 1e6, true, "dry1=1.034 dry2=1.02 dry3=0.98 dry4=1.01"},
	{"0.95 MPa 1.02 MPa", "MPa", 1e6, false, "dry1=0.95 dry2=1.02"},
	{"1.034; 987; 1.010; 300", "kPa", 1e3, true, "dry1=1034 dry2=987 dry3=1010 dry4=300"},
	{"1,034 kPa; 987 kPa", "kPa", 1e3, false, "dry1=1034 dry2=987"},
	{"1034 987 1010 300", "kPa", 1e3, true, "dry1=1034 dry2=987 dry3=1010 dry4=300"},
	{"cylinder;dry;wet\n1;10,5;11,2\n2;10,4;\n", "bar", barOf, true, "dry1=10.5 wet1=11.2 dry2=10.4"},
	{"cylinder,dry,wet\n1,\"10,5\",\"11,2\"\n2,\"10,4\",\n", "bar", barOf, true, "dry1=10.5 wet1=11.2 dry2=10.4"},
	{"dry: 11 bar, 150 psi", "bar", barOf, false, "dry1=11 dry2=10.34"},

	{"cylinder,dry,wet,first,leakage_percent,heard\n1,150,,80,5,\n2,151,160,,,nowhere\n3,65,90,40,45,tailpipe\n4,,,,,", "psi", psiOf, true,
		"dry1=150 first1=80 leak1=5 dry2=151 wet2=160 heard2=nowhere dry3=65 first3=40 wet3=90 leak3=45 heard3=tailpipe"},
	{"Cilindro;En seco (psi);Con aceite;Primera;Fuga %;Se oye\n1;150;160;80;5;\n2;65;90;;45;escape y tapón de aceite", "psi", psiOf, false,
		"dry1=150 first1=80 wet1=160 leak1=5 dry2=65 wet2=90 leak2=45 heard2=tailpipe heard2=oil_filler"},
	{"dry: 150 151 65 149\nwet: - - 90 -", "psi", psiOf, true, "dry1=150 dry2=151 dry3=65 wet3=90 dry4=149"},
	{"dry 150 151 65 149 wet 160 160 90 155", "psi", psiOf, true, "dry1=150 wet1=160 dry2=151 wet2=160 dry3=65 wet3=90 dry4=149 wet4=155"},
	{"cyl 3 dry 65 wet 90", "psi", psiOf, true, "dry3=65 wet3=90"},
	{"150 151 65 149\nwet 3: 90\nleakage 3: 45 %\nheard 3: exhaust", "psi", psiOf, true,
		"dry1=150 dry2=151 dry3=65 wet3=90 leak3=45 heard3=tailpipe dry4=149"},
	{"150,,65,149", "psi", psiOf, true, "dry1=150 dry3=65 dry4=149"},
	{"150, -, 65, n/a, 149", "psi", psiOf, true, "dry1=150 dry3=65 dry5=149"},
	{"150\t\t65\t149", "psi", psiOf, true, "dry1=150 dry3=65 dry4=149"},
	{"0,0,0,0", "psi", psiOf, false, "dry1=0 dry2=0 dry3=0 dry4=0"},
	{"132/135, 135, 109/125, 135", "psi", psiOf, true, "dry1=132 again1=135 dry2=135 dry3=109 again3=125 dry4=135"},
	{"cylinder;dry\n1;132/135\n2;about 135\n3;120-130\n4;200+", "psi", psiOf, true, "dry1=132 again1=135 dry2=135 dry3=125 dry4=200"},
	{"cyl\tstroke 1\tstroke 2\tstroke 3\n1\t80\t120\t150\n2\t40\t60\t65", "psi", psiOf, true, "dry1=150 first1=80 dry2=65 first2=40"},
	{"150,151", "psi", psiOf, true, "dry1=150 dry2=151"},
}

func TestUnderstood(t *testing.T) {
	for _, c := range understood {
		t.Run(c.text, func(t *testing.T) {
			r, err := intake.Parse(c.text)
			require.NoError(t, err)
			assert.Equal(t, c.unit, r.Unit)
			assert.Equal(t, c.guess, r.Guessed)
			assert.Equal(t, c.want, flat(r, c.per))
			checkReadings(t, r)
		})
	}
}

// refused lists what gets one sentence instead of an answer, and where it points.
var refused = []struct {
	text string
	key  string
	line int
	col  int
}{
	{"", intake.ErrNothing, 0, 0},
	{"-5 150 150", intake.ErrRange, 1, 1}, // no bullet and no blank
	{"160 psi on 1, 2 and 4, 90 on 3", intake.ErrPair, 1, 9},
	{"150 151 65 149\nthrottle purple", intake.ErrWord, 2, 1},
	{"\n \n# nothing here\n", intake.ErrNothing, 0, 0},
	{"ratio: 9.5", intake.ErrNothing, 0, 0},
	{"one hundred fifty", intake.ErrWord, 1, 1},
	{"Cylinder 3 reads 65, the others about 150", intake.ErrWord, 1, 12},
	{"compressed: 5", intake.ErrName, 1, 1},
	{"10,5", intake.ErrComma, 1, 1},
	{"95,70", intake.ErrComma, 0, 0}, // two readings, the comma can't be decimal: see below
	{"10,5,10,4", intake.ErrComma, 1, 1},
	{"1.034,5,1.020,3", intake.ErrComma, 1, 1},
	{"155-165", intake.ErrDash, 1, 1},
	{"1 150", intake.ErrPair, 1, 1},
	{"150 151\n65 149", intake.ErrTwoLists, 2, 1},
	{"cyl 3: 65 90", intake.ErrTwoReadings, 1, 11},
	{"cyl 2 and 3: 60", intake.ErrCylinderBare, 1, 11},
	{"cyl 17: 150", intake.ErrCylinder, 1, 5},
	{"cyl: 150", intake.ErrCylinder, 1, 1},
	{"150 150 150 150 150 150 150 150 150 150 150 150 150 150 150 150 150", intake.ErrTooMany, 1, 65},
	{"20 20 20 20", intake.ErrUnitNeeded, 1, 1},
	{"400 400", intake.ErrUnitNeeded, 1, 1},
	{"5000 5000", intake.ErrUnitNeeded, 1, 1},
	{"1 2 1 2", intake.ErrUnitNeeded, 1, 1},
	{"unit: psi\n900 150", intake.ErrRange, 2, 1},
	{"unit: bar\n150 151", intake.ErrRange, 2, 1},
	{"unit: furlong\n150 151", intake.ErrUnitUnknown, 1, 6},
	{"cylinder,dry\n1,10,5", intake.ErrCellsComma, 2, 6},
	{"cylinder;dry\n1;150;151", intake.ErrCells, 2, 7},
	{"cylinder,dry,wet\n1,10,5\n2,10,4", intake.ErrComma, 2, 6},
	{"cylinder dry wet\n1 150", intake.ErrCellsBlank, 2, 1},
	{"cylinder,dry\n1,15o", intake.ErrNumber, 2, 3},
	{"cylinder,dry\n1,-5", intake.ErrRange, 2, 3},
	{"cylinder,dry,horsepower\n1,150,90", intake.ErrColumn, 1, 14},
	{"cylinder,dry,dry\n1,150,150", intake.ErrTwice, 1, 14},
	{"cylinder,dry\n1,150\n1,151", intake.ErrTwice, 3, 3},
	{"cylinder,dry\naverage,150", intake.ErrCylinder, 2, 1},
	{"cylinder,dry\n1,\"150", intake.ErrQuote, 2, 3},
	{"cylinder,dry,leakage_percent\n1,150,120", intake.ErrRange, 2, 7},
	{"cylinder,dry,leakage_percent\n1,150,5 psi", intake.ErrUnitUnknown, 2, 7},
	{"cylinder,dry,heard\n1,150,the radio", intake.ErrHeard, 2, 7},
	{"cylinder,first,dry\n1,150,60", intake.ErrFirstAbove, 2, 3},
	{"cylinder,dry,bank\n1,150,1\n2,151,", intake.ErrBanks, 2, 7},
	{"150 151\nratio: 95", intake.ErrRange, 2, 7},
	{"150 151\nratio: high", intake.ErrNumber, 2, 7},
	{"150 151\nlayout: round", intake.ErrValue, 2, 8},
	{"150 151\nvacuum: 15", intake.ErrUnitUnknown, 2, 8},
	{"150 151\nfiring order: 1-1", intake.ErrFiringOrder, 2, 14},
	{"150 151\nbanks: 1/3", intake.ErrBanks, 2, 7},
	{"150 151\nhistory: cursed", intake.ErrHistory, 2, 9},
	{"150 151\nthrottle: maybe", intake.ErrValue, 2, 10},
	{"150 151\ncylinders: 1", intake.ErrTooMany, 2, 11},
	{"150 151\nstated: throttle, moon", intake.ErrValue, 2, 8},
	{"150 \x01 151", intake.ErrWord, 1, 5},
	{"a\x00b", intake.ErrNotText, 0, 0},
	{strings.Repeat("1", intake.MaxBytes+1), intake.ErrTooLong, 0, 0},
	{"150\n" + strings.Repeat("psi ", 1001), intake.ErrTooLong, 2, 1},
	{strings.Repeat("150\n", 401), intake.ErrTooLong, 401, 1},
}

func TestRefused(t *testing.T) {
	for _, c := range refused {
		t.Run(short(c.text), func(t *testing.T) {
			if c.text == "95,70" {
				r, err := intake.Parse(c.text)
				require.NoError(t, err)
				assert.Equal(t, "dry1=95 dry2=70", flat(r, psiOf))
				return
			}
			r, err := intake.Parse(c.text)
			require.Error(t, err, flat(r, psiOf))
			var e *intake.Error
			require.True(t, errors.As(err, &e))
			assert.Equal(t, c.key, e.Key, "%v", err)
			assert.Equal(t, c.line, e.Line, "%v", err)
			assert.Equal(t, c.col, e.Column, "%v", err)
			assert.NotContains(t, err.Error(), "\n")
			checkError(t, err)
		})
	}
}

func short(s string) string { return s[:min(len(s), 40)] }

// Every key of an error is met somewhere above; one that can't happen is dead.
func TestEveryErrorCanHappen(t *testing.T) {
	met := map[string]bool{}
	for _, c := range refused {
		met[c.key] = true
	}
	for _, key := range intake.Errors() {
		assert.True(t, met[key], key)
	}
}

// What was decided is told; what is plain is not.
func TestNotes(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"cylinder,dry_psi\n1,150\n2,151", ""},
		{"150,151,65,149", "as_dry in_order unit_guessed"},
		{"150,151", "commas_part as_dry in_order unit_guessed"},
		{"10,5 10,4 psi", "decimal_comma as_dry in_order"},
		{"1 150\n2 151", "as_dry pairs unit_guessed"},
		{"cylinder;dry_kPa\n1;1,034", "thousands"},
		{"cylinder;dry lb\n1;150", "unit_meant"},
		{"cylinder;dry_psi;note\n1;150;loose plug", "not_used"},
		{"cylinder;dry_psi\n1;about 150\n2;120-130\n3;150/155", "about middle repeats"},
		{"psi\n150\n160", "as_dry in_order"},
		{"layout: v\ndry: 150 150 150 150 psi", "in_order banks_guessed"},
		{"layout: v\nbanks: 1,2,1,2\ndry: 150 150 150 150 psi", "in_order"},
		{"cilindro;h\xfamedo psi\n1;150", "characters"},
	} {
		r, err := intake.Parse(c.text)
		require.NoError(t, err, c.text)
		var got []string
		for _, n := range r.Notes {
			got = append(got, n.Key)
		}
		assert.Equal(t, c.want, strings.Join(got, " "), c.text)
	}
}

// A guess of the unit says what it rests on.
func TestGuessSaysWhy(t *testing.T) {
	r, err := intake.Parse("10.5 10.4 4.5 10.3")
	require.NoError(t, err)
	last := r.Notes[len(r.Notes)-1]
	assert.Equal(t, intake.Note{Key: intake.NoteUnitGuessed, Unit: "bar", Value: 10.5}, last)
}

func TestEngine(t *testing.T) {
	r, err := intake.Parse(strings.Join([]string{
		"layout: V", "banks: 1-3-5-7/2-4-6-8", "firing order: 1-8-4-3-6-5-7-2", "ratio: 9,5:1"[:len("ratio: 9,5")], "altitude: 5000 ft", "minimum: 100 psi",
		"standard: 11 bar", "rpm: 250", "volts: 10.1", "coolant: 185 F", "vacuum: 15 inHg", "throttle: open", "warm: no", "plugs: out",
		"strokes: 5", "history: misfire, oil_used", "", "200, 198, 185, 35, 190, 0, 195, 200 psi",
	}, "\n"))
	require.NoError(t, err)
	e := r.Engine
	assert.Equal(t, "v", e.Layout)
	assert.Equal(t, [][]int{{1, 3, 5, 7}, {2, 4, 6, 8}}, r.Banks())
	assert.Equal(t, []int{1, 8, 4, 3, 6, 5, 7, 2}, e.FiringOrder)
	for _, x := range []struct {
		name string
		got  *float64
		want float64
		off  float64
	}{
		{"ratio", e.Ratio, 9.5, 0},
		{"altitude", e.AltitudeM, 1524, 1e-9}, // 5,000 international feet
		{"minimum", e.Minimum, 100 * psiOf, 1},
		{"standard", e.Standard, 11 * barOf, 0},
		{"rpm", e.SpeedRPM, 250, 0},
		{"volts", e.BatteryV, 10.1, 0},
		{"coolant", e.CoolantC, 85, 1e-9},        // (185 − 32)/1.8
		{"vacuum", e.Vacuum, 15 * 3386.389, 0.1}, // inch of mercury at 0 °C, NIST SP 811
		{"strokes", r.Cylinders[7].Count, 5, 0},
	} {
		require.NotNil(t, x.got, x.name)
		assert.InDelta(t, x.want, *x.got, x.off, x.name)
	}
	assert.Equal(t, []string{intake.Yes, intake.No, intake.Yes, intake.Yes}, []string{e.Throttle, e.Warm, e.Plugs, e.Equal})
	assert.Equal(t, []string{"misfire", "burns_oil"}, e.History)
	assert.Nil(t, e.Difference)
}

// What is said beside the text reads like a line of it, and is named in trouble.
func TestSaidBeside(t *testing.T) {
	r, err := intake.Parse("10.5 10.4", intake.Said{Name: "unit", Value: "kg/cm2"}, intake.Said{Name: "stated", Value: "throttle,warm,plugs=no"},
		intake.Said{Name: "cylinders", Value: "4"}, intake.Said{Name: "ratio", Value: " "})
	require.NoError(t, err)
	assert.Equal(t, "kgf/cm²", r.Unit)
	assert.False(t, r.Guessed)
	assert.Len(t, r.Cylinders, 4)
	assert.Equal(t, []string{intake.Yes, intake.Yes, intake.No, ""}, []string{r.Engine.Throttle, r.Engine.Warm, r.Engine.Plugs, r.Engine.Equal})
	assert.Nil(t, r.Engine.Ratio)

	_, err = intake.Parse("10.5 10.4", intake.Said{Name: "altitude", Value: "9000"})
	assert.EqualError(t, err, `altitude: range: "9000"`)
	_, err = intake.Parse("unit: psi\n150", intake.Said{Name: "unit", Value: "psi"})
	assert.EqualError(t, err, `unit: twice: "unit"`)
}

// What was looked at, and what the engine did.
func TestLooks(t *testing.T) {
	r, err := intake.Parse("cylinder;dry_psi;bore;dead;heard\n1;150;limpio;no\n3;65;scored;yes;oil filler + radiator\ncooling: falls\ntwo-stroke: no\nlash_intake_spec: 0.2\nlash intake 3: 0.05\nbore 2: hole\n")
	require.NoError(t, err)
	assert.Equal(t, []string{"clean", "hole", "scored"}, []string{r.Cylinders[0].Bore, r.Cylinders[1].Bore, r.Cylinders[2].Bore})
	assert.Equal(t, []string{"no", "", "yes"}, []string{r.Cylinders[0].Dead, r.Cylinders[1].Dead, r.Cylinders[2].Dead})
	assert.Equal(t, []string{"oil_filler", "coolant_neck"}, r.Cylinders[2].Heard)
	assert.Equal(t, []string{intake.Yes, intake.No}, []string{r.Engine.Cooling, r.Engine.TwoStroke})
	assert.Equal(t, []float64{0.2, 0.05}, []float64{*r.Engine.LashInSpec, *r.Cylinders[2].LashIn})
}

// What is missing stays missing.
func TestMissingStaysMissing(t *testing.T) {
	r, err := intake.Parse("cylinder,dry_psi,wet_psi,first_psi,leakage_percent,heard\n1,,,,,\n3,65,,,,")
	require.NoError(t, err)
	require.Len(t, r.Cylinders, 3)
	for _, c := range r.Cylinders[:2] {
		assert.Nil(t, c.Dry)
	}
	c := r.Cylinders[2]
	assert.NotNil(t, c.Dry)
	assert.Nil(t, c.Wet)
	assert.Nil(t, c.First)
	assert.Nil(t, c.Leakage)
	assert.Empty(t, c.Heard)
	assert.Nil(t, r.Banks())
}

// A reading of a unit and the same reading of another unit are one pressure.
func TestUnitsAgree(t *testing.T) {
	var first float64
	for i, text := range []string{"150 psi", "1034.2 kPa", "10.342 bar", "10.546 kg/cm²", "1.0342 MPa", "150 lb/in²", "10,55 kgf/cm2"} {
		r, err := intake.Parse("cyl 1: " + text)
		require.NoError(t, err, text)
		if i == 0 {
			first = *r.Cylinders[0].Dry
		}
		assert.InEpsilon(t, first, *r.Cylinders[0].Dry, 5e-4, text)
	}
}

func BenchmarkParseOneLine(b *testing.B) {
	for range b.N {
		if _, err := intake.Parse("150 151 65 149"); err != nil {
			b.Fatal(err)
		}
	}
}

// The longest text that isn't refused for its length takes bounded time.
func BenchmarkParseLongest(b *testing.B) {
	for _, line := range []string{"cylinder,dry", strings.Repeat("psi ", 999), strings.Repeat("1 ", 1999), strings.Repeat("x", 4000), strings.Repeat("dry ", 999)} {
		text := strings.Repeat(line+"\n", min(400, intake.MaxBytes/(len(line)+1)))
		b.Run(short(line), func(b *testing.B) {
			for range b.N {
				_, _ = intake.Parse(text)
			}
		})
	}
}

// A row that names a cylinder and gives nothing of it is a cylinder of the engine, last
// ones included.
func TestRowsWithoutReadingsAreCylinders(t *testing.T) {
	r, err := intake.Parse("cylinder,dry_psi,wet_psi\n1,0,\n2,0,\n3,0,\n4,,\n5,,\n6,,\n")
	require.NoError(t, err)
	require.Len(t, r.Cylinders, 6)
	assert.NotNil(t, r.Cylinders[2].Dry)
	assert.Nil(t, r.Cylinders[5].Dry, "missing is not nothing")
}

// How it was measured may be said in words, on lines of their own or in a flag.
func TestConditionsInWords(t *testing.T) {
	for _, c := range []struct{ text, throttle, warm, plugs string }{
		{"150 151 65 149 psi\nthrottle not open", intake.No, "", ""},
		{"throttle was wide open, engine cold\n150 151 65 149 psi", intake.Yes, intake.No, ""},
		{"all plugs out and engine warm\n150 151 65 149 psi", "", intake.Yes, intake.Yes},
		{"motor caliente y mariposa cerrada\n150 151 65 149 psi", intake.No, intake.Yes, ""},
	} {
		r, err := intake.Parse(c.text)
		require.NoError(t, err, c.text)
		e := r.Engine
		assert.Equal(t, []string{c.throttle, c.warm, c.plugs}, []string{e.Throttle, e.Warm, e.Plugs}, c.text)
		assert.Len(t, r.Cylinders, 4, c.text)
	}
	r, err := intake.Parse("150 151 65 149 psi", intake.Said{Name: "stated", Value: "throttle not open, hot, plugs_out"}, intake.Said{Name: "ratio", Value: "9.5:1"},
		intake.Said{Name: "layout", Value: "flat-four"})
	require.NoError(t, err)
	e := r.Engine
	assert.Equal(t, []string{intake.No, intake.Yes, intake.Yes, "flat"}, []string{e.Throttle, e.Warm, e.Plugs, e.Layout})
	require.NotNil(t, e.Ratio)
	assert.InDelta(t, 9.5, *e.Ratio, 0)
}

// Places may stand one behind the other.
func TestPlacesInARow(t *testing.T) {
	r, err := intake.Parse("cyl,leakage,heard\n1,8,\n2,95,throttle tailpipe\n3,40,oil filler and exhaust")
	require.NoError(t, err)
	assert.Equal(t, []string{diagnose.HeardThrottle, diagnose.HeardTailpipe}, r.Cylinders[1].Heard)
	assert.Equal(t, []string{diagnose.HeardFiller, diagnose.HeardTailpipe}, r.Cylinders[2].Heard)
}
