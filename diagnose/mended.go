package diagnose

import "crankbay/sim/record"

// unmended leaves out of a record what was measured on a cylinder after its valve
// clearance was set, and of the whole engine after any was: it says whether the repair
// helped, and no more what was wrong.
func unmended(rec record.Record) record.Record {
	var from [maxCylinders + 1]*record.Event // the first setting, by cylinder; 0 of any
	for i := range rec.Events {
		if e := &rec.Events[i]; e.Kind == kindSetLash && e.Cylinder >= 1 && e.Cylinder <= maxCylinders && from[e.Cylinder] == nil {
			from[e.Cylinder] = e
			if from[0] == nil {
				from[0] = e
			}
		}
	}
	if from[0] == nil {
		return rec
	}
	before := func(cylinder int, tick int64) bool {
		return cylinder < 0 || cylinder > maxCylinders || from[cylinder] == nil || tick <= from[cylinder].Tick
	}
	ends := map[int]int64{} // ticks at which runs ended, by ID
	runs := rec.Runs
	for _, r := range runs {
		ends[r.ID] = r.EndTick
	}
	rec.Runs = those(runs, func(r record.Run) bool { return r.Cylinder == 0 || before(r.Cylinder, r.EndTick) })
	rec.Pumped = those(rec.Pumped, func(p record.Pumped) bool { return before(p.Cylinder, p.Tick) })
	rec.Leaks = those(rec.Leaks, func(l record.Leak) bool {
		at := from[min(max(l.Cylinder, 0), maxCylinders)]
		return at == nil || l.Minutes <= at.Minutes
	})
	rec.Currents = those(rec.Currents, func(c record.Current) bool { return before(0, ends[c.Run]) })
	rec.Vacuums = those(rec.Vacuums, func(v record.Vacuum) bool { return before(0, ends[v.Run]) })
	rec.Balances = those(rec.Balances, func(b record.Balance) bool { return b.Minutes <= from[0].Minutes })
	return rec
}

// those copies what passes.
func those[T any](list []T, pass func(T) bool) (out []T) {
	for _, x := range list {
		if pass(x) {
			out = append(out, x)
		}
	}
	return out
}
