package attempt

import (
	"bytes"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"hash/fnv"
	"slices"

	"crankbay/sim"
	"crankbay/sim/bench"
	"crankbay/sim/record"
)

// Versions written into every file. The model's is sim.ModelVersion.
const (
	Format        = 1
	GraderVersion = 8 // 3: confirming tests and what they cost; 4: the evidence, by a library; 5: every row needs its share; 6: another library; 7: work left in pieces, false ticks; 8: a wrong name as the last word, no comparison of humps where there is none
)

// GraderLibrary is the digest of the likelihood library that belongs to this version of
// the grader. Another library grades otherwise and is another version.
const GraderLibrary = "6995ed48fc12c653"

// MaxBytes is the largest file that is read.
const MaxBytes = 4 << 20

// A File is an attempt as it is saved and handed in. Nothing in it is believed.
type File struct {
	Format         int             `json:"format"`
	Model          int             `json:"model"`
	Grader         int             `json:"grader"`
	Scenario       string          `json:"scenario"` // id
	ScenarioDigest string          `json:"scenario_digest"`
	Seed           uint64          `json:"seed,string"`
	Mode           string          `json:"mode"`
	Who            string          `json:"who"`
	Actions        []record.Action `json:"actions"`
	Marks          []record.Mark   `json:"marks"` // the last one is the end
	Tick           int64           `json:"tick"`  // where it ended
	Digest         string          `json:"digest"`
}

// File returns the attempt as it stands. Saving changes nothing in it.
func (s *Session) File() *File {
	b := s.bench
	f := &File{
		Format: Format, Model: sim.ModelVersion, Grader: GraderVersion,
		Scenario: s.scenario.ID, ScenarioDigest: s.scenario.Digest(), Seed: s.scenario.Seed,
		Mode: s.header.Mode, Who: s.header.Who,
		Actions: copied(b.Log()), Marks: copied(b.Marks()), Tick: b.Tick(),
	}
	f.Marks = append(f.Marks, record.Mark{Tick: b.Tick(), Digest: b.Digest()})
	f.Digest = f.sum()
	return f
}

// Encode returns the attempt as a file, at any time.
func (s *Session) Encode() ([]byte, error) { return s.File().Encode() }

// Encode writes the file: one line for each action and each mark, so that a
// person can read it. Decode reads it back equal.
func (f *File) Encode() ([]byte, error) {
	head := *f
	head.Actions, head.Marks = nil, nil
	var b bytes.Buffer
	b.WriteString("{\n")
	for _, m := range []struct {
		name  string
		value any
	}{
		{"format", f.Format}, {"model", f.Model}, {"grader", f.Grader}, {"scenario", f.Scenario},
		{"scenario_digest", f.ScenarioDigest}, {"seed", fmt.Sprint(f.Seed)}, {"mode", f.Mode}, {"who", f.Who},
	} {
		if err := member(&b, m.name, m.value, ","); err != nil {
			return nil, err
		}
	}
	if err := lines(&b, "actions", f.Actions); err != nil {
		return nil, err
	}
	if err := lines(&b, "marks", f.Marks); err != nil {
		return nil, err
	}
	if err := member(&b, "tick", f.Tick, ","); err != nil {
		return nil, err
	}
	if err := member(&b, "digest", f.Digest, ""); err != nil {
		return nil, err
	}
	b.WriteString("}\n")
	return b.Bytes(), nil
}

func member(b *bytes.Buffer, name string, value any, end string) error {
	data, err := json.Marshal(value)
	if err != nil {
		return fmt.Errorf("attempt: %s: %w", name, err)
	}
	fmt.Fprintf(b, "  %q: %s%s\n", name, data, end)
	return nil
}

func lines[T any](b *bytes.Buffer, name string, list []T) error {
	fmt.Fprintf(b, "  %q: [", name)
	for i, v := range list {
		data, err := json.Marshal(v)
		if err != nil {
			return fmt.Errorf("attempt: %s[%d]: %w", name, i, err)
		}
		if i > 0 {
			b.WriteByte(',')
		}
		b.WriteString("\n    ")
		b.Write(data)
	}
	if len(list) > 0 {
		b.WriteString("\n  ")
	}
	b.WriteString("],\n")
	return nil
}

// sum returns the digest over everything else in the file: 32 hex digits of
// FNV-1a, 128 bits, over its canonical text. Spaces and the order of names in a
// file don't matter to it. It notices damage; it does not stop a forger.
func (f *File) sum() string {
	c := *f
	c.Digest = ""
	data, err := c.Encode()
	if err != nil { // only a number that is not finite, which no log holds
		panic(err.Error())
	}
	h := fnv.New128a()
	h.Write(data)
	return hex.EncodeToString(h.Sum(nil))
}

// Sum returns the digest that belongs to the file as it stands.
func (f *File) Sum() string { return f.sum() }

// knows tells whether kind can stand in a log.
func knows(kind string) bool { return bench.Knows(kind) || slices.Contains(SheetKinds(), kind) }
