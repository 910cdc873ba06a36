package class_test

import (
	"cmp"
	"encoding/json"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/scenarios"
	"crankbay/scenarios/book"
	"crankbay/scenarios/class"
	"crankbay/scenarios/code"
)

func classOf(t testing.TB, id string, n int) *class.Class {
	t.Helper()
	s := scenarios.Find(id)
	require.NotNil(t, s, id)
	c := &class.Class{Name: "Auto 2", Secret: []byte("a secret of some length"), Mode: "grade", Scenario: s}
	for i := range n {
		c.Students = append(c.Students, class.Student{Name: fmt.Sprintf("Student %d", i+1)})
	}
	return c
}

func set(t testing.TB, c *class.Class) []*class.Variant {
	t.Helper()
	all, err := c.Set(nil)
	require.NoError(t, err)
	require.Len(t, all, len(c.Students))
	return all
}

// The stream behind a variant, worked out by another program, Python's hmac (Krawczyk1997).
func TestTheHashIsHMACSHA256(t *testing.T) {
	want := []uint64{0x0e469796f3fd3172, 0x6fc6a80a40789d9b, 0xd5fa39bdc8c48972, 0xd454928870224a98, 0x387e653560a10a8a}
	assert.Equal(t, want, class.Stream([]byte("a secret of some length"), class.Student{Name: "Ana Núñez", ID: "17"}, 3, 5))
}

// A variant is a function of secret and student and of nothing else.
func TestTheSameStudentGetsTheSameVariant(t *testing.T) {
	c := classOf(t, "burnt-exhaust-inline-four", 3)
	one := set(t, c)
	c.Students = append([]class.Student{{Name: "Somebody new"}}, c.Students[2], c.Students[1])
	again := set(t, c)
	assert.Equal(t, one[2].Scenario, again[1].Scenario)
	assert.Equal(t, one[1].Scenario, again[2].Scenario)
	c.Secret = []byte("another secret, not that one")
	assert.NotEqual(t, one[1].Scenario.Digest(), set(t, c)[2].Scenario.Digest())
	c.Students[2].ID = "7"
	assert.NotEqual(t, one[1].Scenario.Digest(), set(t, c)[2].Scenario.Digest())
}

// Nobody can use another one's readings: no two are alike, and some are of another
// cylinder; what is wrong keeps its kind.
func TestNoTwoVariantsReadAlike(t *testing.T) {
	c := classOf(t, "burnt-exhaust-inline-four", 12)
	l, err := class.LessonOf(c.Scenario)
	require.NoError(t, err)
	supported, open := l.Settled()
	assert.True(t, supported && open)
	assert.Equal(t, "one_low", l.Pattern())
	cylinders := map[int]int{}
	ids, digests, readings := map[string]bool{}, map[string]bool{}, map[string]bool{}
	for _, v := range set(t, c) {
		s := v.Scenario
		require.Len(t, s.Faults, 1)
		assert.Equal(t, c.Scenario.Faults[0].Kind, s.Faults[0].Kind)
		assert.Equal(t, c.Scenario.Key.Family, s.Key.Family)
		assert.Equal(t, []int{s.Faults[0].Cylinder}, s.Key.Cylinders)
		cylinders[s.Faults[0].Cylinder]++
		ratio := s.Faults[0].AreaMM2 / c.Scenario.Faults[0].AreaMM2
		assert.True(t, ratio > 0.8 && ratio < 1.25, ratio)
		ids[s.ID], digests[s.Digest()], readings[fmt.Sprint(v.Dry)] = true, true, true
		assert.Regexp(t, "^job-[0-9a-f]{12}$", s.ID, "an id tells nothing")
		low := slices.MinFunc(v.Dry, func(a, b book.Reading) int { return cmp.Compare(a.FinalPSI, b.FinalPSI) })
		assert.Equal(t, s.Faults[0].Cylinder, low.Cylinder)
	}
	assert.Len(t, ids, 12)
	assert.Len(t, digests, 12)
	assert.Len(t, readings, 12)
	assert.Greater(t, len(cylinders), 2, "%v", cylinders)
}

