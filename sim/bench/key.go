package bench

import "crankbay/sim/record"

// Key is what the ignition key does to the cranking of an engine. Service documents
// contradict each other about it because engines differ. Source: ProcedurePages2021.
type Key string

// What a key can do.
const (
	KeyPlain   Key = ""             // key or remote switch, all the same to the engine
	KeyFires   Key = "fires"        // the start signal opens the injectors on what the rail holds
	KeyValves  Key = "valves"       // without it the intake valves stay shut
	KeyService Key = "service_mode" // there is no starter a remote switch could reach
)

// railTurns is how many turns of the crank a rail feeds once the fuel is disabled
// [turns] (judgement: a second or two of cranking).
const railTurns = 8

// byKey prepares the engine for a starter that is switched by key or otherwise.
func (b *Bench) byKey(key bool) {
	if b.setup.Key == KeyValves && b.valvesShut == key {
		b.valvesShut = !key
		b.engine.SetIntake(key)
	}
	if b.setup.Key == KeyFires && key && b.hands.fuelOff && b.rail > 0 {
		b.caution("injectors_fire", 0)
	}
}

// injecting says whether fuel goes into the cylinders in the turn that is over: live
// fuel always, a disabled one as long as the key empties the rail.
func (b *Bench) injecting() bool {
	if !b.hands.fuelOff {
		b.rail = railTurns
		return true
	}
	if b.setup.Key != KeyFires || b.hands.remote || b.rail == 0 {
		return false
	}
	b.rail--
	return true
}

// forcePlate is what opening a drive-by-wire plate by hand does to it.
func (b *Bench) forcePlate(a record.Action) {
	if b.setup.DriveByWire && a.Choice == throttleOpen {
		b.caution("plate_forced", 0)
		b.hands.codes = true
	}
}

const (
	// threadSlack is how much hotter than its limit a head has to be for its threads
	// to be torn and not only strained [K] (judgement).
	threadSlack = 20.0
	// tornLeak is what a torn thread lets past a hose, Cd·A [m²]: as much as a missing
	// O-ring (judgement).
	tornLeak = noRingLeak
)

// strainThreads is what unscrewing a plug from a hot head does to its threads.
func (b *Bench) strainThreads(cylinder int) {
	limit := b.setup.ThreadsMaxC
	if limit == 0 || b.coolantC() <= limit {
		return
	}
	b.caution("hot_threads", cylinder)
	if b.coolantC() > limit+threadSlack {
		b.cyl[cylinder-1].torn = true
	}
}
