package desk

import (
	"slices"
	"strings"
	"sync"

	"crankbay/scenarios"
	"crankbay/scenarios/attempt"
	"crankbay/scenarios/class"
	"crankbay/scenarios/collect"
)

// findRequest is everything that was dropped and pasted.
type findRequest struct {
	Do      string       `json:"do"`
	Sources []sourceText `json:"sources"`
}

// handIn is one hand-in as it arrived. What was sealed is opened between finding and
// collecting, by the program that can (web/jsapi/seal).
type handIn struct {
	Source string `json:"source"` // with its number within the source, if there are several
	Form   string `json:"form"`
	Text   string `json:"text"` // empty when it is none
}

// findCommand takes the hand-ins apart, so that they can be collected some at a time.
func findCommand(request []byte, _ Progress) (any, error) {
	var r findRequest
	if err := decode(request, &r); err != nil {
		return nil, err
	}
	out := []handIn{}
	for _, s := range r.Sources {
		for _, h := range collect.Find(collect.Source{Name: s.Name, Data: []byte(s.Text)}) {
			one := handIn{Source: h.Label(), Form: h.Form}
			if h.Form != collect.FormNone {
				one.Text = string(h.Data)
			}
			out = append(out, one)
		}
	}
	return struct {
		HandIns []handIn `json:"hand_ins"`
	}{out}, nil
}

// collectRequest are hand-ins, found already or still in their sources.
type collectRequest struct {
	Do        string       `json:"do"`
	Sources   []sourceText `json:"sources"`
	HandIns   []handIn     `json:"hand_ins"`
	Class     string       `json:"class"`     // text of the class file, or empty
	Scenarios []string     `json:"scenarios"` // texts of scenarios beyond the catalogue
}

// sourceText is one file or pasted text. What was sealed is opened before, by the
// program that can (web/jsapi/seal), and comes in as what it was.
type sourceText struct {
	Name string `json:"name"`
	Text string `json:"text"`
}

// collected is what came of all of it.
type collected struct {
	Rows    []collect.Row   `json:"rows"`
	Picture collect.Picture `json:"picture"`
	CSV     string          `json:"csv"`
}

// collectCommand plays every hand-in again, grades it and holds it against the roster.
func collectCommand(request []byte, tell Progress) (any, error) {
	var r collectRequest
	if err := decode(request, &r); err != nil {
		return nil, err
	}
	k, err := r.collector()
	if err != nil {
		return nil, err
	}
	var in []collect.HandIn
	for _, s := range r.Sources {
		in = append(in, collect.Find(collect.Source{Name: s.Name, Data: []byte(s.Text)})...)
	}
	for _, h := range r.HandIns {
		in = append(in, collect.HandIn{Source: h.Source, Form: h.Form, Data: []byte(h.Text)})
	}
	out := collected{Rows: make([]collect.Row, 0, len(in))}
	for i, h := range in {
		out.Rows = append(out.Rows, k.Row(h))
		tell(i+1, len(in))
	}
	return out.finish(k)
}

func (c collected) finish(k *collect.Collector) (any, error) {
	k.Finish(c.Rows)
	c.Picture = k.Picture(c.Rows)
	var b strings.Builder
	if err := collect.WriteCSV(&b, c.Rows); err != nil {
		return nil, trouble(ErrRequest, "text", err.Error())
	}
	c.CSV = b.String()
	return c, nil
}

// lastOne is the collector that was made last. A page asks for a few hand-ins at a time,
// all held against the same class, whose variants take seconds to make; what is answered
// doesn't depend on it.
var lastOne struct {
	sync.Mutex
	class     string
	scenarios []string
	made      *collect.Collector
}