// Neighbours stay neighbours, a bank stays a bank, and the key follows.
// A page reads a scenario as JSON and writes it again, and then a zero has no sign: the
// same scenario has to come out of that.
func TestVariantsSurviveAPagesJSON(t *testing.T) {
	c := classOf(t, "burnt-exhaust-inline-four", 0)
	c.Secret = []byte("\x00\x11\x22\x33\x44\x55\x66\x77\x88\x99\xaa\xbb\xcc\xdd\xee\xff")
	c.Students = []class.Student{{Name: "Student Aa", ID: "100"}} // whose second gauge comes out at minus nothing
	v := set(t, c)[0].Scenario
	assert.Zero(t, v.Tools.Gauges[1].ZeroErrorPSI)
	data, err := v.Encode()
	require.NoError(t, err)
	assert.NotRegexp(t, `-0[,\]}\s]`, string(data))
	signed := strings.Replace(string(data), `"zero_error_psi": 0,`, `"zero_error_psi": -0,`, 1)
	require.NotEqual(t, string(data), signed)
	again, err := scenarios.Decode([]byte(signed))
	require.NoError(t, err)
	assert.Equal(t, v.Digest(), again.Digest())
}

func TestWhereAFaultCanGo(t *testing.T) {
	for id, want := range map[string]string{
		"gasket-inline-four":         "[1 2] [2 3] [3 4]",
		"gasket-neighbors-v8":        "[1 3] [2 4] [3 5] [4 6] [5 7] [6 8]",
		"burnt-exhaust-v6":           "[1] [2] [3] [4] [5] [6]",
		"bank-two-late-v6":           "[1 3 5] [2 4 6]",
		"carbon-inline-four":         "[1] [2] [3] [4]",
		"timing-late-inline-four":    "[]",
		"sound-inline-four":          "[]",
		"weak-battery-inline-four":   "[]",
		"all-rings-worn-inline-four": "[]",
	} {
		assert.Equal(t, want, strings.Join(class.Places(scenarios.Find(id)), " "), id)
	}
	// A text that names the cylinder holds it there.
	s := *scenarios.Find("burnt-exhaust-v6")
	for _, text := range []string{"Code for a misfire on cylinder 5.", "Marca falla en el cilindro 5.", "Misses on #5",
		"The third cylinder is dead.", "The 3rd cylinder was rebuilt.", "Cylinder number three.", "Coil on 3 swapped.", "El cilindro tres no trabaja.",
		"Se rectificó el 3.er cilindro.", "Cilindro núm. 3.", "Bujía del tercer cilindro."} {
		s.Complaint.EN = text
		assert.Equal(t, []string{"[5]"}, class.Places(&s), text)
	}
	for _, text := range []string{"A 3 cylinder engine.", "It has 60000 miles on it.", "Second owner, new plugs in spring.", "Two cylinders of oil were drained."} {
		s.Complaint.EN = text
		assert.Greater(t, len(class.Places(&s)), 1, text)
	}
}

// A set that was handed out comes out again as it was, or not at all.
func TestHandedOutAgain(t *testing.T) {
	c := classOf(t, "burnt-exhaust-inline-four", 3)
	one, err := c.HandOut(nil)
	require.NoError(t, err)
	made := slices.Clone(c.Made)
	steps := 0
	again, err := c.HandOut(func(done, of int) { steps++; assert.Equal(t, 3, of) })
	require.NoError(t, err)
	assert.Equal(t, 3, steps)
	assert.Equal(t, made, c.Made)
	for i := range one {
		assert.Equal(t, one[i].Scenario, again[i].Scenario)
		assert.Equal(t, one[i].Dry, again[i].Dry)
	}
	c.Made[1].Candidate++ // as if another version had chosen another
	_, err = c.HandOut(nil)
	assert.ErrorContains(t, err, "students[1]: the variant handed out had the digest")
	assert.Equal(t, made[1].Digest, c.Made[1].Digest, "what was noted stays")
}

// When no variant can be made at all, the reason is told.
func TestWhyNoVariantCanBeMade(t *testing.T) {
	c := classOf(t, "burnt-exhaust-inline-four", 1)
	own := *c.Scenario
	c.Scenario = &own
	l, err := class.LessonOf(c.Scenario)
	require.NoError(t, err)
	own.Title = scenarios.Text{}
	_, err = c.Variant(l, c.Students[0])
	assert.ErrorContains(t, err, "can be made: ")
	assert.ErrorContains(t, err, "title")
}

