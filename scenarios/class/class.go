package class

import (
	"encoding/hex"
	"encoding/json"
	"fmt"
	"math"

	"crankbay/scenarios"
	"crankbay/scenarios/attempt"
	"crankbay/scenarios/strict"
)

// Format is the version of the class file.
const Format = 1

// Bounds of a class.
const (
	MaxStudents = 600
	MaxName     = 100     // characters
	MaxBytes    = 4 << 20 // of a class file
	SecretBytes = 32      // as many as the hash gives
	leastSecret = 16      // fewer can be guessed
	maxTitle    = 60      // characters
	maxSeal     = 100     // characters
	MaxExtra    = 300     // extra time [%]
	maxTags     = 12
	maxTag      = 80 // characters
	maxRevision = 1 << 30
	prefix      = "job-"  // of the id of every variant
	idDigits    = 12      // of it, hexadecimal
	kindOfFile  = "class" // so that no other file is taken for one
)

// A Class is one assignment for one group: what the instructor keeps. Whoever has
// the secret can work out every answer.
type Class struct {
	Name     string   // as students see it, at most 60 characters
	Secret   []byte   // 16 to 32 bytes by chance, made once
	Mode     string   // one of attempt.Modes, or empty: the student chooses
	Seal     string   // public key that hand-ins are sealed to, or empty
	Tags     []string // the instructor's own names of the tasks it covers, at most 12 of 80 characters; they claim nothing
	Scenario *scenarios.Scenario
	Students []Student
	Made     []Made // one beside each student once the set was made, else none
	Revision int    // how often the roster was changed after the set was made: of two files, the higher is the newer
}

// Made says which variant a student was given, so that it can be made again without
// trying it once more.
type Made struct {
	Candidate int
	Digest    string  // of the variant
	As        Student // name and id it was drawn for, when they were written otherwise then; else empty
	Earlier   []int   // extra time the student had before [%], each once, in the order it was given
}

// A Student is one line of a roster. Two students differ in name or id.
type Student struct {
	Name string `json:"name"`         // at most 100 characters
	ID   string `json:"id,omitempty"` // of the school's own, may be empty

	// Extra is what the student gets beyond the minutes of the job [%], 0 to 300: 50
	// is time and a half. Without a limit of time it is only told.
	Extra int `json:"extra_time,omitempty"`
}

// Label is how the student is named on links, attempts and lists.
func (s Student) Label() string {
	if s.ID == "" {
		return s.Name
	}
	return s.Name + " (" + s.ID + ")"
}

// fileText is how a class is written.
type fileText struct {
	Kind     string              `json:"kind"`
	Format   int                 `json:"format"`
	Name     string              `json:"name"`
	Secret   string              `json:"secret"`
	Mode     string              `json:"mode"`
	Seal     string              `json:"seal"`
	Tags     []string            `json:"tags,omitempty"`
	Revision int                 `json:"revision,omitempty"`
	Students []studentText       `json:"students"`
	Scenario *scenarios.Scenario `json:"scenario"`
}

type studentText struct {
	Student
	Candidate int    `json:"candidate,omitempty"`
	Digest    string `json:"digest,omitempty"`
	Earlier   []int  `json:"earlier_extra_time,omitempty"`
	As        *asWas `json:"drawn_as,omitempty"`
}

// asWas is how a student was called when the variant was drawn.
type asWas struct {
	Name string `json:"name"`
	ID   string `json:"id,omitempty"`
}

// Encode returns the class as a file that Decode reads back equal.
func (c *Class) Encode() ([]byte, error) {
	list := make([]studentText, len(c.Students))
	for i, s := range c.Students {
		list[i].Student = s
		if len(c.Made) == len(c.Students) {
			m := c.Made[i]
			list[i].Candidate, list[i].Digest, list[i].Earlier = m.Candidate, m.Digest, m.Earlier
			if m.As != (Student{}) {
				list[i].As = &asWas{m.As.Name, m.As.ID}
			}
		}
	}
	return json.MarshalIndent(fileText{
		kindOfFile, Format, c.Name, hex.EncodeToString(c.Secret), c.Mode, c.Seal, c.Tags, c.Revision, list, c.Scenario,
	}, "", "  ")
}

// Decode reads a class file. The error is one sentence that names the place.
func Decode(data []byte) (*Class, error) {
	doc, err := strict.Parse(data, MaxBytes)
	if err != nil {
		return nil, fmt.Errorf("class: %w", err)
	}
	c := &Class{}
	o := doc.Root().Object()
	o.Need("kind").OneOf(kindOfFile)
	if v := o.Need("format"); v.Present() {
		if n := v.Int(1, 1<<30); n > Format {
			v.Fail("written in format %d, this program reads format %d", n, Format)
		}
	}
	c.Name = o.Need("name").Text(maxTitle)
	c.Secret = secret(o.Need("secret"))
	if m := o.Need("mode"); m.Text(20) != "" {
		c.Mode = m.OneOf(attempt.Modes()...)
	}
	c.Seal = o.Need("seal").Text(maxSeal)
	if t := o.May("tags"); t.Present() {
		for _, v := range t.List(0, maxTags) {
			c.Tags = append(c.Tags, v.Text(maxTag))
		}
	}
	if r := o.May("revision"); r.Present() {
		c.Revision = int(r.Int(0, maxRevision))
	}
	for _, v := range o.Need("students").List(1, MaxStudents) {
		c.student(v)
	}
	o.Need("scenario")
	o.Close()
	if err := doc.Err(); err != nil {
		return nil, fmt.Errorf("class: %w", err)
	}
	var inner struct {
		Scenario json.RawMessage `json:"scenario"`
	}
	if err := json.Unmarshal(data, &inner); err != nil {
		return nil, fmt.Errorf("class: %w", err)
	}
	if c.Scenario, err = scenarios.Decode(inner.Scenario); err != nil {
		return nil, fmt.Errorf("class: scenario: %w", err)
	}
	return c, c.Check()
}

