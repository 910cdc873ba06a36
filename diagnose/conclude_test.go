package diagnose

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"crankbay/sim/record"
)

// lowThree is a careful dry test of an engine with cylinder 3 low, a burnt valve
// inside, and nothing concluded yet.
func lowThree() *shop {
	s := newShop(bank4)
	s.in.Key = Key{Family: FamilyValveLeak, Cylinders: []int{3}, NextTests: []string{"leakage"}}
	s.prepare()
	s.dry([]float64{185, 187.5, 110, 182.5})
	s.again(3, 110)
	return s
}

// conclusion returns what a conclusion earned: the two lines that judge the claim,
// as a share of their points, and the whole row.
func conclusion(s *shop) (claim, row float64) {
	r := Grade(s.in)
	a, _ := line(r, "conclusion_fits_readings")
	b, _ := line(r, "conclusion_fits_engine")
	return (a.Points + b.Points) / (a.OutOf + b.OutOf), r.Rows[4].Points / r.Rows[4].OutOf
}

// How conclusions compare: a right guess without evidence earns little; a careful
// 'not decided yet, next is …' earns most; wrong against plain evidence earns
// nothing.
func TestConclusionScale(t *testing.T) {
	cases := []struct {
		name   string
		make   func() *shop
		lo, hi float64 // of the claim
	}{
		{"right, with readings that point to it", func() *shop {
			s := lowThree()
			s.wet(3, 117.5)
			s.wet(2, 205)
			s.conclude(FamilyValveLeak, SureLikely, "leakage", 3)
			return s
		}, 1, 1},
		{"right, with readings that leave it open", func() *shop {
			s := lowThree()
			s.conclude(FamilyValveLeak, SureLikely, "leakage", 3)
			return s
		}, 0.5, 0.7},
		{"right guess, no reading", func() *shop {
			s := newShop(bank4)
			s.in.Key = Key{Family: FamilyValveLeak, Cylinders: []int{3}}
			s.conclude(FamilyValveLeak, SureCertain, "leakage", 3)
			return s
		}, 0.05, 0.2},
		{"right guess, one cylinder read", func() *shop {
			s := newShop(bank4)
			s.in.Key = Key{Family: FamilyValveLeak, Cylinders: []int{3}}
			s.run(1, 130, 185)
			s.conclude(FamilyValveLeak, SureLikely, "leakage", 3)
			return s
		}, 0.05, 0.55},
		{"undecided, good next test", func() *shop {
			s := lowThree()
			s.conclude(FamilyUndecided, SureLikely, "wet")
			return s
		}, 0.8, 0.95},
		{"undecided, no next test", func() *shop {
			s := lowThree()
			s.conclude(FamilyUndecided, SureLikely, "")
			return s
		}, 0.1, 0.35},
		{"undecided, a test that tells nothing", func() *shop {
			s := lowThree()
			s.conclude(FamilyUndecided, SureLikely, "vacuum")
			return s
		}, 0.1, 0.35},
		{"undecided without a reading", func() *shop {
			s := newShop(bank4)
			s.conclude(FamilyUndecided, SureGuess, "repeat")
			return s
		}, 0, 0},
		{"undecided though the readings tell", func() *shop {
			s := lowThree()
			s.wet(3, 117.5)
			s.wet(2, 205)
			s.conclude(FamilyUndecided, SureLikely, "leakage")
			return s
		}, 0.4, 0.6},
		{"wrong against plain evidence", func() *shop {
			s := lowThree()
			s.wet(3, 117.5)
			s.wet(2, 205)
			s.conclude(FamilyRingOrBore, SureCertain, "none", 3)
			return s
		}, 0, 0},
		{"sound though one is plainly low", func() *shop {
			s := lowThree()
			s.conclude(FamilySound, SureCertain, "none")
			return s
		}, 0, 0},
		{"right family, wrong cylinder", func() *shop {
			s := lowThree()
			s.wet(3, 117.5)
			s.wet(2, 205)
			s.conclude(FamilyValveLeak, SureLikely, "leakage", 2)
			return s
		}, 0, 0},
		{"wrong, but the readings left it open", func() *shop {
			s := lowThree()
			s.conclude(FamilyRingOrBore, SureLikely, "wet", 3)
			return s
		}, 0.15, 0.35},
		{"everything at once", func() *shop {
			s := lowThree()
			for _, f := range Families() {
				s.conclude(f, SureLikely, "leakage", 3)
			}
			return s
		}, 0, 0.35},
		{"nothing", func() *shop { return lowThree() }, 0, 0},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			claim, row := conclusion(c.make())
			assert.GreaterOrEqual(t, claim, c.lo)
			assert.LessOrEqual(t, claim, c.hi)
			if c.hi == 0 {
				assert.LessOrEqual(t, row, 0.0)
			}
		})
	}
}

// Certain on readings that leave it open earns less than likely.
func TestCertainIsNotLikely(t *testing.T) {
	grade := func(sure string) float64 {
		s := lowThree()
		s.conclude(FamilyValveLeak, sure, "leakage", 3)
		_, row := conclusion(s)
		return row
	}
	assert.Greater(t, grade(SureLikely), grade(SureCertain))
	assert.Equal(t, grade(SureLikely), grade(SureGuess))
	assert.Equal(t, grade(SureCertain), grade(""), "unsaid is no better than too sure")
}