// The set goes out as links that open as what was made.
func TestAnswersAndLinks(t *testing.T) {
	c := classOf(t, "gasket-inline-four", 3)
	c.Students[1] = class.Student{Name: "María-José Núñez", ID: "A-17"}
	vs := set(t, c)
	answers, err := c.Answers(vs)
	require.NoError(t, err)
	for i, a := range answers {
		job, err := code.ReadLink("https://school.example/#" + a.Link)
		require.NoError(t, err)
		assert.Equal(t, vs[i].Scenario, job.Scenario)
		assert.Equal(t, vs[i].Scenario.ID, a.Variant)
		assert.Equal(t, c.Students[i].Label(), job.Who)
		assert.Equal(t, "grade", job.Mode)
		assert.Equal(t, "Auto 2", job.Class)
		assert.Len(t, a.Dry, 4)
		assert.Len(t, a.Wet, 4)
	}
	assert.Equal(t, "María-José Núñez (A-17)", answers[1].Who)
}

// A scenario on the edge of another pattern has no class set, and says so.
func TestAScenarioOnTheEdge(t *testing.T) {
	c := classOf(t, "burnt-exhaust-inline-four", 1)
	s := *c.Scenario
	s.Faults = slices.Clone(s.Faults)
	s.Faults[0].AreaMM2 = 0.0001 // sound, by the gauge
	c.Scenario = &s
	l, err := class.LessonOf(&s)
	require.NoError(t, err)
	supported, open := l.Settled()
	assert.False(t, supported || open, "the evidence can't settle it")
	_, err = c.Set(nil)
	assert.NoError(t, err, "every variant shows the same nothing")
}

func TestTheClassFile(t *testing.T) {
	c := classOf(t, "sound-single", 2)
	c.Seal, c.Students[0].ID = "a-public-key", "17"
	data, err := c.Encode()
	require.NoError(t, err)
	back, err := class.Decode(data)
	require.NoError(t, err)
	assert.Equal(t, c, back)
	made := set(t, c)
	data, err = c.Encode()
	require.NoError(t, err)
	back, err = class.Decode(data)
	require.NoError(t, err)
	again, err := back.Again()
	require.NoError(t, err)
	for i := range made {
		assert.Equal(t, made[i].Scenario, again[i].Scenario)
	}
	back.Secret = []byte("some other secret")
	_, err = back.Again()
	assert.ErrorContains(t, err, "class: students[0]: the variant handed out had the digest")
	whole := string(data)
	for _, x := range []struct{ old, new, want string }{
		{`"kind": "class"`, `"kind": "room"`, `class: kind: "room", want one of class`},
		{`"format": 1`, `"format": 2`, "class: format: written in format 2, this program reads format 1"},
		{`"mode": "grade"`, `"mode": "easy"`, `class: mode: "easy", want one of reasons, alone, grade`},
		{`"id": "17"`, `"number": "17"`, "class: students[0].number: unknown field"},
		{`"name": "Student 2"`, `"name": ""`, "class: students[1]: no name"},
		{`"name": "Student 2"`, `"name": "STUDENT 1", "id": "17"`, `class: students[1]: "STUDENT 1 (17)" is students[0] too; tell them apart by an id`},
		{`"secret": "`, `"secret": "zz`, "class: secret: want 32 to 64 hexadecimal digits"},
		{`"secret": "612073656372657420`, `"secret": "`, "class: secret: want 32 to 64 hexadecimal digits"},
		{`"bore_mm": `, `"bore_mm": 9`, "class: scenario: engine.bore_mm"},
	} {
		require.Contains(t, whole, x.old)
		_, err := class.Decode([]byte(strings.Replace(whole, x.old, x.new, 1)))
		assert.ErrorContains(t, err, x.want)
	}
	_, err = class.Decode(nil)
	assert.ErrorContains(t, err, "class: empty")
	for want, bad := range map[string]*class.Class{
		"no scenario": {}, "a secret of 0 bytes": {Scenario: c.Scenario},
		"no students":  {Scenario: c.Scenario, Secret: c.Secret},
		"601 students": {Scenario: c.Scenario, Secret: c.Secret, Students: make([]class.Student, 601)},
	} {
		assert.ErrorContains(t, bad.Check(), want)
	}
}

