package diagnose

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"crankbay/sim/record"
)

// hasty is a burnt valve in cylinder 3 tested with the throttle shut, unequal
// strokes and oil in the bad cylinder alone.
func hasty() *shop {
	s := newShop(bank4)
	s.in.Key = Key{Family: FamilyValveLeak, Cylinders: []int{3}, NextTests: []string{"leakage"}}
	s.prepare()
	shut := func(r *record.Run) {
		r.ThrottleOpen = false
		if r.Cylinder == 3 {
			r.Strokes = r.Strokes[:3]
		}
	}
	s.dry([]float64{140, 142.5, 85, 137.5}, shut)
	s.oil[3] = 10
	s.run(3, 60, 90, shut)
	return s
}

func concludes(s *shop, evidence ...string) Row {
	s.in.Sheet.Evidence = evidence
	return Grade(s.in).Rows[4]
}

// A right guess said as certain on spoiled readings earns next to nothing; the
// surer it is said, the less. Not deciding and doing it again earns most.
func TestRightGuessOnSpoiledReadings(t *testing.T) {
	row := func(family, sure, next string, cylinders ...int) Row {
		s := hasty()
		s.conclude(family, sure, next, cylinders...)
		return concludes(s, "dry", "first_stroke", "wet", "throttle", "spec")
	}
	certain := row(FamilyValveLeak, SureCertain, "leakage", 3)
	likely := row(FamilyValveLeak, SureLikely, "leakage", 3)
	guess := row(FamilyValveLeak, SureGuess, "leakage", 3)
	careful := row(FamilyUndecided, SureLikely, "repeat")
	assert.Less(t, certain.Points, 0.15*certain.OutOf)
	assert.Less(t, certain.Points, likely.Points)
	assert.Less(t, likely.Points, guess.Points)
	assert.Less(t, guess.Points, 0.4*guess.OutOf)
	assert.Greater(t, careful.Points, 0.85*careful.OutOf)
	for _, l := range certain.Lines {
		switch l.Rule {
		case "sureness", "evidence_enough":
			assert.Zero(t, l.Points, l.Rule)
		case "evidence_backed":
			assert.Equal(t, l.OutOf/5, l.Points, "the page was looked up; the rest is spoiled")
			for _, k := range []string{"dry", "first_stroke", "wet", "throttle"} {
				assert.Contains(t, l.Facts, word("spoiled", k))
			}
		}
	}
	// Knowing that the method was at fault and naming the part all the same buys
	// the part nothing.
	s := hasty()
	s.conclude(FamilyValveLeak, SureCertain, "leakage", 3)
	s.in.Sheet.Findings = append(s.in.Sheet.Findings, Finding{Family: FamilyMethodOrGauge})
	assert.Equal(t, certain.Points, concludes(s, "dry", "first_stroke", "wet", "throttle", "spec").Points)
}

// To say that the method was at fault, spoiled readings are the very evidence.
func TestSpoiledReadingsSpeakOfTheMethod(t *testing.T) {
	s := hasty()
	s.conclude(FamilyMethodOrGauge, SureLikely, "repeat")
	concludes(s, "dry", "throttle")
	for _, rule := range []string{"evidence_backed", "sureness"} {
		l, ok := line(Grade(s.in), rule)
		assert.Truef(t, ok && l.Passed, rule)
	}
}

// Done again the right way, what went wrong before costs the evidence nothing.
func TestMendedReadingsCarry(t *testing.T) {
	s := hasty()
	s.oil[3] = 0 // another engine's worth of readings, dry
	s.in.Record.Runs = s.in.Record.Runs[:4]
	s.dry([]float64{185, 187.5, 110, 182.5})
	s.conclude(FamilyValveLeak, SureLikely, "leakage", 3)
	concludes(s, "dry", "throttle")
	l, _ := line(Grade(s.in), "evidence_backed")
	assert.True(t, l.Passed)
	s.in.Sheet.Evidence = append(s.in.Sheet.Evidence, "repeat")
	l, _ = line(Grade(s.in), "evidence_backed")
	assert.Contains(t, l.Facts, word("spoiled", "repeat"), "one good reading is no repeat")
	s.again(3, 110)
	s.in.Sheet.ConcludedTick = s.tick
	l, _ = line(Grade(s.in), "evidence_backed")
	assert.True(t, l.Passed)
}

// Oil is evidence only beside the same oil, tested the same way, in a healthy
// cylinder.
func TestWetNeedsItsControl(t *testing.T) {
	last := func(s *shop) *record.Run { return &s.in.Record.Runs[len(s.in.Record.Runs)-1] }
	for _, c := range []struct {
		name    string
		control func(*shop)
		counts  bool
	}{
		{"none", func(*shop) {}, false},
		{"the same", func(s *shop) { s.wet(2, 205) }, true},
		{"a little more oil", func(s *shop) { s.wet(2, 205); last(s).OilML = 12 }, true},
		{"half the oil", func(s *shop) { s.wet(2, 205); last(s).OilML = 5 }, false},
		{"throttle shut", func(s *shop) { s.wet(2, 205); last(s).ThrottleOpen = false }, false},
		{"three strokes", func(s *shop) { s.wet(2, 205); last(s).Strokes = last(s).Strokes[:3] }, false},
		{"needle not at zero", func(s *shop) { s.wet(2, 205); last(s).GaugeAtZero = false }, false},
		{"after it was concluded", func(s *shop) {
			at := s.tick
			s.wet(2, 205)
			s.in.Sheet.ConcludedTick = at
		}, false},
	} {
		s := lowThree()
		s.wet(3, 117.5)
		c.control(s)
		at := s.in.Sheet.ConcludedTick
		s.conclude(FamilyValveLeak, SureLikely, "leakage", 3)
		if at > 0 {
			s.in.Sheet.ConcludedTick = at
		}
		l, _ := line(Grade(s.in), "evidence_backed")
		assert.Equal(t, c.counts, l.Passed, c.name)
		f, _ := line(Grade(s.in), "conclusion_fits_readings")
		assert.Equal(t, c.counts, f.Passed, c.name)
		if !c.counts {
			assert.Contains(t, l.Facts, word("spoiled", "wet"), c.name)
		}
		// Who leaves it open and names the test that is missing loses nothing by it.
		s.in.Sheet.Findings = nil
		s.conclude(FamilyUndecided, SureLikely, "wet")
		if at > 0 {
			s.in.Sheet.ConcludedTick = at
		}
		if !c.counts {
			l, _ = line(Grade(s.in), "evidence_backed")
			assert.True(t, l.Passed, c.name)
		}
	}
}

// Oil in the low cylinder tested another way than dry tells nothing of rings.
func TestSpoiledWetTestDecidesNothing(t *testing.T) {
	s := lowThree()
	s.wet(3, 160)
	s.in.Record.Runs[len(s.in.Record.Runs)-1].OilML = 40
	s.wet(2, 205)
	s.conclude(FamilyRingOrBore, SureCertain, "leakage", 3)
	l, _ := line(Grade(s.in), "conclusion_fits_readings")
	assert.False(t, l.Passed)
	l, _ = line(Grade(s.in), "sureness")
	assert.Zero(t, l.Points)
	l, _ = line(Grade(s.in), "confirmed_when_called")
	assert.True(t, l.Passed, "it was done, though not well")
}
