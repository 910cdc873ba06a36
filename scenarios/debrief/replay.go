package debrief

import (
	"errors"

	"crankbay/scenarios"
	"crankbay/scenarios/attempt"
	"crankbay/sim/bench"
	"crankbay/sim/record"
)

// A hand does what was left undone: it looks at the session and returns the next
// action, or false when there is nothing left to do.
type hand func(*attempt.Session) (record.Action, bool)

// An edit says, step by step of a tape, what is to be done otherwise.
type edit []change

// A change is what is otherwise at one step.
type change struct {
	before  []hand               // what hands do first
	drop    bool                 // the step is not done
	instead func(*record.Action) // it is done otherwise
	strokes int                  // compressions more (or fewer) before it, with the switch held
}

// edit returns one that changes nothing.
func (t *tape) edit() edit { return make(edit, len(t.steps)) }

// lend lends a hand before a step.
func (e edit) lend(step int, h hand) { e[step].before = append(e[step].before, h) }

// and adds another edit of the same tape.
func (e edit) and(o edit) {
	for i, c := range o {
		e[i].before = append(e[i].before, c.before...)
		e[i].drop = e[i].drop || c.drop
		e[i].strokes += c.strokes
		if c.instead != nil {
			e[i].instead = c.instead
		}
	}
}

// mostHand bounds what one hand does at one place.
const mostHand = 40

// A take is a tape played otherwise.
type take struct {
	session *attempt.Session
	runs    []int       // by run of the tape: the run it became, from 1; 0 none
	leaks   map[int]int // by step that put air on: the leakage reading it gave, from 1
	pumps   map[int]int // by step that started or snapped the engine: the reading it gave, from 1
	refused int         // actions that no longer made sense

	air, pump         int // the latest such steps, -1 none
	leakage, pumpings int // readings so far
}

// play does every step again with the edit. What no longer makes sense, such as
// taking out a plug that is out already, is left out. While the switch is held for
// a gauge, the hands wait for as many compressions as they did, not for as many
// ticks: it is compressions that a person counts. Without an edit the result is the
// attempt itself, bit for bit.
func (t *tape) play(s *scenarios.Scenario, e edit) (take, error) { return t.watched(s, e, nil) }

// watched is play with somebody looking on after every tick.
func (t *tape) watched(s *scenarios.Scenario, e edit, tap func(*bench.Bench)) (take, error) {
	a, err := attempt.New(s, t.session.Header())
	if err != nil {
		return take{}, err
	}
	if tap != nil {
		a.Bench().Tap(func() { tap(a.Bench()) })
	}
	out := take{
		session: a, runs: make([]int, len(t.starts)), leaks: map[int]int{}, pumps: map[int]int{}, air: -1, pump: -1,
	}
	starts := map[int]int{}
	for k, i := range t.starts {
		starts[i] = k
	}
	for i, st := range t.steps {
		pass(a, st, e[i].strokes)
		out.notice()
		for _, h := range e[i].before {
			out.lend(a, h)
		}
		if e[i].drop {
			continue
		}
		x := st.act
		if e[i].instead != nil {
			e[i].instead(&x)
		}
		k, begins := starts[i]
		before := 0
		if begins {
			before = begun(a.Bench())
		}
		if !out.done(a.Do(x)) {
			continue
		}
		out.notice()
		out.cause(i, x)
		if begins && begun(a.Bench()) > before {
			out.runs[k] = before + 1
		}
	}
	a.Advance(ticks(t.tail))
	return out, nil
}

// cause remembers the step that a reading of tester or running engine comes from.
func (t *take) cause(i int, x record.Action) {
	switch {
	case x.Kind == bench.KindAir && x.Choice == "on":
		t.air = i
	case x.Kind == bench.KindEngineRun && x.Choice == "on", x.Kind == bench.KindSnap, x.Kind == bench.KindRelease:
		t.pump = i
	}
}

// notice gives readings that have come to the step they come from.
func (t *take) notice() {
	rec := t.session.Record()
	if n := len(rec.Leaks); n > t.leakage {
		t.leakage = n
		t.leaks[t.air] = n
	}
	if n := len(rec.Pumped); n > t.pumpings {
		t.pumpings = n
		t.pumps[t.pump] = n
	}
}

// done counts what was refused.
func (t *take) done(err error) bool {
	var r *bench.Refusal
	if errors.As(err, &r) {
		t.refused++
	}
	return err == nil
}

// lend lets a hand do what it has to do; between two of its actions everything
// comes to rest.
func (t *take) lend(a *attempt.Session, h hand) {
	for range mostHand {
		x, more := h(a)
		if !more || !t.done(a.Do(x)) {
			return
		}
		a.Settle()
	}
}

// pass lets the time before a step pass.
func pass(a *attempt.Session, s step, more int) {
	switch {
	case s.held && s.strokes+more > 0 && a.State().HoseOn != 0 && (s.strokes > 0 || more > 0):
		passStrokes(a, s, more)
	case s.rest:
		a.Settle()
	default:
		a.Advance(ticks(s.wait))
	}
}

// passStrokes holds the switch until the compressions of the tape have been read,
// and then for the same part of a turn as on the tape.
func passStrokes(a *attempt.Session, s step, more int) {
	want := s.strokes + more
	passed := int64(0)
	for range want {
		if passed > 4*s.wait+patience {
			break // it hardly turns
		}
		passed += int64(a.StrokeStep())
	}
	rest := s.wait - s.last
	switch {
	case s.strokes == 0:
		rest = 0
	case passed != s.last:
		// At another speed the crank would come to the same place after another time.
		rest = rest * passed * int64(s.strokes) / (s.last * int64(want))
	}
	a.Advance(ticks(rest))
}

// patience is how long a hand that waits for compressions holds the switch beyond
// four times the time of the tape: 8 s.
const patience = 8 * record.TicksPerSecond

// ticks bounds a time to what an attempt can have.
func ticks(n int64) int { return int(max(0, min(n, bench.MaxTicks))) }