// student reads one line of the roster, with what was made for it.
func (c *Class) student(v strict.Value) {
	o := v.Object()
	s := Student{Name: o.Need("name").Text(MaxName), ID: o.May("id").Text(MaxName)}
	if x := o.May("extra_time"); x.Present() {
		s.Extra = int(x.Int(0, MaxExtra))
	}
	c.Students = append(c.Students, s)
	n, d := o.May("candidate"), o.May("digest")
	if d.Present() {
		c.Made = append(c.Made, Made{Candidate: int(n.Int(0, candidates-1)), Digest: d.Text(32)})
	}
	if m := len(c.Made); m > 0 {
		c.Made[m-1].before(o)
	}
	if len(c.Made) != 0 && len(c.Made) != len(c.Students) {
		d.Fail("some students have a digest and some have none")
	}
	o.Close()
}

// before reads what was another when the variant was handed out first.
func (m *Made) before(o *strict.Object) {
	if v := o.May("earlier_extra_time"); v.Present() {
		for _, n := range v.List(0, MaxExtra+1) {
			m.Earlier = append(m.Earlier, int(n.Int(0, MaxExtra)))
		}
	}
	if v := o.May("drawn_as"); v.Present() {
		was := v.Object()
		m.As = Student{Name: was.Need("name").Text(MaxName), ID: was.May("id").Text(MaxName)}
		was.Close()
	}
}

func secret(v strict.Value) []byte {
	text := v.Text(2 * SecretBytes)
	data, err := hex.DecodeString(text)
	if v.Present() && (err != nil || len(data) < leastSecret) {
		v.Fail("want %d to %d hexadecimal digits", 2*leastSecret, 2*SecretBytes)
	}
	return data
}

// Check says what is wrong with a class before anything is made of it.
func (c *Class) Check() error {
	switch {
	case c.Scenario == nil:
		return fmt.Errorf("class: no scenario")
	case len(c.Secret) < leastSecret || len(c.Secret) > SecretBytes:
		return fmt.Errorf("class: a secret of %d bytes, want %d to %d", len(c.Secret), leastSecret, SecretBytes)
	case len(c.Students) == 0:
		return fmt.Errorf("class: no students")
	case len(c.Students) > MaxStudents:
		return fmt.Errorf("class: %d students, at most %d", len(c.Students), MaxStudents)
	}
	if c.Mode != "" && !c.Scenario.Work.Allows(c.Mode) {
		return fmt.Errorf("class: mode %q, which the scenario doesn't allow", c.Mode)
	}
	if err := c.checkTags(); err != nil {
		return err
	}
	seen := map[string]int{}
	for i, s := range c.Students {
		switch {
		case Fold(s.Name) == "":
			return fmt.Errorf("class: students[%d]: no name", i)
		case s.Extra < 0 || s.Extra > MaxExtra:
			return fmt.Errorf("class: students[%d]: extra time of %d %%, want 0 to %d", i, s.Extra, MaxExtra)
		}
		if n := len([]rune(s.Label())); n > MaxName {
			return fmt.Errorf("class: students[%d]: %d characters, at most %d with the id", i, n, MaxName)
		}
		// Attempts are told apart by the label, however it is typed.
		key := Fold(s.Label())
		if at, twice := seen[key]; twice {
			return fmt.Errorf("class: students[%d]: %q is students[%d] too; tell them apart by an id", i, s.Label(), at)
		}
		seen[key] = i
	}
	return nil
}

func (c *Class) checkTags() error {
	if len(c.Tags) > maxTags {
		return fmt.Errorf("class: %d task tags, at most %d", len(c.Tags), maxTags)
	}
	for i, tag := range c.Tags {
		if n := len([]rune(tag)); Fold(tag) == "" || n > maxTag {
			return fmt.Errorf("class: tags[%d]: %d characters, want words of at most %d", i, n, maxTag)
		}
	}
	return nil
}

// Earlier lists what student i may have been handed before: the variant with the minutes
// that everybody has, and with those of every extra time there was.
func (c *Class) Earlier(i int, variant *scenarios.Scenario) []*scenarios.Scenario {
	if variant.Work == nil || c.Scenario.Work == nil {
		return nil
	}
	extras := []int{0}
	if len(c.Made) == len(c.Students) {
		extras = append(extras, c.Made[i].Earlier...)
	}
	var all []*scenarios.Scenario
	for _, extra := range extras {
		s, w := *variant, *variant.Work
		w.Minutes = minutesWith(c.Scenario.Work.Minutes, extra)
		s.Work = &w
		all = append(all, &s)
	}
	return all
}

// minutesWith is the time of a job with what a student gets beyond it, in whole
// minutes [min]; none stays none.
func minutesWith(minutes float64, extra int) float64 {
	if minutes == 0 || extra == 0 {
		return minutes
	}
	return min(-math.Floor(-minutes*float64(100+extra)/100), scenarios.MaxWorkMinutes)
}
