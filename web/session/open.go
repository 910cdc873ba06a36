package session

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"

	"crankbay/scenarios"
	"crankbay/scenarios/attempt"
	"crankbay/sim/bench"
)

// entry is one scenario of the Yard. What is wrong with the engine stays out.
type entry struct {
	ID         string         `json:"id"`
	Title      scenarios.Text `json:"title"`
	Complaint  scenarios.Text `json:"complaint"`
	Engine     engineName     `json:"engine"`
	Trains     []string       `json:"trains"`
	Difficulty int            `json:"difficulty"`
}

type engineName struct {
	ID        string         `json:"id"`
	Name      scenarios.Text `json:"name"`
	Layout    string         `json:"layout"`
	Cylinders int            `json:"cylinders"`
}

// Catalogue answers with every scenario the core carries.
func (c *Core) Catalogue() string {
	out := []entry{}
	for _, s := range scenarios.Catalogue() {
		out = append(out, entry{
			ID: s.ID, Title: s.Title, Complaint: s.Complaint, Trains: s.Trains, Difficulty: s.Difficulty,
			Engine: engineName{s.Engine.ID, s.Engine.Name, s.Engine.Layout, s.Engine.Cylinders},
		})
	}
	return encode(out)
}

// Carry hands the core its scenarios, which lie beside it in the site, and answers
// with their number.
func (c *Core) Carry(text string) string {
	if err := scenarios.Carry(text); err != nil {
		return fail(ErrScenario, "text", err.Error())
	}
	return encode(len(scenarios.Catalogue()))
}

// request is what open takes.
type request struct {
	Scenario     string          `json:"scenario"`
	ScenarioFile json.RawMessage `json:"scenario_file"`
	Mode         string          `json:"mode"`
	Who          string          `json:"who"`
}

// Open starts a new attempt and answers with the view.
func (c *Core) Open(text string) string {
	var r request
	if err := decode(text, &r); err != nil {
		return fail(ErrRequest, "text", err.Error())
	}
	if r.Mode != ModeReasons && r.Mode != ModeAlone && r.Mode != ModeGrade {
		return fail(ErrRequest, "text", "mode "+r.Mode)
	}
	s, trouble := scenarioOf(r.Scenario, r.ScenarioFile)
	if trouble != "" {
		return trouble
	}
	a, err := attempt.New(s, attempt.Header{Mode: r.Mode, Who: r.Who})
	if err != nil {
		return fail(ErrRequest, "text", err.Error())
	}
	return c.take(a, s, r.Mode, r.Who)
}

// scenarioOf finds a scenario by its id or reads a file; the second value is an
// error text.
func scenarioOf(id string, file []byte) (*scenarios.Scenario, string) {
	if len(file) > 0 && string(file) != "null" {
		s, err := scenarios.Decode(file)
		if err != nil {
			return nil, fail(ErrScenario, "text", err.Error())
		}
		return s, ""
	}
	s := scenarios.Find(id)
	if s == nil {
		return nil, fail(ErrUnknown, "id", id)
	}
	return s, ""
}

// take makes an attempt the open one and answers with its view. What happened
// before is no news.
func (c *Core) take(a *attempt.Session, s *scenarios.Scenario, mode, who string) string {
	handed, err := handOver(s)
	if err != nil {
		return fail(ErrScenario, "text", err.Error())
	}
	*c = Core{s: a, scenario: s, mode: mode, who: who, selected: 1, handed: handed}
	c.teeth = bench.Teeth(s.Setup())
	c.told = len(a.Bench().Record().Events)
	b, n := a.Bench(), s.Engine.Cylinders
	b.Tap(func() {
		c.voice.hear(b.Engine(), n, c.state.Starter)
		c.damp(b)
	})
	c.look()
	return c.View()
}

// Resume takes an attempt up where it was left, by playing its log again, and
// answers with the view. scenarioFile is the text of the scenario when the
// catalogue doesn't carry it, else empty.
func (c *Core) Resume(text, scenarioFile string) string {
	if len(text) > maxText {
		return fail(ErrAttempt, "text", "too long")
	}
	f, err := attempt.Decode([]byte(text))
	if err != nil {
		return fail(ErrAttempt, "text", err.Error())
	}
	s, trouble := scenarioOf(f.Scenario, []byte(scenarioFile))
	if trouble != "" {
		return trouble
	}
	a, err := attempt.Resume(f, s)
	if err != nil {
		return fail(ErrAttempt, "text", err.Error())
	}
	return c.take(a, s, f.Mode, f.Who)
}

// unmarshalStrict reads one JSON value, refusing unknown fields and anything
// after it.
func unmarshalStrict(data []byte, v any) error {
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	if err := d.Decode(v); err != nil {
		return err
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return errors.New("more than one JSON value")
	}
	return nil
}