func FuzzDecode(f *testing.F) {
	data, err := classOf(f, "sound-single", 2).Encode()
	require.NoError(f, err)
	f.Add(data)
	f.Fuzz(func(t *testing.T, data []byte) {
		c, err := class.Decode(data)
		if err != nil {
			require.NotContains(t, err.Error(), "\n")
			return
		}
		out, err := c.Encode()
		require.NoError(t, err)
		back, err := class.Decode(out)
		require.NoError(t, err)
		assert.Equal(t, c, back)
	})
}

// Every scenario of the catalogue can be given to a class. SOAK tries more students.
func TestTheCatalogueMakesClasses(t *testing.T) {
	n, every := 1, 4
	if os.Getenv("SOAK") != "" {
		n, every = 12, 1
	}
	for i, s := range scenarios.Catalogue() {
		if i%every != 0 {
			continue
		}
		for _, v := range set(t, classOf(t, s.ID, n)) {
			assert.Less(t, v.Candidate, 20, s.ID)
			data, err := json.Marshal(v.Scenario)
			require.NoError(t, err)
			assert.NotContains(t, string(data), s.ID, "the id of the scenario would tell")
		}
	}
}

func BenchmarkVariant(b *testing.B) {
	c := classOf(b, "burnt-exhaust-inline-four", 1)
	l, err := class.LessonOf(c.Scenario)
	require.NoError(b, err)
	for b.Loop() {
		_, err := c.Variant(l, c.Students[0])
		require.NoError(b, err)
	}
}

// Extra time makes a student's minutes longer and nothing else another; the class file
// keeps it, and a change behind the set's back is noticed.
func TestExtraTime(t *testing.T) {
	c := classOf(t, "burnt-exhaust-inline-four", 3)
	own := *c.Scenario
	own.Work = &scenarios.Work{Minutes: 45}
	c.Scenario = &own
	plain := set(t, c)
	c.Students[1].Extra = 50
	c.Tags = []string{"Compression test: perform, decide", "Ñ"}
	with := set(t, c)
	assert.Equal(t, []float64{45, 68, 45}, []float64{with[0].Scenario.Work.Minutes, with[1].Scenario.Work.Minutes, with[2].Scenario.Work.Minutes}, "45 minutes and a half more, a whole minute begun")
	assert.Equal(t, plain[0].Scenario, with[0].Scenario)
	assert.Equal(t, plain[1].Scenario.Faults, with[1].Scenario.Faults)
	assert.Equal(t, plain[1].Dry, with[1].Dry)
	assert.InDelta(t, 45, own.Work.Minutes, 0, "the scenario stays as it was")

	answers, err := c.Answers(with)
	require.NoError(t, err)
	assert.Equal(t, []int{0, 50, 0}, []int{answers[0].Extra, answers[1].Extra, answers[2].Extra})
	assert.InDelta(t, 68, answers[1].Minutes, 0)
	data, err := c.Encode()
	require.NoError(t, err)
	back, err := class.Decode(data)
	require.NoError(t, err)
	assert.Equal(t, c, back)
	back.Students[1].Extra = 100
	_, err = back.Again()
	assert.ErrorContains(t, err, "students[1]: the variant handed out had the digest")

	for want, change := range map[string]func(*class.Class){
		"students[0]: extra time of 301 %, want 0 to 300": func(c *class.Class) { c.Students[0].Extra = 301 },
		"students[0]: extra time of -1 %, want 0 to 300":  func(c *class.Class) { c.Students[0].Extra = -1 },
		"13 task tags, at most 12":                        func(c *class.Class) { c.Tags = slices.Repeat([]string{"a"}, 13) },
		"tags[1]: 0 characters":                           func(c *class.Class) { c.Tags = []string{"a", ""} },
		"tags[0]: 81 characters":                          func(c *class.Class) { c.Tags = []string{strings.Repeat("ñ", 81)} },
	} {
		bad := classOf(t, "burnt-exhaust-inline-four", 1)
		change(bad)
		assert.ErrorContains(t, bad.Check(), want)
	}
}