// collector is what hand-ins are held against, made anew when that is another than before.
func (r *collectRequest) collector() (*collect.Collector, error) {
	lastOne.Lock()
	defer lastOne.Unlock()
	if lastOne.made != nil && lastOne.class == r.Class && slices.Equal(lastOne.scenarios, r.Scenarios) {
		lastOne.made.GradeBy(judge) // who may have come since
		return lastOne.made, nil
	}
	k, err := r.newCollector()
	if err == nil {
		k.GradeBy(judge)
		lastOne.class, lastOne.scenarios, lastOne.made = r.Class, r.Scenarios, k
	}
	return k, err
}

func (r *collectRequest) newCollector() (*collect.Collector, error) {
	own := map[string]*scenarios.Scenario{}
	for _, text := range r.Scenarios {
		s, err := readScenario(text)
		if err != nil {
			return nil, err
		}
		own[s.ID] = s
	}
	var group *class.Class
	if r.Class != "" {
		var err error
		if group, err = class.Decode([]byte(r.Class)); err != nil {
			return nil, trouble(ErrClass, "text", err.Error())
		}
	}
	k, err := collect.New(func(id string) *scenarios.Scenario {
		if s := own[id]; s != nil {
			return s
		}
		return scenarios.Find(id)
	}, group, nil)
	if err != nil {
		return nil, trouble(ErrClass, "text", err.Error())
	}
	return k, nil
}

// tableRequest are rows as collect answered them, in one go or in several, with what
// the instructor decided about some.
type tableRequest struct {
	Do        string        `json:"do"`
	Rows      []collect.Row `json:"rows"`
	Class     string        `json:"class"`
	Scenarios []string      `json:"scenarios"` // as for collect, so that nothing has to be made anew
}

// tableCommand holds them against each other, counts, and writes them as a table for a
// gradebook.
func tableCommand(request []byte, _ Progress) (any, error) {
	var r tableRequest
	if err := decode(request, &r); err != nil {
		return nil, err
	}
	k, err := (&collectRequest{Class: r.Class, Scenarios: r.Scenarios}).collector()
	if err != nil {
		return nil, err
	}
	for i := range r.Rows {
		r.Rows[i].Again, r.Rows[i].SameAs = 0, ""
	}
	return collected{Rows: r.Rows}.finish(k)
}

// reportRequest asks for one student's report.
type reportRequest struct {
	Do        string     `json:"do"`
	Source    sourceText `json:"source"`
	Number    int        `json:"number"` // which hand-in of the source, from 1; 0 the first
	Class     string     `json:"class"`
	Scenarios []string   `json:"scenarios"`
}

// report is one hand-in with what is needed to go on: attempt and scenario as texts,
// for the commands about one attempt.
type report struct {
	Row      collect.Row `json:"row"`
	Attempt  string      `json:"attempt,omitempty"` // text of the file, every mark in it
	Scenario string      `json:"scenario,omitempty"`
}

// reportCommand works one hand-in out.
func reportCommand(request []byte, _ Progress) (any, error) {
	var r reportRequest
	if err := decode(request, &r); err != nil {
		return nil, err
	}
	all := collectRequest{Class: r.Class, Scenarios: r.Scenarios}
	k, err := all.collector()
	if err != nil {
		return nil, err
	}
	for _, h := range collect.Find(collect.Source{Name: r.Source.Name, Data: []byte(r.Source.Text)}) {
		if h.Number != r.Number && r.Number != 0 {
			continue
		}
		row, v := k.Verified(h)
		out := report{Row: row}
		if v == nil {
			return out, nil
		}
		return out.with(v)
	}
	return nil, trouble(ErrAttempt, "text", "no such hand-in in this source")
}

func (r report) with(v *attempt.Report) (any, error) {
	text, err := v.Session.Encode()
	if err != nil {
		return nil, trouble(ErrAttempt, "text", err.Error())
	}
	s, err := v.Session.Scenario().Encode()
	if err != nil {
		return nil, trouble(ErrScenario, "text", err.Error())
	}
	r.Attempt, r.Scenario = string(text), string(s)
	return r, nil
}
