package bench

import (
	"errors"
	"fmt"

	"crankbay/sim/record"
)

// expectation holds the marks a replay has to reproduce.
type expectation struct {
	marks []record.Mark
	err   error
}

// compare holds mark i of a replay against the recorded one; the first that
// differs is remembered.
func (e *expectation) compare(i int, m record.Mark) {
	if e == nil || e.err != nil {
		return
	}
	switch {
	case i >= len(e.marks):
		e.err = &Diverged{Tick: m.Tick, Mark: i}
	case e.marks[i] != m:
		e.err = &Diverged{Tick: min(m.Tick, e.marks[i].Tick), Mark: i}
	}
}

// failed says whether a mark was not reproduced.
func (e *expectation) failed() bool { return e != nil && e.err != nil }

// Diverged says where a replay stopped reproducing what was recorded.
type Diverged struct {
	Tick int64
	Mark int // index of the mark
}

// Error names the tick.
func (d *Diverged) Error() string {
	return fmt.Sprintf("the replay differs from the record from tick %d on (mark %d)", d.Tick, d.Mark)
}

// Expect makes the bench compare every mark it makes with the recorded ones, for
// a replay.
func (b *Bench) Expect(marks []record.Mark) { b.expect = &expectation{marks: marks} }

// Reproduced returns a *Diverged when a mark of a replay was not reproduced, and
// ends the comparing when done is set: marks left over are a difference too.
func (b *Bench) Reproduced(done bool) error {
	if b.expect == nil {
		return nil
	}
	err := b.expect.err
	if err == nil && done && len(b.marks) < len(b.expect.marks) {
		n := len(b.marks)
		err = &Diverged{Tick: b.expect.marks[n].Tick, Mark: n}
	}
	if done {
		b.expect = nil
	}
	return err
}

// AdvanceTo lets time pass until a recorded tick. A bench that comes to rest
// before it can't have got there.
func (b *Bench) AdvanceTo(tick int64) error {
	if tick < b.rec.Tick {
		return fmt.Errorf("tick %d lies before tick %d, where the bench is already", tick, b.rec.Tick)
	}
	if tick > MaxTicks {
		return fmt.Errorf("tick %d is beyond the %d of an attempt", tick, int64(MaxTicks))
	}
	b.Advance(int(tick - b.rec.Tick))
	if b.expect.failed() {
		return b.expect.err
	}
	if b.rec.Tick < tick {
		return fmt.Errorf("tick %d can't be reached: everything is at rest at tick %d", tick, b.rec.Tick)
	}
	return nil
}

// Impossible says that an action of a log can't have been done where it stands.
type Impossible struct {
	Action int // index in the log; its length for the end
	Tick   int64
	Err    error // a *Refusal, or why the tick can't be reached
	text   string
	end    bool
}

// Error names the action and the reason.
func (i *Impossible) Error() string {
	if i.end {
		return i.text
	}
	return fmt.Sprintf("actions[%d]: %s", i.Action, i.text)
}

// Unwrap returns the reason.
func (i *Impossible) Unwrap() error { return i.Err }

// Replay runs a log from the start, every action at its own tick, and on to the
// tick it ended at. It stops at the first action that can't have been accepted
// there (an *Impossible), or the first mark that does not reproduce (a
// *Diverged). With marks nil none are compared. A log with kinds of its own goes
// through do, which may be nil for bench actions only; a *Diverged of its own
// ends the replay as one.
func Replay(s Setup, log []record.Action, marks []record.Mark, end int64, do func(*Bench, record.Action) error) (*Bench, error) {
	b, err := New(s)
	if err != nil {
		return nil, err
	}
	if do == nil {
		do = (*Bench).Do
	}
	if marks != nil {
		b.Expect(marks)
	}
	for i, a := range log {
		if err := b.again(i, a, do); err != nil {
			return nil, err
		}
	}
	if err := b.AdvanceTo(end); err != nil {
		err = placed(len(log), end, err, err.Error())
		if x, ok := err.(*Impossible); ok {
			x.end = true
		}
		return nil, err
	}
	if err := b.Reproduced(true); err != nil {
		return nil, err
	}
	return b, nil
}

// again does action i of a log at its tick.
func (b *Bench) again(i int, a record.Action, do func(*Bench, record.Action) error) error {
	if err := b.AdvanceTo(a.Tick); err != nil {
		return placed(i, a.Tick, err, err.Error())
	}
	if err := do(b, a); err != nil {
		return placed(i, a.Tick, err, fmt.Sprintf("%s at tick %d: %s", a.Kind, a.Tick, err))
	}
	if got := b.log[len(b.log)-1]; got != a {
		return &Impossible{Action: i, Tick: a.Tick, text: fmt.Sprintf("%s can't have been at tick %d: the needle came to rest at tick %d", a.Kind, a.Tick, got.Tick)}
	}
	return b.Reproduced(false)
}

// placed says where an error happened, unless it is a difference and says so itself.
func placed(i int, tick int64, err error, text string) error {
	if d := (*Diverged)(nil); errors.As(err, &d) {
		return d
	}
	return &Impossible{Action: i, Tick: tick, Err: err, text: text}
}
