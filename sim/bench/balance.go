package bench

import "crankbay/sim/record"

// The power balance (common practice): the engine idles with its idle control held
// where it is, one cylinder after the other gets neither spark nor fuel, and the
// tachometer says how far the speed falls. Combustion is not in the model, so what a
// cylinder works is taken from the gas it moves:
//
//	work ∝ charge · seal
//
// where charge is what it draws in through its intake port in a working cycle, net of
// what it pushes back, and seal its highest pressure beside the best cylinder's.
//
// A plate that is nearly shut is choked: the air of a second does not change, so that
// torque goes as 1/speed. Friction hardly changes with speed there. Without the share
// w of the work the engine settles at
//
//	N = N₀ · (1 - w)
//
// What stays out: mixture, unequal spark, and what only shows under load.
const (
	balanceSettle = 2 * record.TicksPerSecond // of manifold and idle control
	balanceCycles = 4                         // working cycles measured
	balanceMost   = 4 * record.TicksPerSecond // longer than that takes at idle
)

// doPowerBalance starts the engine, takes the cylinders away one by one, and switches
// it off. It is done before anything comes off.
func (b *Bench) doPowerBalance(a record.Action) error {
	if err := plain(a); err != nil {
		return err
	}
	switch {
	case b.tests.dead != 0:
		return refuse("disabled_elsewhere", b.tests.dead)
	case b.hands.open:
		return refuse("throttle_held", 0)
	}
	if err := b.canRun(0); err != nil {
		return err
	}
	b.fire(or(b.setup.Minutes.PowerBalance, usual.PowerBalance))
	if !b.tests.pump.on {
		return nil
	}
	work := b.working()
	b.tests.pump = pumping{}
	b.engine.SetThrottle(0)
	b.Settle()
	b.noteBalance(work)
	return nil
}

// working runs the idling engine and returns what each cylinder works, in parts of
// all; nil when the attempt's ticks don't last.
func (b *Bench) working() []float64 {
	for i := 0; i < balanceSettle && b.rec.Tick < MaxTicks; i++ {
		b.step()
	}
	charge, peak := make([]float64, len(b.cyl)), make([]float64, len(b.cyl))
	turned := 0.0
	for i := 0; turned < balanceCycles*2*oneTurn; i++ {
		if i >= balanceMost || b.rec.Tick >= MaxTicks {
			return nil
		}
		b.step()
		turned += b.engine.Speed() / record.TicksPerSecond
		for c := range charge {
			_, out, _, _ := b.engine.LeakFlow(c + 1)
			charge[c] -= out
			peak[c] = max(peak[c], b.engine.Pressure(c+1))
		}
	}
	best, sum := 0.0, 0.0
	for _, p := range peak {
		best = max(best, p)
	}
	work := make([]float64, len(b.cyl))
	for c := range work {
		work[c] = max(0, charge[c]) * peak[c] / best
		sum += work[c]
	}
	for c := range work {
		if sum > 0 {
			work[c] /= sum
		}
	}
	return work
}

// noteBalance records what the tachometer showed. Below half of idle an engine dies
// before anybody reads it (judgement).
func (b *Bench) noteBalance(work []float64) {
	if work == nil {
		return
	}
	r := record.Balance{Tick: b.rec.Tick, Minutes: b.Minutes(), RPM: IdleRPM}
	for _, w := range work {
		rpm := to(rpmStep, IdleRPM*(1-w))
		if rpm < IdleRPM/2 {
			rpm = 0
		}
		r.Without = append(r.Without, rpm)
	}
	b.rec.Balances = append(b.rec.Balances, r)
}
