package session

import (
	"crankbay/diagnose"
	"crankbay/scenarios"
	"crankbay/scenarios/book"
	"crankbay/scenarios/coach"
	"crankbay/sim/bench"
	"crankbay/sim/unit"
)

// view is everything of an attempt that changes only by actions.
type view struct {
	Scenario scenarioView      `json:"scenario"`
	Mode     string            `json:"mode"`
	Who      string            `json:"who"`
	State    bench.State       `json:"state"`
	Spec     *specView         `json:"spec"`
	Sheet    diagnose.Sheet    `json:"sheet"`
	Tests    testsView         `json:"tests"`
	Runs     int               `json:"runs"`
	Section  bool              `json:"section"` // the section view is allowed now
	Hints    int               `json:"hints"`
	Suggest  *coach.Suggestion `json:"suggest"`
	News     []news            `json:"news"`
	HandedIn bool              `json:"handed_in"`
	Broken   bool              `json:"broken"`
}

type scenarioView struct {
	ID         string              `json:"id"`
	Title      scenarios.Text      `json:"title"`
	Complaint  scenarios.Text      `json:"complaint"`
	History    scenarios.Text      `json:"history"`
	Engine     engineView          `json:"engine"`
	Card       cardView            `json:"card"`
	Pages      []pageView          `json:"pages"`
	Gauges     []gaugeView         `json:"gauges"`
	Adapters   []scenarios.Adapter `json:"adapters"`
	AmbientKPa float64             `json:"ambient_kpa"`
	AmbientC   float64             `json:"ambient_c"`
	HandedOver []book.Reading      `json:"handed_over"`
	Work       *scenarios.Work     `json:"work"` // how the job is to be worked; null when it is free
}

type engineView struct {
	engineName
	Banks       [][]int        `json:"banks"`
	FiringOrder []int          `json:"firing_order"`
	Plug        scenarios.Plug `json:"plug"`
	CamDrive    string         `json:"cam_drive"`
	Cams        string         `json:"cams"`
	BoreMM      float64        `json:"bore_mm"`
	StrokeMM    float64        `json:"stroke_mm"`
	RodMM       float64        `json:"rod_mm"`
	Key         string         `json:"key"`           // what the ignition key does to cranking, or empty
	ThreadsMaxC float64        `json:"threads_max_c"` // 0: no limit of its own
}

// cardView is the card without its limits: those are looked up.
type cardView struct {
	diagnose.Card
	Limits *diagnose.Limits `json:"limits"`
}

type pageView struct {
	ID         string `json:"id"`
	EngineCode string `json:"engine_code"`
}

type gaugeView struct {
	ID            string  `json:"id"`
	RangePSI      float64 `json:"range_psi"`
	GraduationPSI float64 `json:"graduation_psi"`
}

type specView struct {
	Page          string  `json:"page"`
	StandardKPa   float64 `json:"standard_kpa"`
	MinimumKPa    float64 `json:"minimum_kpa"`
	DifferenceKPa float64 `json:"difference_kpa"`
}

// news is something the bench noticed since the last view.
type news struct {
	Kind     string  `json:"kind"` // caution, hazard, fact, stands
	Key      string  `json:"key"`
	Cylinder int     `json:"cylinder,omitempty"`
	Number   float64 `json:"number,omitempty"`
	Tick     int64   `json:"tick"`
}

// View answers with everything slow. News is told once.
func (c *Core) View() string {
	if c.s == nil {
		return fail(ErrNothingOpen)
	}
	return encode(c.view())
}

func (c *Core) view() *view {
	b, sheet := c.s.Bench(), c.s.Sheet()
	rec := b.Record()
	v := &view{
		Scenario: c.scenarioView(), Mode: c.mode, Who: c.who, State: b.State(), Sheet: sheet, Runs: len(rec.Runs),
		Section: c.section(), Hints: c.s.Hints(), HandedIn: sheet.HandedIn, Broken: c.broken, News: c.news(), Tests: c.tests(),
	}
	v.Spec = c.spec(v.State.Page)
	v.State.HandedIn = sheet.HandedIn
	v.Scenario.Card = cardView{c.scenario.Card, c.limits(v.Spec)}
	if (c.mode == ModeReasons || c.hinted()) && !sheet.HandedIn {
		s := coach.Next(coach.Of(c.scenario, b, sheet))
		v.Suggest = &s
	}
	return v
}

