package reason

import "crankbay/sim/num"

// A Speaks is a reading that speaks for an explanation or against it.
type Speaks struct {
	Reading  string  `json:"reading"`  // one of Readings
	Cylinder int     `json:"cylinder"` // 0 for the whole engine, or for all together
	Value    float64 `json:"value"`    // in the unit of the evidence; 0 where it is no number
	Bits     float64 `json:"bits"`     // by how much it raised, or lowered, the odds [bits]
}

// What can speak.
const (
	ReadDry     = "dry"
	ReadOthers  = "dry_others" // the dry readings of all other cylinders
	ReadFirst   = "first"
	ReadWet     = "wet"
	ReadAgain   = "repeat"
	ReadSecond  = "second_gauge"
	ReadRefit   = "refit"
	ReadLeakage = "leakage"
	ReadHeard   = "heard"
	ReadHump    = "hump"
	ReadRunning = "running"
	ReadLash    = "lash"
	ReadBore    = "bore"
	ReadDead    = "dead"
	ReadLow     = "low" // in words
	ReadSpeed   = "speed"
	ReadVolts   = "volts"
	ReadVacuum  = "vacuum"
	ReadCooling = "cooling"
	ReadTiming  = "timing"
	ReadPage    = "page"   // standard or minimum
	ReadRatio   = "ratio"  // compression ratio
	ReadHeight  = "height" // air of the day
	ReadStated  = "stated" // throttle, plugs, strokes
	ReadHistory = "history"
)

// Readings lists what can speak.
func Readings() []string {
	return []string{
		ReadDry, ReadOthers, ReadFirst, ReadWet, ReadAgain, ReadSecond, ReadRefit, ReadLeakage, ReadHeard, ReadHump, ReadRunning, ReadLash, ReadBore,
		ReadDead, ReadLow, ReadSpeed, ReadVolts, ReadVacuum, ReadCooling, ReadTiming, ReadPage, ReadRatio, ReadHeight, ReadStated, ReadHistory,
	}
}

const (
	mostSpoken  = 5    // explanations that are spoken for
	leastSpoken = 0.02 // and how probable they have to be
	leastSays   = 0.25 // what is worth saying [bits]
	mostSays    = 6    // readings for an explanation, and against it
)

// speak finds what speaks for the first explanations and against them: each reading is
// left out in turn, and what the odds were without it is set against what they are.
func (o *Opinion) speak(e Evidence, p Priors) {
	n := 0
	named := set(0)
	for n < min(mostSpoken, len(o.Explanations)) && o.Explanations[n].Probability >= leastSpoken {
		for _, c := range o.Explanations[n].Cylinders {
			if len(o.Explanations[n].Cylinders) <= 2 {
				named |= setOf(c - 1)
			}
		}
		n++
	}
	if n == 0 {
		return
	}
	e = e.sane()
	for _, part := range parts(e, named) {
		without := o.state.without(part.without(e), p).opinion()
		for i := range o.Explanations[:n] {
			x := &o.Explanations[i]
			says := part.says
			says.Bits = (logOdds(x.Probability) - logOdds(without.probability(x))) / num.Log(2)
			switch {
			case says.Bits >= leastSays:
				x.For = append(x.For, says)
			case says.Bits <= -leastSays:
				x.Against = append(x.Against, says)
			}
		}
	}
	for i := range o.Explanations[:n] {
		x := &o.Explanations[i]
		sortBy(x.For, func(s *Speaks) float64 { return s.Bits })
		sortBy(x.Against, func(s *Speaks) float64 { return -s.Bits })
		x.For, x.Against = x.For[:min(len(x.For), mostSays)], x.Against[:min(len(x.Against), mostSays)]
	}
}

// logOdds holds probabilities off 0 and 1.
func logOdds(p float64) float64 {
	p = max(1e-6, min(p, 1-1e-6))
	return num.Log(p / (1 - p))
}

// probability finds an explanation again.
func (o *Opinion) probability(x *Explanation) float64 {
	for i := range o.Explanations {
		if y := &o.Explanations[i]; y.Family == x.Family && y.Group == x.Group && sameInts(y.Cylinders, x.Cylinders) {
			return y.Probability
		}
	}
	return 0
}

// A part is a reading that can be left out.
type part struct {
	says    Speaks
	each    func(*Cylinder) // leaves it out of one cylinder, or of all
	but     set             // of all but these
	whole   func(*Evidence) // leaves it out of the engine
	present bool
}

func (p part) without(e Evidence) Evidence {
	cyl := append([]Cylinder(nil), e.Cylinders...)
	e.Cylinders = cyl
	if p.whole != nil {
		p.whole(&e)
	}
	for i := range cyl {
		if p.each != nil && !p.but.has(i) && (p.says.Cylinder == 0 || p.says.Cylinder == i+1) {
			p.each(&cyl[i])
		}
	}
	return e
}

