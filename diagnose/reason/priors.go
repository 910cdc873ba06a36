package reason

// A Prior is how often a family is met, as an instructor can change it.
type Prior struct {
	Family  string  `json:"family"`
	One     float64 `json:"one"`     // on one cylinder, pair, bank, or the engine
	Several float64 `json:"several"` // on more than one cylinder at once
}

// Priors is what is thought before any reading. The zero value stands for the
// defaults of [Families].
type Priors struct {
	List []Prior `json:"list"`
}

// DefaultPriors lists the defaults.
func DefaultPriors() Priors {
	var p Priors
	for _, f := range Families() {
		p.List = append(p.List, Prior{f.Name, f.Prior, f.Several})
	}
	return p
}

// of returns the priors of every family, in the order of Families: what the list says,
// the default for what it leaves out. Nonsense counts as the default.
func (p Priors) of(families []Family) []Prior {
	out := make([]Prior, len(families))
	for i, f := range families {
		out[i] = Prior{f.Name, f.Prior, f.Several}
		for _, q := range p.List {
			if q.Family == f.Name && q.One >= 0 && q.Several >= 0 && q.One <= mostPrior && q.Several <= mostPrior {
				out[i] = q
			}
		}
	}
	return out
}

// A change multiplies the prior of a family.
type change struct {
	family string
	factor float64
}

// What a word of the history makes more or less probable. The factors are assumptions
// (common practice, no source): about how much more often an old hand would meet the
// fault among engines with that history.
var historyTable = []struct {
	word    string
	changes []change
}{
	{"misfire", []change{{Sound, 0.1}, {NotHere, 1.3}, {ExhaustDead, 4}, {IntakeDead, 2}, {WeakSpring, 4}}},
	{"misfire_under_load", []change{{Sound, 0.1}, {NotHere, 1.3}, {BrokenLand, 4}, {ExhaustDead, 4}, {WeakSpring, 6}, {ExhaustBlocked, 2}}},
	{"no_complaint", []change{{Sound, 4}, {NotHere, 0.05}, {ByDesign, 4}, {Altitude, 4}, {ExhaustBlocked, 0.1}}},
	{"no_start", []change{{Sound, 0.3}, {TimingFar, 4}, {TimingLate, 2}, {BoresDry, 3}, {SlowCranking, 2}}},
	{"sudden", []change{{TimingFar, 4}, {TimingLate, 2}, {BankTiming, 2}, {BankBent, 2}, {ValveHeldOpen, 2}, {HoledPiston, 2}, {GasketBetween, 1.5}, {RingsAll, 0.3}, {WornRings, 0.5}}},
	{"stood_long", []change{{BoresDry, 8}, {ValveHeldOpen, 4}, {WornRings, 1.5}, {RingsAll, 0.7}}},
	{"fuel_washed", []change{{WashedBore, 8}, {BoresDry, 8}}},
	{"overheated", []change{{ExhaustLeak, 1.5}, {ValveHeldOpen, 1.5}, {GasketBetween, 4}, {GasketCoolant, 4}, {GasketOutside, 2}, {BrokenLand, 2}, {WornRings, 1.5}, {ScoredBore, 3}}},
	{"coolant_lost", []change{{GasketCoolant, 8}, {GasketBetween, 2}, {LiquidOne, 3}}},
	{"burns_oil", []change{{WornRings, 2}, {RingsAll, 2.5}, {BrokenLand, 1.5}, {ScoredBore, 1.5}}},
	{"crankcase_blows", []change{{WornRings, 3}, {RingsAll, 3}, {BrokenLand, 4}, {HoledPiston, 4}, {ScoredBore, 3}}},
	{"valve_noise", []change{{IntakeDead, 5}, {ExhaustDead, 5}, {WeakSpring, 2}}},
	{"valve_work", []change{{TightLash, 6}, {LashAll, 6}, {BankLash, 6}, {TimingLate, 2}, {TimingEarly, 2}, {BankTiming, 2}, {ValveHeldOpen, 2}}},
	{"timing_work", []change{{TimingLate, 6}, {TimingEarly, 6}, {TimingFar, 4}, {BankTiming, 6}, {BankBent, 3}}},
	{"cranks_slow", []change{{SlowCranking, 8}}},
	{"boosted", []change{{BrokenLand, 3}, {HoledPiston, 2}, {GasketBetween, 1.5}}},
	{"lash_checked", []change{{TightLash, 0.1}, {LashAll, 0.1}, {BankLash, 0.1}}},
	{"oil_helped", []change{{WornRings, 2.5}, {RingsAll, 2}, {WashedBore, 2.5}, {BoresDry, 3}, {ExhaustLeak, 0.5}, {IntakeLeak, 0.5}, {ValveHeldOpen, 0.5}, {GasketBetween, 0.5}}},
	{"oil_no_change", []change{{WornRings, 0.3}, {RingsAll, 0.5}, {WashedBore, 0.2}, {BoresDry, 0.2}}},
	{"water_in", []change{{LiquidOne, 6}, {ValveHeldOpen, 2}, {WornRings, 1.5}}},
	{"new_rings", []change{{RingsAll, 2}, {WornRings, 1.5}, {GaugeShifted, 1.5}}},
}

// Histories lists the words a history can be put in.
func Histories() []string {
	out := make([]string, len(historyTable))
	for i, h := range historyTable {
		out[i] = h.word
	}
	return out
}