// Who comes late, leaves, or gets more time changes nobody else's link.
func TestChangeKeepsLinks(t *testing.T) {
	c := classOf(t, "burnt-exhaust-inline-four", 3)
	timed := *c.Scenario
	timed.Work = &scenarios.Work{Minutes: 60}
	c.Scenario = &timed
	before := set(t, c)
	late := class.Student{Name: "Late"}
	longer := c.Students[2]
	longer.Extra = 50
	require.NoError(t, c.Change([]class.Student{longer, c.Students[0], late}, nil))
	data, err := c.Encode()
	require.NoError(t, err)
	again, err := class.Decode(data)
	require.NoError(t, err)
	assert.Equal(t, c.Students, again.Students)
	after, err := again.Again()
	require.NoError(t, err)
	assert.Equal(t, before[0].Scenario, after[1].Scenario)
	assert.Equal(t, before[0].Candidate, after[1].Candidate)
	assert.Equal(t, late, after[2].Student)
	assert.Equal(t, 90.0, after[0].Scenario.Work.Minutes)
	assert.Equal(t, 60.0, timed.Work.Minutes, "the scenario stays as it was")
	after[0].Scenario.Work.Minutes = 60
	assert.Equal(t, before[2].Scenario, after[0].Scenario, "more time and nothing else")
	assert.ErrorContains(t, c.Change(nil, nil), "no students")
	c.Made[1].Digest = "0000000000000000" // of another version of the program
	was := *c
	assert.ErrorContains(t, c.Change(append(slices.Clone(c.Students), class.Student{Name: "Later still"}), nil), "made by another version", "or links would change unseen")
	assert.Equal(t, was, *c)
	timed.Work.Modes = []string{"alone"}
	assert.ErrorContains(t, c.Check(), `mode "grade", which the scenario doesn't allow`)
	timed.Work.Modes = nil
	assert.Len(t, c.Students, 3, "a change that fails changes nothing")
}

// A corrected spelling is no other student: the engine stays, and so does a hand-in under
// the old one. Another name is another student.
func TestChangeOfSpellingKeepsTheEngine(t *testing.T) {
	c := classOf(t, "burnt-exhaust-inline-four", 2)
	c.Students[0] = class.Student{Name: "ana nunez", ID: "a7"}
	before := set(t, c)
	require.NoError(t, c.Change([]class.Student{{Name: "Nu\u0301n\u0303ez, Ana"}, c.Students[1]}, nil), "another one")
	assert.NotEqual(t, before[0].Scenario.ID, again(t, c)[0].Scenario.ID)

	c = classOf(t, "burnt-exhaust-inline-four", 2)
	c.Students[0] = class.Student{Name: "ana nunez", ID: "a7"}
	before = set(t, c)
	for i, now := range []class.Student{{Name: "Ana Núñez", ID: "A7"}, {Name: "Ana Nu\u0301n\u0303ez ", ID: "A7", Extra: 25}, {Name: "ana nunez", ID: "a7"}} {
		require.NoError(t, c.Change([]class.Student{c.Students[1], now}, nil))
		c.Students[0], c.Students[1], c.Made[0], c.Made[1] = c.Students[1], c.Students[0], c.Made[1], c.Made[0]
		data, err := c.Encode()
		require.NoError(t, err)
		c, err = class.Decode(data)
		require.NoError(t, err)
		after := again(t, c)
		assert.Equal(t, before[0].Scenario, after[0].Scenario, i)
		assert.Equal(t, now.Label(), after[0].Student.Label())
		assert.Equal(t, i+1, c.Revision, "the newer file is known for it")
	}
	assert.Zero(t, c.Made[0].As, "written as it was at first")
	require.NoError(t, c.Change(slices.Clone(c.Students), nil))
	assert.Equal(t, 3, c.Revision, "nothing was changed")
}

func again(t testing.TB, c *class.Class) []*class.Variant {
	t.Helper()
	all, err := c.Again()
	require.NoError(t, err)
	return all
}

// The extra time a student had stays in the class file, so that work handed out with it is
// still known; nobody can add one that was never given.
func TestEarlierExtraTime(t *testing.T) {
	c := classOf(t, "burnt-exhaust-inline-four", 1)
	own := *c.Scenario
	own.Work = &scenarios.Work{Minutes: 60}
	c.Scenario = &own
	set(t, c)
	for _, extra := range []int{25, 50, 25, 100} {
		require.NoError(t, c.Change([]class.Student{{Name: "Student 1", Extra: extra}}, nil))
	}
	assert.Equal(t, []int{0, 25, 50}, c.Made[0].Earlier)
	var minutes []float64
	for _, s := range c.Earlier(0, again(t, c)[0].Scenario) {
		minutes = append(minutes, s.Work.Minutes)
	}
	assert.Equal(t, []float64{60, 60, 75, 90}, minutes)
}
