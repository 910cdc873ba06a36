package diagnose

import "slices"

// worth says how much a test can tell under a pattern: 3 it names the fault or its
// place, 2 it parts the causes, 1 it adds something, 0 it tells nothing that is not
// known. The rows follow the table of patterns: what each is told apart by. The
// figures are ours.
func worth(pattern, test string) int {
	for _, row := range worthTable() {
		if row.pattern != pattern {
			continue
		}
		for _, t := range row.tests {
			if t.test == test {
				return t.worth
			}
		}
	}
	return 0
}

type testWorth struct {
	test  string
	worth int
}

type worthRow struct {
	pattern string
	tests   []testWorth
}

func worthTable() []worthRow {
	low := []testWorth{
		{"repeat", 3}, {"leakage", 3}, {"wet", 2}, {"lash", 2}, {"borescope", 1}, {"cooling_pressure", 1}, {"current", 1},
		{"running", 1}, {"second_gauge", 1}, {"plug_look", 1}, {"refit", 1}, {"vacuum", 1},
	}
	unread := []testWorth{
		{"repeat", 3}, {"power_balance", 2}, {"current", 2}, {"vacuum", 1}, {"plug_look", 1}, {"leakage", 1}, {"second_gauge", 1},
		{"open_throttle", 3}, {"charge_battery", 3},
	}
	return []worthRow{
		{PatternNothing, unread}, {PatternPartial, unread}, {PatternMethod, unread}, {PatternSlow, unread},
		{PatternWander, []testWorth{{"repeat", 3}, {"second_gauge", 2}, {"borescope", 2}, {"leakage", 2}, {"lash", 1}, {"plug_look", 1}}},
		{PatternOneLow, low}, {PatternSeveral, low}, {PatternPartLow, low}, {PatternMethodLo, low},
		{PatternPair, []testWorth{
			{"leakage", 3}, {"repeat", 2}, {"refit", 2}, {"cooling_pressure", 2}, {"wet", 1}, {"borescope", 1}, {"lash", 1},
			{"current", 1}, {"second_gauge", 1}, {"plug_look", 1},
		}},
		{PatternBankLow, []testWorth{
			{"leakage", 3}, {"timing_marks", 3}, {"lash", 2}, {"wet", 2}, {"repeat", 2}, {"second_gauge", 1}, {"vacuum", 1},
			{"current", 1}, {"plug_look", 1},
		}},
		{PatternAllLow, []testWorth{
			{"leakage", 3}, {"timing_marks", 3}, {"second_gauge", 2}, {"repeat", 2}, {"wet", 2}, {"lash", 2}, {"vacuum", 1},
			{"borescope", 1}, {"running", 1}, {"plug_look", 1}, {"charge_battery", 1},
		}},
		{PatternAllHigh, []testWorth{
			{"timing_marks", 3}, {"borescope", 3}, {"second_gauge", 2}, {"repeat", 2}, {"plug_look", 1}, {"vacuum", 1},
		}},
		{PatternOneHigh, []testWorth{
			{"repeat", 3}, {"borescope", 3}, {"running", 2}, {"second_gauge", 1}, {"current", 1}, {"plug_look", 1}, {"leakage", 1},
		}},
		{PatternWithin, []testWorth{
			{"running", 3}, {"power_balance", 2}, {"current", 2}, {"back_pressure", 2}, {"lash", 2}, {"vacuum", 2}, {"leakage", 1},
			{"timing_marks", 1}, {"borescope", 1}, {"cooling_pressure", 1}, {"plug_look", 1},
		}},
	}
}

const (
	// dear: a test costs clearly more than another from this ratio of minutes on, and
	// dearBy minutes at least; below it nobody in a shop would argue.
	dear   = 1.6
	dearBy = 2.5
)

// A taken is one confirming test as it was begun.
type taken struct {
	test     string
	cylinder int
	event    int // of the timeline
	at       moment
	minutes  float64 // by the card
	better   string  // a cheaper one that would have told as much, or empty
	cheaper  float64 // its minutes
	worth    int     // of this one at that moment
	pattern  string  // what the readings looked like then
	settled  bool    // it was decided by then what is wrong
}

// taken lists the confirming tests in the order in which they were begun, each kind
// once, and holds each against what was known when it was.
func (c *court) taken() []taken {
	var out []taken
	var done []string
	gauge, tester := "", 0
	for i, e := range c.t.events {
		test := ""
		switch {
		case e.Kind == kindTesterOn:
			tester = e.Cylinder
		case e.Kind == kindAir && e.Choice == "on":
			test, e.Cylinder = "leakage", tester
		case e.Kind == kindClamp && e.Choice == "on":
			test = "current"
		case e.Kind == kindPipe && e.Choice == "on":
			test = "vacuum"
		case e.Kind == kindOne && e.Choice == "disabled":
			test = "running"
		case e.Kind == kindOil:
			test = "wet"
		case e.Kind == kindGauge && gauge != "" && e.Choice != gauge:
			test = "second_gauge"
		default:
			test = testOf(e.Kind)
		}
		if e.Kind == kindGauge && gauge == "" {
			gauge = e.Choice
		}
		if test == "" || slices.Contains(done, test) {
			continue
		}
		done = append(done, test)
		out = append(out, c.judgeTaken(taken{test: test, cylinder: e.Cylinder, event: i, at: c.t.at(i)}, i))
	}
	return out
}