// hinted reports whether the last thing done was asking for a hint. The advice
// holds until something else is done.
func (c *Core) hinted() bool {
	events := c.s.Bench().Record().Events
	return c.mode == ModeAlone && len(events) > 0 && events[len(events)-1].Kind == bench.KindHint
}

func (c *Core) scenarioView() scenarioView {
	s := c.scenario
	ambient, air := s.Air()
	out := scenarioView{
		ID: s.ID, Title: s.Title, Complaint: s.Complaint, History: s.History, Adapters: s.Tools.Adapters,
		AmbientKPa: ambient, AmbientC: air, HandedOver: c.handed, Work: s.Work,
		Engine: engineView{
			engineName: engineName{s.Engine.ID, s.Engine.Name, s.Engine.Layout, s.Engine.Cylinders},
			Banks:      s.Engine.Banks, FiringOrder: s.Engine.FiringOrder, Plug: s.Engine.Plug, CamDrive: s.Engine.CamDrive,
			Cams: s.Engine.Cams, BoreMM: s.Engine.BoreMM, StrokeMM: s.Engine.StrokeMM, RodMM: s.Engine.RodMM,
			Key: s.Engine.Key, ThreadsMaxC: s.Engine.ThreadsMaxC,
		},
	}
	for _, p := range s.SpecPages {
		out.Pages = append(out.Pages, pageView{p.ID, p.EngineCode})
	}
	for _, g := range s.Tools.Gauges {
		out.Gauges = append(out.Gauges, gaugeView{g.ID, g.RangePSI, g.GraduationPSI})
	}
	return out
}

// spec is what the page looked up last says, right or wrong.
func (c *Core) spec(page string) *specView {
	for _, p := range c.scenario.SpecPages {
		if p.ID == page {
			return &specView{p.ID, p.StandardKPa, p.MinimumKPa, p.DifferenceKPa}
		}
	}
	return nil
}

// limits are what the page looked up last says, with the rule of the engine's
// card. A wrong page gives its own figures without a sign that it is wrong: which
// page is right is for the student to find out.
func (c *Core) limits(page *specView) *diagnose.Limits {
	if page == nil {
		return nil
	}
	l := c.scenario.Card.Limits
	l.Standard = unit.Gauge(page.StandardKPa * 1000)
	l.Minimum = unit.Gauge(page.MinimumKPa * 1000)
	l.DifferenceMax = unit.Gauge(page.DifferenceKPa * 1000)
	return &l
}

// asked reports whether an action of one kind stands in the log.
func (c *Core) asked(kind string) bool {
	for _, e := range c.s.Bench().Record().Events {
		if e.Kind == kind {
			return true
		}
	}
	return false
}

// news returns what the bench noticed since it was last asked.
func (c *Core) news() []news {
	events := c.s.Bench().Record().Events
	out := []news{}
	for _, e := range events[min(c.told, len(events)):] {
		switch e.Kind {
		case bench.EventCaution, bench.EventHazard, bench.EventFact:
			n := news{e.Kind, e.Choice, e.Cylinder, e.Number, e.Tick}
			if e.Choice == "spec_page" {
				n.Number = 0 // it says whether the page is the right one
			}
			out = append(out, n)
		case bench.EventLeak, bench.EventPumped: // read it off the dial
			out = append(out, news{"stands", e.Kind, e.Cylinder, 0, e.Tick})
		}
	}
	c.told = len(events)
	return out
}

// handOver runs the test that the history tells of, once, when an attempt is
// opened: readings as the other shop read them off this gauge. Nil when the
// history tells of none.
func handOver(s *scenarios.Scenario) ([]book.Reading, error) {
	if s.Method == nil {
		return nil, nil
	}
	r, err := book.Run(s, book.Options{Kind: book.Dry, AsRead: true})
	return r.Readings, err
}
