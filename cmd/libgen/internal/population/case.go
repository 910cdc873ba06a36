package population

import (
	"math/rand/v2"

	"crankbay/diagnose/reason"
	"crankbay/scenarios"
)

// A Slot is one family and where it sits. Cylinders is empty for a whole engine; of a
// pair the worse comes first.
type Slot struct {
	Family    string
	Scope     string
	Cylinders []int
}

// A Job is one engine to be simulated. Faults of several families can sit in cylinders
// of one engine and don't disturb each other much: that saves time. A family of pairs,
// banks or engines has the engine to itself.
type Job struct {
	Number   int
	Families []string
}

// stream keeps the random numbers of a case apart from those of any other.
func stream(seed uint64, number int) dice {
	return dice{rand.New(rand.NewPCG(seed, 0x9e3779b97f4a7c15*uint64(number+1)))}
}

// Plan lists the jobs that give each family its examples. share is how many families
// of cylinders may sit in one engine, 1 for a population to be judged on.
func Plan(seed uint64, per map[string]int, share int) []Job {
	var cyl []string
	var jobs []Job
	for _, f := range reason.Families() {
		for range per[f.Name] {
			if f.Scope == reason.ScopeCylinder {
				cyl = append(cyl, f.Name)
			} else {
				jobs = append(jobs, Job{Families: []string{f.Name}})
			}
		}
	}
	d := stream(seed, -1)
	d.Shuffle(len(cyl), func(i, k int) { cyl[i], cyl[k] = cyl[k], cyl[i] })
	for len(cyl) > 0 {
		n := min(share, len(cyl))
		jobs = append(jobs, Job{Families: cyl[:n:n]})
		cyl = cyl[n:]
	}
	d.Shuffle(len(jobs), func(i, k int) { jobs[i], jobs[k] = jobs[k], jobs[i] })
	for i := range jobs {
		jobs[i].Number = i
	}
	return jobs
}

// lash says whether a job is about clearances: hydraulic lifters have none.
func (j Job) lash() bool {
	for _, f := range j.Families {
		switch f {
		case reason.TightLash, reason.BankLash, reason.LashAll:
			return true
		}
	}
	return false
}

// A Case is one engine with what is wrong with it.
type Case struct {
	Number   int
	Base     int // of Bases
	Scenario *scenarios.Scenario
	Slots    []Slot
}

// Draw makes the engine of a job.
func Draw(seed uint64, j Job, bases []Base) Case {
	d := stream(seed, j.Number)
	families := map[string]reason.Family{}
	for _, f := range reason.Families() {
		families[f.Name] = f
	}
	first := families[j.Families[0]]
	b := pickBase(bases, first.Scope, len(j.Families), j.lash(), d)
	s := clone(bases[b].Sound)
	vary(s, d)
	c := Case{Number: j.Number, Base: b, Scenario: s}
	switch first.Scope {
	case reason.ScopeEngine:
		notRun(s, first.Name, d)
		s.Faults = append(s.Faults, engineFaults(first.Name, s, d)...)
		c.Slots = []Slot{{first.Name, first.Scope, nil}}
	case reason.ScopeBank:
		bank := 1 + d.IntN(len(s.Engine.Banks))
		s.Faults = append(s.Faults, bankFaults(first.Name, s, bank, d)...)
		c.Slots = []Slot{{first.Name, first.Scope, s.Engine.Banks[bank-1]}}
	case reason.ScopePair:
		bank := s.Engine.Banks[d.IntN(len(s.Engine.Banks))]
		at := d.IntN(len(bank) - 1)
		a, k := bank[at], bank[at+1]
		if d.chance(0.5) {
			a, k = k, a
		}
		s.Faults = append(s.Faults, pairFaults(s, a, k, d)...)
		c.Slots = []Slot{{first.Name, first.Scope, []int{a, k}}}
	default:
		for i, at := range d.Perm(s.Engine.Cylinders)[:len(j.Families)] {
			family := j.Families[i]
			notRun(s, family, d)
			s.Faults = append(s.Faults, cylinderFaults(family, s, at+1, d)...)
			c.Slots = append(c.Slots, Slot{family, reason.ScopeCylinder, []int{at + 1}})
		}
	}
	return c
}

// pickBase draws a design that has room: as many healthy cylinders as faulty ones, two
// banks for a family of banks, neighbours for a pair.
func pickBase(bases []Base, scope string, faulty int, lash bool, d dice) int {
	room := func(s *scenarios.Scenario) bool {
		if lash && !s.Card.LashCheck {
			return false
		}
		switch scope {
		case reason.ScopeBank:
			return len(s.Engine.Banks) > 1 && s.Engine.Cams != "block" && len(s.Engine.Banks[0]) > 1
		case reason.ScopePair:
			return len(s.Engine.Banks[0]) > 1
		case reason.ScopeCylinder:
			return s.Engine.Cylinders >= 2*faulty
		}
		return true
	}
	total := 0.0
	for _, b := range bases {
		if room(b.Sound) {
			total += b.Weight
		}
	}
	at := d.Float64() * total
	last := 0
	for i, b := range bases {
		if !room(b.Sound) {
			continue
		}
		last = i
		if at -= b.Weight; at < 0 {
			break
		}
	}
	return last
}

// notRun makes the engine cold, three times out of four, where running it warm would
// mend what is wrong with it: a flake is blown away, a film comes back.
func notRun(s *scenarios.Scenario, family string, d dice) {
	switch family {
	case reason.CarbonFlake, reason.WashedBore, reason.BoresDry:
		if d.chance(0.75) {
			s.Conditions.CoolantC = s.Conditions.AmbientC
		}
	}
}