// testOf returns the test that a kind of action is by itself.
func testOf(kind string) string {
	switch kind {
	case kindLash:
		return "lash"
	case kindTiming:
		return "timing_marks"
	case kindBorescope:
		return "borescope"
	case kindCooling:
		return "cooling_pressure"
	case kindBalance:
		return "power_balance"
	}
	return ""
}

// judgeTaken asks what was known when a test was begun, what it could tell beyond
// that, and whether a cheaper one would have told as much.
func (c *court) judgeTaken(t taken, i int) taken {
	e := c.knownAt(i)
	j := c.judge(e)
	p := c.planner()
	t.pattern, t.settled = j.Pattern, j.Decided && j.Pattern != PatternWithin
	p.opened = p.opened && c.openedBy(i)
	t.minutes = p.minutes(e, j, t.test)
	t.worth = p.worth(j, t.test)
	if t.worth > 0 {
		t.better, t.cheaper = p.better(e, j, t.test)
	}
	return t
}

// A planner weighs what a test can tell against its minutes on one engine.
type planner struct {
	card   Card
	called []string // tests that complaint and history of the job call for
	opened bool     // the engine has been cranked with something off it
	n      int      // cylinders
}

func (c *court) planner() planner {
	return planner{card: c.in.Card, called: c.in.Key.NextTests, opened: c.t.crank < len(c.t.events), n: c.n}
}

// worth is what a test can still tell: nothing once it is decided, unless it is one
// of those that would part what is left. What complaint and history of the job call
// for is always worth doing.
func (p planner) worth(j Judgement, test string) int {
	w := worth(j.Pattern, test)
	if test == "current" && !HumpsCompare(p.n) {
		w = 0
	}
	if slices.Contains(p.called, test) {
		w = max(w, 2)
	}
	if j.Decided && j.Pattern != PatternWithin && !slices.Contains(j.Next, test) {
		return 0
	}
	return w
}

// HumpsCompare reports whether an engine of so many cylinders can have its cylinders
// compared by the current of its starter. From seven on less than 120° lie between two
// compressions, and what one cylinder gives back is what the next one needs; see package
// instrument. One alone has nothing to be compared with.
func HumpsCompare(cylinders int) bool { return cylinders > 1 && cylinders <= 6 }

// openedBy reports whether plugs were out when event i happened.
func (c *court) openedBy(i int) bool {
	open := 0
	for _, e := range c.t.events[:i] {
		switch e.Kind {
		case kindPlugOut:
			open++
		case kindPlugIn:
			open--
		}
	}
	return open > 0
}

// closing is what it takes to put the engine together for a test with its plugs in,
// beyond a minute for each plug [min]: torque and leads.
const closing = 4.0

// minutes is what a test takes as things stand: the card's figure, and the plugs back
// in first where it needs them in.
func (p planner) minutes(e Evidence, j Judgement, test string) float64 {
	m := p.card.Minutes.Of(test, len(j.Suspects))
	switch test {
	case "current", "vacuum", "running", "power_balance":
		if m > 0 && p.opened && p.card.PlugsOut {
			m += closing + float64(e.Cylinders)
		}
	}
	return m
}

// better returns the best test not yet done that tells as much as this one for
// clearly less time, or almost as much for a third of it; empty when there is none.
// Repeating a reading has a rule of its own.
func (p planner) better(e Evidence, j Judgement, test string) (string, float64) {
	own, worthOwn := p.minutes(e, j, test), p.worth(j, test)
	best, cost, tells := "", 0.0, 0
	for _, other := range NextTests() {
		o, w := p.minutes(e, j, other), p.worth(j, other)
		switch {
		case other == test || other == "repeat" || o <= 0 || e.Did(other, j) || !p.possible(other, j):
		case !slices.Contains(j.Next, other) || w < worthOwn && (w < 2 || own < 3*o):
		case own < dear*o || own-o < dearBy:
		case w > tells || w == tells && o < cost:
			best, cost, tells = other, o, w
		}
	}
	return best, cost
}

// possible reports whether a test can be made on this engine.
func (p planner) possible(test string, j Judgement) bool {
	switch test {
	case "wet":
		return p.card.OilML > 0
	case "lash":
		return p.card.LashCheck
	case "refit":
		return j.Pattern == PatternPair
	case "power_balance":
		return !p.opened // before anything comes off
	}
	return true
}

// teardown is a test that nobody makes on a suspicion while cheaper ones are left,
// and that is put to the customer first [min].
const teardown = 60.0

// Best returns the test worth making next on an engine with this card, from what has
// been read and tested so far: the one that tells most, or a cheaper one that tells
// as much. Empty when it is decided, but for feelers that part a burnt valve from a
// tight one, or when what is left tells little or costs an hour: then it is named on
// the sheet and not made.
func Best(e Evidence, j Judgement, c Card) string {
	p := planner{card: c, opened: true, n: e.Cylinders}
	best, cost, tells := "", 0.0, 1
	for _, test := range j.Next {
		m, w := p.minutes(e, j, test), p.worth(j, test)
		switch {
		case j.Decided && test != "lash", test == "repeat", m <= 0, m > teardown, e.Did(test, j), !p.possible(test, j):
		case w > tells || w == tells && w > 1 && m < cost:
			best, cost, tells = test, m, w
		}
	}
	if best == "" {
		return ""
	}
	if other, _ := p.better(e, j, best); other != "" {
		return other
	}
	return best
}
