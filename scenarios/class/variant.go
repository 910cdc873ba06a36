package class

import (
	"encoding/hex"
	"encoding/json"
	"fmt"
	"slices"

	"crankbay/diagnose"
	"crankbay/scenarios"
	"crankbay/scenarios/book"
	"crankbay/scenarios/code"
)

// candidates is how many variants are tried for one student before it is said that
// the scenario has none.
const candidates = 40

// A Variant is what one student gets.
type Variant struct {
	Student   Student
	Scenario  *scenarios.Scenario
	Candidate int            // how many before it did not show the pattern
	Dry, Wet  []book.Reading // by the book, as a person reads the dial; no Wet where the card has none
}

// A Lesson is what a scenario shows by the book, and every variant has to show too.
type Lesson struct {
	base     *scenarios.Scenario
	pattern  string
	suspects []int
	named    [2]bool // by the readings: the key is supported, is left open
	told     string  // pattern of the readings that come with the engine, when the method was another
	moves    []move
}

// Pattern names what the readings show, one of diagnose.Patterns.
func (l *Lesson) Pattern() string { return l.pattern }

// Settled tells whether dry and wet readings by the book support the key, or leave
// it open at least.
func (l *Lesson) Settled() (supported, open bool) { return l.named[0], l.named[1] }

// LessonOf works out what a scenario shows.
func LessonOf(s *scenarios.Scenario) (*Lesson, error) {
	l := &Lesson{base: s, moves: moves(s)}
	v := Variant{Scenario: s}
	j, told, err := v.test()
	if err != nil {
		return nil, fmt.Errorf("class: the scenario can't be tested by the book: %w", err)
	}
	l.pattern, l.suspects, l.told, l.named = j.Pattern, j.Suspects, told, standing(j, s.Key)
	return l, nil
}

// test does the dry test, and the wet one where there is one, and judges them.
func (v *Variant) test() (j diagnose.Judgement, told string, err error) {
	s := v.Scenario
	kind := book.Wet
	if s.Card.OilML == 0 {
		kind = book.Dry
	}
	r, err := book.Run(s, book.Options{Kind: kind, AsRead: true, ByCard: true})
	if err != nil {
		return j, "", err
	}
	if v.Dry, v.Wet = r.Readings, nil; kind == book.Wet {
		v.Dry, v.Wet = r.Dry, r.Readings
	}
	j = judge(s, r)
	if s.Method != nil {
		r, err := book.Run(s, book.Options{Kind: book.Dry, AsRead: true})
		if err != nil {
			return j, "", err
		}
		told = judge(s, r).Pattern
	}
	return j, told, nil
}

func judge(s *scenarios.Scenario, r book.Result) diagnose.Judgement {
	e := diagnose.Gather(s.Card, s.Engine.Cylinders, s.Engine.Banks, r.Record, r.Record.Tick+1)
	return diagnose.Judge(e, s.Card.Limits, s.Card.OilML > 0)
}

// standing tells whether the readings support the key, or one as good, and whether
// they leave it open.
func standing(j diagnose.Judgement, k diagnose.Key) (s [2]bool) {
	good := append([]diagnose.Finding{{Family: k.Family, Cylinders: k.Cylinders}}, k.Accept...)
	for i, list := range [][]diagnose.Finding{j.Supported, j.Open} {
		for _, f := range list {
			for _, g := range good {
				if f.Family == g.Family && (len(f.Cylinders) == 0 || len(g.Cylinders) == 0 || slices.Equal(f.Cylinders, g.Cylinders)) {
					s[i] = true
				}
			}
		}
	}
	return s
}

// Variant makes the variant of one student. The same class and student give the same
// variant on every machine; it doesn't depend on who else is on the roster.
func (c *Class) Variant(l *Lesson, s Student) (*Variant, error) {
	made := 0
	var why error // of the last that could not be made or tested
	for n := range candidates {
		v, m, err := c.candidate(l, s, n)
		if err != nil {
			why = err // outside a range somewhere: the next one
			continue
		}
		j, told, err := v.test()
		if err != nil {
			why = err
			continue
		}
		made++
		if j.Pattern == l.pattern && told == l.told && standing(j, v.Scenario.Key) == l.named && slices.Equal(j.Suspects, sorted(m.list(l.suspects))) {
			return v, nil
		}
	}
	if made == 0 {
		return nil, fmt.Errorf("class: %s: none of %d variants can be made: %w", s.Label(), candidates, why)
	}
	return nil, fmt.Errorf("class: %s: none of %d variants shows the pattern %q of the scenario; it may lie too near another one", s.Label(), candidates, l.pattern)
}

// candidate is the n-th one of a student, untried.
func (c *Class) candidate(l *Lesson, s Student, n int) (*Variant, move, error) {
	v, err := cloned(l.base)
	if err != nil {
		return nil, move{}, err
	}
	r := newChance(c.Secret, s, n)
	id := make([]byte, 8)
	for i := range id {
		id[i] = byte(r.next())
	}
	v.ID = prefix + hex.EncodeToString(id)[:idDigits]
	m := l.moves[r.below(len(l.moves))]
	m.apply(v)
	engineCopy(v, r)
	severity(v, r)
	if w := v.Work; w != nil {
		w.Minutes = minutesWith(w.Minutes, s.Extra)
	}
	if v, err = cloned(v); err != nil { // every number held against its range
		return nil, move{}, err
	}
	return &Variant{Student: s, Scenario: v, Candidate: n}, m, nil
}

