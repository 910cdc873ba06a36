package debrief

import (
	"crankbay/scenarios/attempt"
	"crankbay/sim/bench"
	"crankbay/sim/record"
)

// A tape is an attempt played again: every action with the time that passed before
// it, in terms that still make sense when something before it is changed.
type tape struct {
	session *attempt.Session
	steps   []step
	starts  []int // by run, in order: the step that closed the switch
	lets    []int // by run: the step that last opened the switch in it, -1 when none did
	tail    int64 // ticks after the last step
}

// A step is one action of the log and how long the hands waited before it.
type step struct {
	act     record.Action
	wait    int64 // ticks since the action before
	rest    bool  // everything had come to rest
	held    bool  // the starter switch was held meanwhile
	strokes int   // compressions that were read meanwhile
	last    int64 // ticks until the last of them
}

// recorder turns a replay into a tape.
type recorder struct {
	tape
	until  int64 // tick at which the action before was done
	held   bool
	events int // of the record at that moment
}

// recordTape plays a verified attempt again.
func recordTape(v attempt.Report, tap func(*bench.Bench)) (tape, error) {
	f := v.Session.File()
	r := &recorder{tape: tape{session: v.Session}}
	setup := v.Session.Scenario().Setup()
	_, err := bench.Replay(setup, f.Actions, f.Marks[:len(f.Marks)-1], f.Tick, func(b *bench.Bench, a record.Action) error {
		if len(r.steps) == 0 && tap != nil {
			b.Tap(func() { tap(b) })
		}
		return r.do(b, a)
	})
	r.tail = f.Tick - r.until
	return r.tape, err
}

// do notes the time before an action and does it.
func (r *recorder) do(b *bench.Bench, a record.Action) error {
	s := step{act: a, wait: a.Tick - r.until, rest: b.AtRest(), held: r.held}
	for _, e := range b.Record().Events[r.events:] {
		if e.Kind == bench.EventStroke {
			s.strokes++
			s.last = e.Tick - r.until
		}
	}
	if err := doAny(b, a); err != nil {
		return err
	}
	r.until, r.events = b.Tick(), len(b.Record().Events) // starting the engine takes ticks of its own
	if a.Kind == bench.KindStarter {
		r.held = a.Choice == "on"
		r.press(b)
	}
	r.steps = append(r.steps, s)
	return nil
}

// press notes the step, not yet on the tape, as one that began a run or ended one.
func (r *recorder) press(b *bench.Bench) {
	at := len(r.steps)
	if runs := begun(b); runs > len(r.starts) {
		r.starts, r.lets = append(r.starts, at), append(r.lets, -1)
	}
	if !r.held && len(r.lets) > 0 {
		r.lets[len(r.lets)-1] = at
	}
}

// begun returns how many runs have begun.
func begun(b *bench.Bench) int {
	n := 0
	for _, e := range b.Record().Events {
		if e.Kind == bench.EventCrankStart {
			n++
		}
	}
	return n
}

// doAny does an action of the bench or notes one of the job sheet.
func doAny(b *bench.Bench, a record.Action) error {
	if bench.Knows(a.Kind) {
		return b.Do(a)
	}
	return b.Note(a, a.Kind == attempt.KindHandIn)
}
