package class

import (
	"crankbay/diagnose"
	"crankbay/scenarios"
	"crankbay/scenarios/book"
)

// An Answer is one line of the instructor's sheet: what a student was given, and what
// is right for it.
type Answer struct {
	Name    string            `json:"name"`
	ID      string            `json:"id,omitempty"`
	Who     string            `json:"who"`                  // as on the link and on the attempt
	Variant string            `json:"variant"`              // id of the scenario
	Link    string            `json:"link"`                 // fragment, without the #
	Extra   int               `json:"extra_time,omitempty"` // [%]
	Minutes float64           `json:"minutes,omitempty"`    // at the bench, extra time included; 0 is no limit
	Key     diagnose.Key      `json:"key"`
	Faults  []scenarios.Fault `json:"faults"`
	Dry     []book.Reading    `json:"dry"` // by the book, as read off the dial
	Wet     []book.Reading    `json:"wet,omitempty"`
}

// Answers lists the answers of a set.
func (c *Class) Answers(set []*Variant) ([]Answer, error) {
	all := make([]Answer, 0, len(set))
	for _, v := range set {
		link, err := c.Assignment(v).Link()
		if err != nil {
			return nil, err
		}
		minutes := 0.0
		if v.Scenario.Work != nil {
			minutes = v.Scenario.Work.Minutes
		}
		all = append(all, Answer{
			Name: v.Student.Name, ID: v.Student.ID, Who: v.Student.Label(), Variant: v.Scenario.ID, Link: link,
			Extra: v.Student.Extra, Minutes: minutes,
			Key: v.Scenario.Key, Faults: v.Scenario.Faults, Dry: v.Dry, Wet: v.Wet,
		})
	}
	return all, nil
}
