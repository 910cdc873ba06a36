package attempt

import (
	"fmt"

	"crankbay/scenarios"
	"crankbay/sim/bench"
	"crankbay/sim/record"
)

// CheckEvery is how many marks a Brief leaves out for each it keeps a byte of.
const CheckEvery = 16

// A Brief is an attempt with few marks: what fits into a short code. Of every 16th mark
// it keeps one byte, and the last one whole, so a replay that differs is found for
// certain, and placed within 16 marks with the odds of 255 to 1.
type Brief struct {
	File   *File // Marks holds the last one only
	Checks []byte
}

// Brief leaves out of a file what a replay makes again. The error says that the file has
// no marks.
func (f *File) Brief() (*Brief, error) {
	if len(f.Marks) == 0 {
		return nil, fmt.Errorf("attempt: marks: none, want one at the end at least")
	}
	short := *f
	short.Marks = f.Marks[len(f.Marks)-1:]
	short.Digest = short.sum()
	b := &Brief{File: &short}
	for i := CheckEvery - 1; i < len(f.Marks)-1; i += CheckEvery {
		b.Checks = append(b.Checks, byte(f.Marks[i].Digest))
	}
	return b, nil
}

// Verify plays a brief attempt again and grades it, as Verify does with a file.
// The Session of the report gives the whole file.
func (b *Brief) Verify(find Lookup) (Report, error) {
	s := find(b.File.Scenario)
	if s == nil {
		return Report{}, fmt.Errorf("attempt: scenario: %q is not known here", b.File.Scenario)
	}
	a, err := b.replay(s)
	if err != nil {
		return Report{}, err
	}
	return a.report(b.File.Grader), nil
}

// Resume takes a brief attempt up where it was saved.
func (b *Brief) Resume(s *scenarios.Scenario) (*Session, error) {
	a, err := b.replay(s)
	if err != nil {
		return nil, err
	}
	return a.rest()
}

func (b *Brief) replay(s *scenarios.Scenario) (*Session, error) {
	f := b.File
	if err := f.current(s); err != nil {
		return nil, err
	}
	if len(f.Marks) != 1 {
		return nil, fmt.Errorf("attempt: %d marks, want the last one alone", len(f.Marks))
	}
	a, err := blank(s, Header{Mode: f.Mode, Who: f.Who})
	if err != nil {
		return nil, err
	}
	bn, err := bench.Replay(s.Setup(), f.Actions, nil, f.Tick, func(n *bench.Bench, x record.Action) error {
		a.bench = n
		if err := a.Do(x); err != nil {
			return err
		}
		return b.compare(n.Marks())
	})
	if err == nil {
		err = b.compare(bn.Marks())
	}
	if err != nil {
		return nil, fmt.Errorf("attempt: %w", err)
	}
	a.bench = bn
	last := f.Marks[0]
	if made := len(bn.Marks()); last.Tick != bn.Tick() || last.Digest != bn.Digest() || len(b.Checks) != made/CheckEvery {
		// The last check held, so it is behind the marks that one covered.
		return nil, fmt.Errorf("attempt: %w", b.from(bn.Marks(), min(len(b.Checks), made/CheckEvery)))
	}
	return a, nil
}

// compare holds the checks against as many marks as a replay has made.
func (b *Brief) compare(marks []record.Mark) error {
	for i, check := range b.Checks {
		at := (i+1)*CheckEvery - 1
		if at >= len(marks) {
			return nil
		}
		if byte(marks[at].Digest) != check {
			return b.from(marks, i)
		}
	}
	return nil
}

// from says that a replay differs behind the marks of so many checks.
func (b *Brief) from(marks []record.Mark, checks int) error {
	d := &bench.Diverged{Mark: checks * CheckEvery}
	if d.Mark > 0 {
		d.Tick = marks[d.Mark-1].Tick
	}
	return d
}
