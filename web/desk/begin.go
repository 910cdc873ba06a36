package desk

import (
	"crankbay/diagnose"
	"crankbay/scenarios"
	"crankbay/scenarios/attempt"
	"crankbay/scenarios/compose"
)

// kindListed is one kind of fault as an author sets it.
type kindListed struct {
	Kind    string         `json:"kind"`
	Of      string         `json:"of"` // one of the places of package scenarios
	Which   string         `json:"which,omitempty"`
	Choice  []string       `json:"choice,omitempty"`
	Numbers []numberListed `json:"numbers"`
	Answer  compose.Answer `json:"answer"`
}

type numberListed struct {
	Name  string  `json:"name"`
	Unit  string  `json:"unit,omitempty"`
	Lo    float64 `json:"lo"`
	Hi    float64 `json:"hi"`
	Whole bool    `json:"whole,omitempty"`
}

// choices is all an author can choose from.
type choices struct {
	Kinds    []kindListed `json:"kinds"`
	Families []string     `json:"families"`
	Next     []string     `json:"next_tests"`
	Tests    []string     `json:"tests"` // that can be allowed
	Hide     []string     `json:"hide"`  // what can be kept from students
	Modes    []string     `json:"modes"`
	Rules    []string     `json:"rules"` // of limits
}

// faultsCommand lists the kinds of fault with their units and ranges, and what else
// can be chosen.
func faultsCommand([]byte, Progress) (any, error) {
	out := choices{
		Families: diagnose.Families(), Next: diagnose.NextTests(), Tests: scenarios.Tests(), Hide: scenarios.Hidden(),
		Modes: attempt.Modes(), Rules: diagnose.RuleIDs(),
	}
	for _, k := range scenarios.FaultKinds() {
		l := kindListed{Kind: k.Name, Of: k.Place, Which: k.Which, Choice: k.Choice, Answer: compose.AnswerOf(k.Name)}
		for _, n := range k.Numbers {
			l.Numbers = append(l.Numbers, numberListed{n.Name, n.Unit, n.Lo, n.Hi, n.Whole()})
		}
		out.Kinds = append(out.Kinds, l)
	}
	return out, nil
}

// engineListed is an engine that an author can begin with.
type engineListed struct {
	ID        string         `json:"id"`
	Name      scenarios.Text `json:"name"`
	Cylinders int            `json:"cylinders"`
}

// scenarioListed is one of the catalogue as an instructor sees it, with what is wrong.
type scenarioListed struct {
	ID     string         `json:"id"`
	Title  scenarios.Text `json:"title"`
	Engine string         `json:"engine"`
	Family string         `json:"family"`
}

// enginesCommand lists the engines of the catalogue, each once, and its scenarios.
func enginesCommand([]byte, Progress) (any, error) {
	out := struct {
		Engines   []engineListed   `json:"engines"`
		Scenarios []scenarioListed `json:"scenarios"`
	}{}
	seen := map[string]bool{}
	for _, s := range scenarios.Catalogue() {
		out.Scenarios = append(out.Scenarios, scenarioListed{s.ID, s.Title, s.Engine.ID, s.Key.Family})
		if e := s.Engine; !seen[e.ID] {
			seen[e.ID] = true
			out.Engines = append(out.Engines, engineListed{e.ID, e.Name, e.Cylinders})
		}
	}
	return out, nil
}

// beginRequest asks for a scenario to change: one of the catalogue, one that somebody
// has as a file, or an engine with nothing wrong.
type beginRequest struct {
	Do       string `json:"do"`
	Scenario string `json:"scenario"` // id in the catalogue
	Engine   string `json:"engine"`   // id of an engine, instead
	Text     string `json:"text"`     // text of a file, instead
}

// beginCommand returns the text of the scenario in its usual form.
func beginCommand(request []byte, _ Progress) (any, error) {
	var r beginRequest
	if err := decode(request, &r); err != nil {
		return nil, err
	}
	s, err := r.found()
	if err != nil {
		return nil, err
	}
	text, err := s.Encode()
	if err != nil {
		return nil, trouble(ErrScenario, "text", err.Error())
	}
	return struct {
		Text string `json:"text"`
	}{string(text) + "\n"}, nil
}

func (r *beginRequest) found() (*scenarios.Scenario, error) {
	switch {
	case r.Text != "":
		return readScenario(r.Text)
	case r.Engine != "":
		if s := sound(r.Engine); s != nil {
			return s, nil
		}
		return nil, trouble(ErrUnknown, "id", r.Engine)
	}
	if s := scenarios.Find(r.Scenario); s != nil {
		return s, nil
	}
	return nil, trouble(ErrUnknown, "id", r.Scenario)
}

// sound is an engine of the catalogue with nothing wrong, nil for one that is not
// there. Card, tools and the day are those of a scenario that has it, one in which it
// is sound if there is one.
func sound(engine string) *scenarios.Scenario {
	var found *scenarios.Scenario
	for _, s := range scenarios.Catalogue() {
		if s.Engine.ID == engine && (found == nil || found.Key.Family != diagnose.FamilySound && s.Key.Family == diagnose.FamilySound) {
			found = s
		}
	}
	if found == nil {
		return nil
	}
	s := *found
	s.Faults, s.Method, s.Work = []scenarios.Fault{}, nil, nil
	s.Key = diagnose.Key{Family: diagnose.FamilySound, Cylinders: []int{}}
	s.Trains, s.Difficulty = []string{"procedure", "reading"}, 1
	// What a customer says belongs to the scenario, like in a file of the catalogue.
	s.Title = scenarios.Text{EN: "Compression test, please", ES: "Prueba de compresión, por favor"}
	s.Complaint = scenarios.Text{EN: "Please test the compression.", ES: "Quiero que le midan la compresión."}
	s.History = scenarios.Text{EN: "Nothing is known.", ES: "No se sabe nada."}
	return &s
}