// Another answer the scenario accepts is worth as much, if the readings allow it.
func TestAcceptedAnswers(t *testing.T) {
	s := lowThree()
	s.in.Key.Accept = []Finding{{Family: FamilyUndecided}}
	s.conclude(FamilyUndecided, SureLikely, "leakage")
	claim, _ := conclusion(s)
	assert.Equal(t, 1.0, claim)
}

// With every cylinder low and even at normal speed nothing is decided until oil
// has been in; afterwards timing and rings stand apart.
func TestAllLowUntilWet(t *testing.T) {
	start := func(family string) *shop {
		s := newShop(bank4)
		s.in.Key = Key{Family: family}
		s.prepare()
		s.dry([]float64{125, 127.5, 125, 125})
		s.again(1, 125)
		return s
	}
	s := start(FamilyValveTiming)
	s.conclude(FamilyUndecided, SureLikely, "wet")
	careful, _ := conclusion(s)

	s = start(FamilyValveTiming)
	s.conclude(FamilyValveTiming, SureCertain, "none")
	hasty, _ := conclusion(s)

	s = start(FamilyValveTiming)
	s.wet(1, 140)
	s.conclude(FamilyValveTiming, SureLikely, "timing_marks")
	told, _ := conclusion(s)

	s = start(FamilyRingOrBore)
	s.wet(1, 170)
	s.conclude(FamilyRingOrBore, SureLikely, "leakage")
	rings, _ := conclusion(s)

	assert.Greater(t, careful, hasty)
	assert.Greater(t, told, careful)
	assert.Equal(t, 1.0, told)
	assert.Equal(t, 1.0, rings)
}

// Slow cranking recognised is a finding, not a fault of the student's.
func TestSlowCrankingRecognised(t *testing.T) {
	s := newShop(bank4)
	s.in.Key = Key{Family: FamilySlowCranking, Accept: []Finding{{Family: FamilySound}}, NextTests: []string{"charge_battery"}}
	s.rpm, s.volts = 165, 8.2
	s.prepare()
	s.dry([]float64{165, 162.5, 160, 157.5})
	s.conclude(FamilySlowCranking, SureLikely, "charge_battery")
	s.putBack()
	r := Grade(s.in)
	assert.Empty(t, missed(r))
	assert.Equal(t, 100.0, r.Points)
}

// Naming the method fault that lay over a real one does not dilute the real one.
func TestMethodFaultBesideARealOne(t *testing.T) {
	s := valveAttempt()
	s.in.Key.MethodFault = MethodThrottleShut
	s.in.Sheet.Findings = append(s.in.Sheet.Findings, Finding{Family: FamilyMethodOrGauge})
	assert.Equal(t, 100.0, Grade(s.in).Points)
}

// Evidence that was never there is not evidence.
func TestEvidenceMustBeThere(t *testing.T) {
	s := soundAttempt()
	s.in.Sheet.Evidence = []string{"dry", "spec", "wet", "repeat"}
	l, _ := line(Grade(s.in), "evidence_backed")
	assert.Equal(t, l.OutOf/2, l.Points)
	assert.Contains(t, l.Facts, word("missing", "wet"))
	assert.Contains(t, l.Facts, word("missing", "repeat"))

	s = soundAttempt()
	s.in.Sheet.Evidence = nil
	got := missed(Grade(s.in))
	assert.Contains(t, got, "evidence_backed")
	assert.Contains(t, got, "evidence_enough")
}

// Readings handed over were taken with the throttle shut; taken again the right
// way all is well. 'Sound' and 'it was the method' are both borne out.
func TestHandedOverMethodFault(t *testing.T) {
	for _, family := range []string{FamilySound, FamilyMethodOrGauge} {
		s := newShop(bank4)
		s.in.Key = Key{
			Family: FamilySound, Accept: []Finding{{Family: FamilyMethodOrGauge}}, NextTests: []string{"none"},
			MethodFault: MethodThrottleShut,
		}
		s.prepare()
		s.dry([]float64{185, 187.5, 185, 182.5})
		s.conclude(family, SureCertain, "none")
		s.putBack()
		assert.Equalf(t, 100.0, Grade(s.in).Points, family)
	}
	// Without such readings there is nothing that would make it the method.
	s := soundAttempt()
	s.in.Key.Accept = []Finding{{Family: FamilyMethodOrGauge}}
	s.in.Sheet.Findings = []Finding{{Family: FamilyMethodOrGauge}}
	assert.Contains(t, missed(Grade(s.in)), "conclusion_fits_readings")
}

// Slow at first, then on charge and done again: it was the battery, and that is
// known from the student's own runs.
func TestSlowThenCharged(t *testing.T) {
	s := newShop(bank4)
	s.in.Key = Key{Family: FamilySlowCranking, MethodFault: MethodSlowCranking}
	s.prepare()
	s.run(1, 110, 165, func(r *record.Run) { r.SpeedRPM, r.BatteryMinV = 165, 8.2 })
	s.dry([]float64{185, 187.5, 185, 182.5})
	s.conclude(FamilySlowCranking, SureLikely, "none")
	s.putBack()
	assert.Empty(t, missed(Grade(s.in)))
}
