package population

import (
	"fmt"
	"sync"

	"crankbay/diagnose/reason"
	"crankbay/scenarios/book"
)

// Designs tests the sound engine of each base by the book.
func Designs(bases []Base) ([]Design, error) {
	var out []Design
	for _, b := range bases {
		r, err := book.Run(b.Sound, book.Options{Kind: book.Dry, ByCard: true})
		if err != nil {
			return nil, fmt.Errorf("%s: %w", b.ID, err)
		}
		d := Design{}
		for _, x := range r.Readings {
			d.PSI += x.FinalPSI / float64(len(r.Readings))
			d.RPM += x.RPM / float64(len(r.Readings))
		}
		// A design promises what it does at sea level; one that lives higher is scaled.
		air, _ := b.Sound.Air()
		d.PSI *= 101.325 / air
		out = append(out, d)
	}
	return out, nil
}

// Each draws and tests every job on so many workers and calls done with each result,
// in no order, one at a time.
func Each(seed uint64, jobs []Job, bases []Base, workers int, asRead func(Case) bool, done func(Case, Tests)) error {
	var mu sync.Mutex
	var wg sync.WaitGroup
	var failed error
	next := 0
	for range max(1, workers) {
		wg.Go(func() {
			for {
				mu.Lock()
				if next >= len(jobs) || failed != nil {
					mu.Unlock()
					return
				}
				j := jobs[next]
				next++
				mu.Unlock()
				c := Draw(seed, j, bases)
				t, err := c.Tested(seed, asRead(c))
				mu.Lock()
				if err != nil && failed == nil {
					failed = fmt.Errorf("engine %d (%v on %s): %w", j.Number, j.Families, c.Scenario.Engine.ID, err)
				}
				if err == nil {
					done(c, t)
				}
				mu.Unlock()
			}
		})
	}
	wg.Wait()
	return failed
}

// ThroughGauge says whether a case shows only in what a person reads: the gauge itself
// reads wrong.
func ThroughGauge(c Case) bool { return c.Slots[0].Family == reason.GaugeShifted }