// parts lists the readings there are. Those of named cylinders speak for themselves.
func parts(e Evidence, named set) []part {
	var out []part
	add := func(p part) {
		if p.present {
			out = append(out, p)
		}
	}
	var unnamed Cylinder // what those show that nobody named
	others := part{says: Speaks{Reading: ReadOthers}, each: func(c *Cylinder) { c.Dry = Number{} }, but: named}
	for i := range e.Cylinders {
		c := &e.Cylinders[i]
		if !named.has(i) {
			others.present = others.present || c.Dry.Is
			unnamed.gather(c)
			continue
		}
		for _, k := range cylinderParts(c) {
			k.says.Cylinder = i + 1
			add(k)
		}
	}
	add(others)
	for _, k := range cylinderParts(&unnamed) {
		switch k.says.Reading {
		case ReadAgain, ReadSecond, ReadRunning, ReadDead:
			k.but, k.says.Value = named, 0
			add(k)
		}
	}
	together(e, add)
	h := len(e.History) > 0
	stated := e.Throttle != NotKnown || e.Plugs != NotKnown || e.Strokes != NotKnown
	timing := false
	for _, late := range e.Late {
		timing = timing || late.Is
	}
	for _, w := range []struct {
		name    string
		present bool
		value   float64
		drop    func(*Evidence)
	}{
		{ReadSpeed, e.Speed.Is, e.Speed.V, func(e *Evidence) { e.Speed = Number{} }},
		{ReadVolts, e.Volts.Is, e.Volts.V, func(e *Evidence) { e.Volts = Number{} }},
		{ReadVacuum, e.Vacuum.Is, e.Vacuum.V, func(e *Evidence) { e.Vacuum = Number{} }},
		{ReadCooling, e.Cooling != NotKnown, 0, func(e *Evidence) { e.Cooling = NotKnown }},
		{ReadTiming, timing, 0, func(e *Evidence) { e.Late = nil }},
		{ReadPage, e.Standard.Is || e.Minimum.Is, max(e.Standard.V, e.Minimum.V), func(e *Evidence) { e.Standard, e.Minimum = Number{}, Number{} }},
		{ReadRatio, e.Ratio.Is, e.Ratio.V, func(e *Evidence) { e.Ratio = Number{} }},
		{ReadHeight, e.Ambient.Is, e.Ambient.V, func(e *Evidence) { e.Ambient = Number{} }},
		{ReadStated, stated, 0, func(e *Evidence) { e.Throttle, e.Plugs, e.Strokes = NotKnown, NotKnown, NotKnown }},
		{ReadHistory, h, 0, func(e *Evidence) { e.History = nil }},
	} {
		add(part{says: Speaks{Reading: w.name, Value: w.value}, whole: w.drop, present: w.present})
	}
	return out
}

// gather notes what a cylinder has that is told of several together.
func (c *Cylinder) gather(o *Cylinder) {
	if len(o.Repeats) > 0 {
		c.Repeats = o.Repeats
	}
	for _, x := range [][2]*Number{{&c.Second, &o.Second}, {&c.Idle, &o.Idle}, {&c.Snap, &o.Snap}} {
		if x[1].Is {
			*x[0] = *x[1]
		}
	}
	if o.Dead != NotKnown {
		c.Dead = o.Dead
	}
}

// cylinderParts lists what is read of one cylinder and means something by itself.
func cylinderParts(c *Cylinder) []part {
	return []part{
		{says: Speaks{Reading: ReadDry, Value: c.Dry.V}, present: c.Dry.Is, each: func(c *Cylinder) { c.Dry = Number{} }},
		{says: Speaks{Reading: ReadAgain, Value: last(c.Repeats)}, present: len(c.Repeats) > 0, each: func(c *Cylinder) { c.Repeats = nil }},
		{says: Speaks{Reading: ReadSecond, Value: c.Second.V}, present: c.Second.Is, each: func(c *Cylinder) { c.Second = Number{} }},
		{says: Speaks{Reading: ReadWet, Value: c.Wet.V}, present: c.Wet.Is, each: func(c *Cylinder) { c.Wet = Number{} }},
		{says: Speaks{Reading: ReadRefit, Value: c.Refit.V}, present: c.Refit.Is, each: func(c *Cylinder) { c.Refit = Number{} }},
		{says: Speaks{Reading: ReadLeakage, Value: c.Leakage.V}, present: c.Leakage.Is, each: func(c *Cylinder) { c.Leakage = Number{} }},
		{says: Speaks{Reading: ReadHeard}, present: len(c.Heard) > 0, each: func(c *Cylinder) { c.Heard = nil }},
		{says: Speaks{Reading: ReadHump, Value: c.Hump.V}, present: c.Hump.Is, each: func(c *Cylinder) { c.Hump = Number{} }},
		{says: Speaks{Reading: ReadRunning, Value: c.Snap.V}, present: c.Idle.Is || c.Snap.Is, each: func(c *Cylinder) { c.Idle, c.Snap = Number{}, Number{} }},
		{says: Speaks{Reading: ReadLash}, present: c.LashIn.Is || c.LashEx.Is, each: func(c *Cylinder) { c.LashIn, c.LashEx = Number{}, Number{} }},
		{says: Speaks{Reading: ReadBore}, present: c.Bore != "", each: func(c *Cylinder) { c.Bore = "" }},
		{says: Speaks{Reading: ReadLow}, present: c.Low != NotKnown, each: func(c *Cylinder) { c.Low = NotKnown }},
		{says: Speaks{Reading: ReadDead}, present: c.Dead != NotKnown, each: func(c *Cylinder) { c.Dead = NotKnown }},
	}
}

func last(list []float64) float64 {
	if len(list) == 0 {
		return 0
	}
	return list[len(list)-1]
}

// together adds what only means something beside the other cylinders, when more than one
// has it, and what the cylinders that nobody named have.
func together(e Evidence, add func(part)) {
	first, wet, leak := 0, 0, 0
	for i := range e.Cylinders {
		c := &e.Cylinders[i]
		first += flag(c.First.Is)
		wet += flag(c.Wet.Is)
		leak += flag(c.Leakage.Is)
	}
	add(part{says: Speaks{Reading: ReadFirst}, present: first > 0, each: func(c *Cylinder) { c.First = Number{} }})
	add(part{says: Speaks{Reading: ReadWet}, present: wet > 1, each: func(c *Cylinder) { c.Wet = Number{} }})
	add(part{says: Speaks{Reading: ReadLeakage}, present: leak > 1, each: func(c *Cylinder) { c.Leakage, c.Heard = Number{}, nil }})
}

func flag(b bool) int {
	if b {
		return 1
	}
	return 0
}
