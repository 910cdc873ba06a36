package attempt

import (
	"fmt"

	"crankbay/scenarios"
	"crankbay/sim/bench"
	"crankbay/sim/record"
)

// CheckEvery is after how many actions a Brief carries a check.
const CheckEvery = 16

// A Brief is an attempt with few marks: what fits into a short code. After every
// 16th action it keeps one byte of the state, and at the end the whole mark, so a
// replay that differs is found for certain, and placed within 16 actions with the
// odds of 255 to 1.
type Brief struct {
	File   *File // Marks holds the last one only
	Checks []byte
}

// Brief leaves out of a file what a replay makes again. The error says that the
// file's marks are not those of its actions.
func (f *File) Brief() (*Brief, error) {
	short := *f
	if len(f.Marks) == 0 {
		return nil, fmt.Errorf("attempt: marks: none, want one at the end at least")
	}
	short.Marks = f.Marks[len(f.Marks)-1:]
	short.Digest = short.sum()
	b := &Brief{File: &short}
	for i := CheckEvery - 1; i < len(f.Actions); i += CheckEvery {
		a := f.Actions[i]
		// One mark at every whole second and one after every action, in that order.
		at := i + int(a.Tick/record.TicksPerSecond)
		if at >= len(f.Marks) || f.Marks[at].Tick != a.Tick {
			return nil, fmt.Errorf("attempt: marks: none belongs to actions[%d]", i)
		}
		b.Checks = append(b.Checks, byte(f.Marks[at].Digest))
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
	if len(f.Marks) != 1 || len(b.Checks) != len(f.Actions)/CheckEvery {
		return nil, fmt.Errorf("attempt: %d marks and %d checks, want 1 and %d", len(f.Marks), len(b.Checks), len(f.Actions)/CheckEvery)
	}
	a, err := blank(s, Header{Mode: f.Mode, Who: f.Who})
	if err != nil {
		return nil, err
	}
	done := 0
	bn, err := bench.Replay(s.Setup(), f.Actions, nil, f.Tick, func(n *bench.Bench, x record.Action) error {
		a.bench = n
		if err := a.Do(x); err != nil {
			return err
		}
		if done++; done%CheckEvery != 0 {
			return nil
		}
		marks := n.Marks()
		if byte(marks[len(marks)-1].Digest) != b.Checks[done/CheckEvery-1] {
			return &bench.Diverged{Tick: f.Actions[max(done-CheckEvery-1, 0)].Tick, Mark: done/CheckEvery - 1}
		}
		return nil
	})
	if err != nil {
		return nil, fmt.Errorf("attempt: %w", err)
	}
	a.bench = bn
	last := f.Marks[0]
	if last.Tick != bn.Tick() || last.Digest != bn.Digest() {
		// The last check held, so it is behind the actions that one covered.
		tick := int64(0)
		if n := len(b.Checks) * CheckEvery; n > 0 {
			tick = f.Actions[n-1].Tick
		}
		return nil, fmt.Errorf("attempt: %w", &bench.Diverged{Tick: tick, Mark: len(b.Checks)})
	}
	return a, nil
}
