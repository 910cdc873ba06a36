package diagnose

import (
	"crankbay/sim/record"
	"crankbay/sim/unit"
)

// An Input is everything a grade is made from.
type Input struct {
	Card      Card
	Key       Key
	Banks     [][]int // cylinders of each bank in the order they stand
	Cylinders int     // of the engine
	Record    record.Record
	Sheet     Sheet
	Ambient   unit.Pressure // of the day [Pa absolute]; it corrects the limits once. 0: as at sea level
	Opinion   []Opinion     // lines of another judge, none for none
	Mode      string        // reasons, alone or grade; reported, not scored
	Hints     int           // hints used; reported beside the score
	Weights   Weights       // zero means DefaultWeights
}

// Weights are the points of the five rows; the instructor's to set. They need
// not add up to 100.
type Weights struct {
	Prepare  float64 `json:"prepare"`
	Measure  float64 `json:"measure"`
	Record   float64 `json:"record"`
	Choose   float64 `json:"choose"`
	Conclude float64 `json:"conclude"`
}

// An Opinion is one line that another judge adds to a row: what the student's own
// evidence allowed to be said, say. Whoever makes it sees no more than Grade does,
// and keeps its texts under its rule's name. With a share of 0 it is reported and
// not scored.
type Opinion struct {
	Row      string  // one of RowNames
	Rule     string  // name of the line
	Share    float64 // of its row, beside the shares of the other lines, [0, 20]
	Part     float64 // how much of its share is earned, [0, 1]
	Passed   bool
	Tick     int64
	Minutes  float64
	Cylinder int
	Facts    []Fact
}

// DefaultWeights is our own weighting (common practice gives no figures; the
// rubrics seen weigh performing the test and interpreting it about equally).
func DefaultWeights() Weights {
	return Weights{Prepare: 20, Measure: 25, Record: 15, Choose: 15, Conclude: 25}
}

// Validate reports every wrong weight; nil when all is well.
func (w Weights) Validate() error {
	var f faults
	f.inside("prepare", w.Prepare, 0, 1000)
	f.inside("measure", w.Measure, 0, 1000)
	f.inside("record", w.Record, 0, 1000)
	f.inside("choose", w.Choose, 0, 1000)
	f.inside("conclude", w.Conclude, 0, 1000)
	if sum := w.Prepare + w.Measure + w.Record + w.Choose + w.Conclude; !(sum > 0) {
		f.inside("sum", sum, 1, 5000)
	}
	return f.join()
}

// PassMark is the share of all points a pass needs, beside all gates kept. Our
// own choice (common practice, no source): seven tenths.
const PassMark = 0.70

// RowMark is the share of its points that every row needs for a pass: careful hands
// can't make up for a wrong conclusion, nor a lucky one for careless hands. Our own
// choice (common practice, no source): four tenths.
const RowMark = 0.40

// A Result is the grade. Same input, same bytes.
type Result struct {
	Rows     []Row         `json:"rows"`
	Points   float64       `json:"points"`
	OutOf    float64       `json:"out_of"`
	PassMark float64       `json:"pass_mark"` // share of OutOf that a pass needs
	RowMark  float64       `json:"row_mark"`  // share of its points that every row needs for it
	Low      []string      `json:"low"`       // names of the rows below it
	Pass     bool          `json:"pass"`      // all gates kept, points ≥ pass_mark · out_of, and no row low
	Gates    []Line        `json:"gates"`     // safety gates; one not kept stops the pass
	Mode     string        `json:"mode"`
	Hints    int           `json:"hints"`
	Library  string        `json:"library,omitempty"` // digest of the likelihood library that a second judge's lines rest on; empty: by the rules alone
	Rules    []RuleVerdict `json:"rules"`             // every limit rule side by side
	Readings []Seen        `json:"readings"`          // what the verdicts rest on, by cylinder
}

// A Row is one of prepare, measure, record, choose and conclude.
type Row struct {
	Name   string  `json:"name"`
	Points float64 `json:"points"`
	OutOf  float64 `json:"out_of"`
	Lines  []Line  `json:"lines"`
}

// A Line is what one rule of the trade has to say, with the numbers for its
// sentence. The text keys are rule.<Rule>.passed and rule.<Rule>.failed; what was never
// begun is named by rule.<Rule>.name.
type Line struct {
	Rule     string  `json:"rule"`
	Passed   bool    `json:"passed"`   // kept wherever it could be; points may be fewer when not every cylinder was tested
	Never    bool    `json:"never"`    // the step it is about was never begun; of a gate: nothing came up that could have broken it
	Points   float64 `json:"points"`   // below nothing: what it takes off its whole row
	OutOf    float64 `json:"out_of"`   // 0 for a line that earns nothing
	Tick     int64   `json:"tick"`     // when it happened; 0 when it never did, or before the first cranking
	Minutes  float64 `json:"minutes"`  // the same by the clock on the wall, which hands move too [min]
	Cylinder int     `json:"cylinder"` // 0 for the whole engine
	Facts    []Fact  `json:"facts"`
}

// A Fact is one number of a sentence, or one word given by its key (a family, a
// next test). Unit is one of "", Pa, Pa/min, %, °, °C, V, rpm, ml, mm, N·m, s, min. The same name
// can come several times (one cylinder after the other); a sentence lists them.
// Key is a family, next test, field, kind of evidence, pattern, standing, method
// fault (RunFaults), caution, card item, sureness, switch, or not_said.
type Fact struct {
	Name  string  `json:"name"`
	Value float64 `json:"value"`
	Unit  string  `json:"unit"`
	Key   string  `json:"key,omitempty"`
}

// A RuleVerdict is what one limit rule says about the dry readings.
type RuleVerdict struct {
	Rule    string  `json:"rule"`
	Counts  bool    `json:"counts"` // the rule of this engine's card
	Known   bool    `json:"known"`  // false: not enough readings, or the page gives no figure
	Passed  bool    `json:"passed"`
	Lowest  int     `json:"lowest"`  // cylinder
	Highest int     `json:"highest"` // cylinder
	Value   float64 `json:"value"`   // what the rule compares: a ratio, or Pa
	Limit   float64 `json:"limit"`   // with what, same unit
	// Floor is what the lowest must read besides [Pa], by a rule that has such a part, for
	// the air of the day; 0: none.
	Floor unit.Gauge `json:"floor_pa,omitempty"`
	Low   unit.Gauge `json:"low_pa"`  // lowest reading [Pa]
	High  unit.Gauge `json:"high_pa"` // highest reading [Pa]
}
