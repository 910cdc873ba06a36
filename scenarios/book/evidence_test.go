package book_test

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"crankbay/scenarios"
	"crankbay/scenarios/book"
	"crankbay/sim/bench"
	"crankbay/sim/record"
)

// An evidence is a scenario with all its tests by the book, each done once when it is
// first asked for, and beside it the same engine on the same day with nothing wrong.
type evidence struct {
	s     *scenarios.Scenario
	sound *evidence // nil for the sound one itself

	wet     *book.Result
	leak    *book.LeakageResult
	current *book.CurrentResult
	running *book.RunningResult
	vacuum  *book.VacuumResult
	second  *book.Result
	looked  map[string][]record.Event
}

var (
	evidences = map[string]*evidence{}
	soundOnes = map[string]*evidence{}
)

// of returns the evidence of a scenario, the same for all tests of the package.
func of(t *testing.T, id string) *evidence {
	t.Helper()
	if e := evidences[id]; e != nil {
		return e
	}
	s := pick(t, id)
	ref := without(pick(t, id))
	c := ref.Conditions
	c.ParkedDeg = 0
	key := fmt.Sprintf("%s %+v %g %t", s.Engine.ID, c, s.Card.CoolantMinC, s.Card.Charger)
	if soundOnes[key] == nil {
		soundOnes[key] = &evidence{s: ref}
	}
	evidences[id] = &evidence{s: s, sound: soundOnes[key]}
	return evidences[id]
}

// kept does a test unless it is done already.
func kept[R any](t *testing.T, at **R, do func() (R, error)) *R {
	t.Helper()
	if *at == nil {
		r, err := do()
		require.NoError(t, err)
		*at = &r
	}
	return *at
}

func (e *evidence) wets(t *testing.T) *book.Result {
	return kept(t, &e.wet, func() (book.Result, error) { return book.Run(e.s, book.Options{Kind: book.Wet, ByCard: true}) })
}

// dry returns the dry reading of a cylinder.
func (e *evidence) dry(t *testing.T, c int) book.Reading { return e.wets(t).Dry[c-1] }

func (e *evidence) leaks(t *testing.T, c int) book.Leak {
	return kept(t, &e.leak, func() (book.LeakageResult, error) { return book.Leakage(e.s, book.LeakageOptions{}) }).Cylinders[c-1]
}

func (e *evidence) currents(t *testing.T) *book.CurrentResult {
	return kept(t, &e.current, func() (book.CurrentResult, error) { return book.Current(e.s, false, nil) })
}

func (e *evidence) runs(t *testing.T) *book.RunningResult {
	return kept(t, &e.running, func() (book.RunningResult, error) { return book.RunningTest(e.s, false, nil) })
}

func (e *evidence) vacuums(t *testing.T) *book.VacuumResult {
	return kept(t, &e.vacuum, func() (book.VacuumResult, error) { return book.Vacuum(e.s, false, nil) })
}

// byGauge returns the final reading of a cylinder as a person reads it off the first
// (0) or the second (1) gauge of the tray.
func (e *evidence) byGauge(t *testing.T, gauge, c int) float64 {
	t.Helper()
	s := *e.s
	s.Tools.Gauges = slices.Clone(s.Tools.Gauges)
	if gauge == 0 {
		r, err := book.Run(&s, book.Options{AsRead: true, ByCard: true})
		require.NoError(t, err)
		return r.Readings[c-1].FinalPSI
	}
	slices.Reverse(s.Tools.Gauges)
	return kept(t, &e.second, func() (book.Result, error) { return book.Run(&s, book.Options{AsRead: true, ByCard: true}) }).Readings[c-1].FinalPSI
}

// gain is what oil does to a cylinder, percent of its dry reading.
func (e *evidence) gain(t *testing.T, c int) float64 {
	return 100 * (e.wets(t).Readings[c-1].FinalPSI/e.dry(t, c).FinalPSI - 1)
}

// level is the final reading, percent of the sound engine's.
func (e *evidence) level(t *testing.T, c int) float64 {
	return 100 * e.dry(t, c).FinalPSI / e.sound.dry(t, c).FinalPSI
}

// first is first over final in points above the sound engine's.
func (e *evidence) first(t *testing.T, c int) float64 {
	return share(e.dry(t, c)) - share(e.sound.dry(t, c))
}

// air is the share of a leak that goes one way, percent.
func (e *evidence) air(t *testing.T, c int, path string) float64 {
	for _, a := range e.leaks(t, c).Air {
		if a.Path == path {
			return a.SharePercent
		}
	}
	return 0
}

// hump is the height of a cylinder's hump of starter current, percent of the mean.
func (e *evidence) hump(t *testing.T, c int) float64 {
	for _, h := range e.currents(t).Humps {
		if h.Cylinder == c {
			return h.Percent
		}
	}
	return 0
}

// humps is the same as percent of the sound engine's.
func (e *evidence) humps(t *testing.T, c int) float64 { return 100 * e.hump(t, c) / e.sound.hump(t, c) }

// idle and snap are the running compression, percent of the sound engine's.
func (e *evidence) idle(t *testing.T, c int) float64 {
	return 100 * e.runs(t).Cylinders[c-1].IdlePSI / e.sound.runs(t).Cylinders[c-1].IdlePSI
}

func (e *evidence) snap(t *testing.T, c int) float64 {
	return 100 * e.runs(t).Cylinders[c-1].SnapPSI / e.sound.runs(t).Cylinders[c-1].SnapPSI
}

// looks does one look on the bench, the card followed, and returns its facts.
func (e *evidence) looks(t *testing.T, kind string, cylinder int) []record.Event {
	t.Helper()
	key := fmt.Sprint(kind, cylinder)
	if found, ok := e.looked[key]; ok {
		return found
	}
	b, err := bench.New(e.s.Setup())
	require.NoError(t, err)
	do := func(a record.Action) { require.NoError(t, b.Do(a), "%s: %+v", e.s.ID, a) }
	if kind == bench.KindBorescope || kind == bench.KindPlugLook {
		do(record.Action{Kind: bench.KindWells})
		do(record.Action{Kind: bench.KindPlugOut, Cylinder: cylinder, Choice: "ordered"})
	}
	do(record.Action{Kind: kind, Cylinder: cylinder})
	var found []record.Event
	for _, x := range b.Record().Events {
		if x.Kind == bench.EventFact {
			found = append(found, x)
		}
	}
	if e.looked == nil {
		e.looked = map[string][]record.Event{}
	}
	e.looked[key] = found
	return found
}

// cylinders lists all cylinders of the engine that are not in but.
func (e *evidence) cylinders(but ...int) (all []int) {
	for c := 1; c <= e.s.Engine.Cylinders; c++ {
		if !slices.Contains(but, c) {
			all = append(all, c)
		}
	}
	return all
}

// suspects lists the cylinders of the key, all when it names none.
func (e *evidence) suspects() []int {
	if len(e.s.Key.Cylinders) > 0 {
		return e.s.Key.Cylinders
	}
	return e.cylinders()
}
