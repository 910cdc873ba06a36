package population

import (
	"crankbay/diagnose/reason"
)

// spoil makes the dry reading of one cylinder a bad one: an adapter that is not tight,
// a turn too few, a dial read wrong. It is drawn, not simulated (assumption): mostly
// too low, anything from a little to all of it.
func (t *Tests) spoil(i int, d dice) {
	share := d.between(0.3, 0.95)
	switch {
	case d.chance(0.15):
		share = d.between(1.04, 1.15)
	case d.chance(0.15): // an adapter that seals nothing, a hose half on
		share = d.between(0, 0.3)
	}
	t.Dry[i] *= share
	t.First[i] *= share * d.between(0.8, 1.2)
}

// Tested measures a case, with the bad readings that belong to it.
func (c Case) Tested(seed uint64, asRead bool) (Tests, error) {
	t, err := Measure(c.Scenario, asRead)
	if err != nil {
		return t, err
	}
	d := stream(seed^0x5ca1ab1e, c.Number)
	for _, s := range c.Slots {
		i := 0
		if s.Scope == reason.ScopeCylinder {
			i = s.Cylinders[0] - 1
		}
		switch s.Family {
		case reason.OneOff:
			t.spoil(i, d)
		case reason.NotHere: // a cylinder without a spark, seven times out of ten
			if d.chance(0.7) {
				t.Pull[d.IntN(len(t.Pull))] = 0
			}
		case reason.IntakeDead:
			if d.chance(0.5) {
				t.scale(i, d.between(0.05, 1))
			}
		case reason.ExhaustDead:
			if d.chance(0.25) {
				t.scale(i, d.between(1.05, 1.6))
			}
		}
	}
	return t, nil
}

// scale changes all dry and wet readings of a cylinder. It stands for what the test by
// the book does not show (assumptions): a cylinder that never breathes in reads the one
// charge that was in it, a full one only from the bottom of its stroke; one that never
// breathes out has been reported far above its neighbours, which the model does not
// give.
func (t *Tests) scale(i int, by float64) {
	for _, v := range [][]float64{t.Dry, t.First, t.Wet, t.Repeat, t.Second} {
		v[i] *= by
	}
}