func cloned(s *scenarios.Scenario) (*scenarios.Scenario, error) {
	data, err := json.Marshal(s)
	if err != nil {
		return nil, err
	}
	return scenarios.Decode(data)
}

// HandOut makes the set of a class, or, when it was made before, the very variants
// that were handed out, tested once more: nobody's link may change. The error says
// when one doesn't come out as it was. tell is called after each; nil is allowed.
func (c *Class) HandOut(tell func(done, of int)) ([]*Variant, error) {
	if len(c.Made) != len(c.Students) {
		return c.Set(tell)
	}
	all, err := c.Again()
	if err != nil {
		return nil, err
	}
	for i, v := range all {
		if _, _, err := v.test(); err != nil {
			return nil, fmt.Errorf("class: students[%d]: %w", i, err)
		}
		if tell != nil {
			tell(i+1, len(all))
		}
	}
	return all, nil
}

// Change gives a class that was handed out another roster: who comes late, who left,
// who gets more time, whose name was spelt otherwise. A student who was there before
// keeps the variant, as long as Fold takes both names for the same; what Extra says
// changes the time of it and nothing else. Nobody else's link changes. tell is called
// after each; nil is allowed.
func (c *Class) Change(students []Student, tell func(done, of int)) error {
	before := make(map[string]int, len(c.Made))
	if len(c.Made) == len(c.Students) {
		for i, s := range c.Students {
			before[Fold(s.Label())] = i
		}
	}
	next := *c
	next.Students, next.Made = students, make([]Made, len(students))
	if err := next.Check(); err != nil {
		return err
	}
	l, err := LessonOf(c.Scenario)
	if err != nil {
		return err
	}
	for i, s := range students {
		at, there := before[Fold(s.Label())]
		var v *Variant
		if there {
			v, err = c.as(l, at, s)
		} else {
			v, err = next.Variant(l, s)
		}
		if err != nil {
			return err
		}
		if next.Made[i] = (Made{Candidate: v.Candidate, Digest: v.Scenario.Digest()}); there {
			next.Made[i].after(c.Made[at], c.Students[at], s)
		}
		if tell != nil {
			tell(i+1, len(students))
		}
	}
	if !slices.Equal(students, c.Students) {
		next.Revision++
	}
	*c = next
	return nil
}

// after notes what was another before.
func (m *Made) after(was Made, then, now Student) {
	m.Earlier = slices.Clone(was.Earlier)
	if then.Extra != now.Extra && !slices.Contains(m.Earlier, then.Extra) {
		m.Earlier = append(m.Earlier, then.Extra)
	}
	drawn := was.drawn(then)
	if drawn.Name != now.Name || drawn.ID != now.ID {
		m.As = Student{Name: drawn.Name, ID: drawn.ID}
	}
}

// drawn is the student a variant was drawn for, as written then.
func (m Made) drawn(s Student) Student {
	if m.As != (Student{}) {
		s.Name, s.ID = m.As.Name, m.As.ID
	}
	return s
}

// as makes the variant that student at was given, for what is said of that student now.
func (c *Class) as(l *Lesson, at int, now Student) (*Variant, error) {
	made := c.Made[at]
	drawn := made.drawn(c.Students[at])
	v, _, err := c.candidate(l, drawn, made.Candidate)
	if err != nil {
		return nil, fmt.Errorf("class: students[%d]: %w", at, err)
	}
	if d := v.Scenario.Digest(); d != made.Digest {
		return nil, fmt.Errorf("class: students[%d]: the variant handed out had the digest %s, this program makes %s: the class was made by another version, or the file was changed", at, made.Digest, d)
	}
	if now.Extra != drawn.Extra {
		drawn.Extra = now.Extra
		if v, _, err = c.candidate(l, drawn, made.Candidate); err != nil {
			return nil, fmt.Errorf("class: students[%d]: %w", at, err)
		}
	}
	v.Student = now
	return v, nil
}

// Set makes the variants of all students in the order of the roster, and notes in
// Made what it made. tell is called after each; nil is allowed.
func (c *Class) Set(tell func(done, of int)) ([]*Variant, error) {
	if err := c.Check(); err != nil {
		return nil, err
	}
	l, err := LessonOf(c.Scenario)
	if err != nil {
		return nil, err
	}
	all, made := make([]*Variant, len(c.Students)), make([]Made, len(c.Students))
	for i, s := range c.Students {
		if all[i], err = c.Variant(l, s); err != nil {
			return nil, err
		}
		made[i] = Made{Candidate: all[i].Candidate, Digest: all[i].Scenario.Digest()}
		if tell != nil {
			tell(i+1, len(c.Students))
		}
	}
	c.Made = made
	return all, nil
}

// Again makes the variants once more as they were noted, without trying them: it
// takes no time, and Dry and Wet stay empty. A class whose set was never made is made
// now. The error says when a variant doesn't come out as it was.
func (c *Class) Again() ([]*Variant, error) {
	if len(c.Made) != len(c.Students) {
		return c.Set(nil)
	}
	if err := c.Check(); err != nil {
		return nil, err
	}
	l := &Lesson{base: c.Scenario, moves: moves(c.Scenario)}
	all := make([]*Variant, len(c.Students))
	for i, s := range c.Students {
		v, err := c.as(l, i, s)
		if err != nil {
			return nil, err
		}
		all[i] = v
	}
	return all, nil
}

// Assignment is what the student's link carries.
func (c *Class) Assignment(v *Variant) *code.Assignment {
	return &code.Assignment{Scenario: v.Scenario, Mode: c.Mode, Who: v.Student.Label(), Class: c.Name, Seal: c.Seal}
}
