package collect

import (
	"errors"
	"strconv"
	"strings"

	"crankbay/diagnose"
	"crankbay/scenarios"
	"crankbay/scenarios/attempt"
	"crankbay/scenarios/class"
	"crankbay/scenarios/code"
	"crankbay/sim/bench"
)

// A Row is what came of one hand-in.
type Row struct {
	Source   string           `json:"source"`
	Form     string           `json:"form"`
	Status   string           `json:"status"` // one of Statuses
	Holds    bool             `json:"holds"`  // the replay agrees, and there is a grade
	Who      string           `json:"who"`    // as the attempt says
	Student  string           `json:"student,omitempty"`
	Owner    string           `json:"owner,omitempty"` // whose variant it is, when that is another student
	Scenario string           `json:"scenario,omitempty"`
	Mode     string           `json:"mode,omitempty"`
	Tick     int64            `json:"tick,omitempty"`   // where it differs, or what can't have been done
	Action   int              `json:"action,omitempty"` // its number in the log, from 1; 0 when no single one is meant
	What     string           `json:"what,omitempty"`   // which version is another: model, seed, scenario digest
	Then     string           `json:"then,omitempty"`   // that of the attempt
	Now      string           `json:"now,omitempty"`    // that of this program
	Text     string           `json:"text,omitempty"`   // what is wrong in the program's own words, which are English
	Grader   int              `json:"grader,omitempty"` // version of the grader then, when it is another now
	HandedIn bool             `json:"handed_in"`
	Actions  int              `json:"actions"`
	Marks    int              `json:"marks"`
	Minutes  float64          `json:"minutes"`
	Percent  float64          `json:"percent"` // of all points
	Pass     bool             `json:"pass"`
	Missteps []string         `json:"missteps,omitempty"`   // see Missteps
	Again    int              `json:"again,omitempty"`      // which hand-in of the same student it is, from 2
	SameAs   string           `json:"same_as,omitempty"`    // source of a hand-in with the same log, whoever it is of
	Extra    int              `json:"extra_time,omitempty"` // what the student got beyond the job's minutes [%]
	Tags     []string         `json:"tags,omitempty"`       // the instructor's own names of the tasks
	Override *Override        `json:"override,omitempty"`
	Grade    *diagnose.Result `json:"grade,omitempty"`
	Sheet    *diagnose.Sheet  `json:"sheet,omitempty"`
	Log      string           `json:"log,omitempty"` // digest of the last mark, hexadecimal: it holds the whole log
}

// An Override is what an instructor decided instead. It stays beside what the replay
// gave, and so does the reason.
type Override struct {
	Percent *float64 `json:"percent"` // of all points; nil when only the comment counts
	Comment string   `json:"comment"`
}

// A Collector knows what hand-ins are held against. It is only read while it works, so
// several rows can be worked out at once.
type Collector struct {
	find     attempt.Lookup
	open     func([]byte) ([]byte, error)
	class    *class.Class
	variants []*class.Variant
	byID     map[string]int // variant id → student
	byWho    map[string]int // folded label, else name → student, or shared
	judge    attempt.Judge
}

// shared stands for a name that several students have and none has as a label.
const shared = -1

// GradeBy has grades also say what the evidence allowed, by a judge.
func (k *Collector) GradeBy(j attempt.Judge) { k.judge = j }

// New returns a collector. find looks scenarios up, scenarios.Find by default. c is
// the class hand-ins are held against, or nil; its variants are made again. open opens
// what is sealed, or is nil when there is no key.
func New(find attempt.Lookup, c *class.Class, open func([]byte) ([]byte, error)) (*Collector, error) {
	if find == nil {
		find = scenarios.Find
	}
	k := &Collector{find: find, open: open, class: c, byID: map[string]int{}, byWho: map[string]int{}}
	if c == nil {
		return k, nil
	}
	var err error
	if k.variants, err = c.Again(); err != nil {
		return nil, err
	}
	for i, v := range k.variants {
		k.byID[v.Scenario.ID] = i
		k.byWho[class.Fold(v.Student.Label())] = i // no two have the same
	}
	for i, v := range k.variants {
		key := class.Fold(v.Student.Name)
		if at, known := k.byWho[key]; !known {
			k.byWho[key] = i
		} else if at != i && class.Fold(k.variants[max(at, 0)].Student.Label()) != key {
			k.byWho[key] = shared // by names alone; a label comes first
		}
	}
	return k, nil
}

// Class returns the class hand-ins are held against, or nil.
func (k *Collector) Class() *class.Class { return k.class }

// Row plays one hand-in again, grades it, and says what it is.
func (k *Collector) Row(h HandIn) Row {
	r, _ := k.Verified(h)
	return r
}

// Verified is Row, and gives what the replay came to for whoever wants to look
// further; nil when the attempt doesn't hold.
func (k *Collector) Verified(h HandIn) (Row, *attempt.Report) {
	r := Row{Source: h.Label(), Form: h.Form}
	data, form := h.Data, h.Form
	if form == FormSealed {
		if k.open == nil {
			r.Status = StatusSealed
			return r, nil
		}
		plain, err := k.open(data)
		if err != nil {
			r.Status, r.Text = StatusSealed, err.Error()
			return r, nil
		}
		inner := Find(Source{Name: h.Source, Data: plain})
		if len(inner) != 1 || inner[0].Form == FormSealed {
			return r.unreadable("what was sealed is not one hand-in"), nil
		}
		data, form = inner[0].Data, inner[0].Form
	}
	switch form {
	case FormFile:
		f, err := attempt.Decode(data)
		if err != nil {
			return r.unreadable(err.Error()), nil
		}
		return k.hold(r, f, func(find attempt.Lookup) (attempt.Report, error) { return attempt.Verify(f, find) })
	case FormCode:
		b, err := code.Decode(string(data))
		if err != nil {
			return r.unreadable(err.Error()), nil
		}
		return k.hold(r, b.File, b.Verify)
	}
	return r.unreadable("neither an attempt nor a code"), nil
}

func (r Row) unreadable(why string) Row {
	r.Status, r.Text = StatusUnreadable, strip(why)
	return r
}

// strip takes the name of a package off a sentence.
func strip(s string) string {
	for _, p := range []string{"attempt: ", "code: "} {
		s = strings.TrimPrefix(s, p)
	}
	return s
}

// hold holds a whole attempt against replay and roster.
func (k *Collector) hold(r Row, f *attempt.File, verify func(attempt.Lookup) (attempt.Report, error)) (Row, *attempt.Report) {
	r.Who, r.Scenario, r.Mode, r.Actions, r.Marks = f.Who, f.Scenario, f.Mode, len(f.Actions), len(f.Marks)
	r.Log = strconv.FormatUint(f.Marks[len(f.Marks)-1].Digest, 16)
	claimed, known := k.byWho[class.Fold(f.Who)]
	if known && claimed >= 0 {
		r.Student, r.Extra = k.variants[claimed].Student.Label(), k.variants[claimed].Student.Extra
	}
	if k.class != nil {
		r.Tags = k.class.Tags
	}
	report, err := verify(k.lookupFor(f.ScenarioDigest))
	if err != nil {
		return r.refused(err), nil
	}
	report.Grade = report.Session.GradeBy(k.judge)
	r.Holds, r.HandedIn, r.Minutes = true, report.HandedIn, report.Minutes
	grade, sheet := report.Grade, report.Session.Sheet()
	r.Grade, r.Sheet, r.Pass = &grade, &sheet, grade.Pass
	r.Marks = len(report.Session.Bench().Marks()) + 1
	if grade.OutOf > 0 {
		r.Percent = 100 * grade.Points / grade.OutOf
	}
	r.Missteps = missteps(grade, sheet)
	if report.GraderThen != attempt.GraderVersion {
		r.Grader = report.GraderThen
	}
	if r.Status = StatusOK; !r.HandedIn {
		r.Status = StatusOpen
	}
	return k.placed(r), &report
}

// lookup finds a variant of the class, else what is known otherwise.
func (k *Collector) lookup(id string) *scenarios.Scenario {
	if i, ok := k.byID[id]; ok {
		return k.variants[i].Scenario
	}
	if k.class != nil && k.class.Scenario.ID == id {
		return k.class.Scenario
	}
	return k.find(id)
}

// lookupFor is lookup for an attempt at a scenario of a digest: a student's variant may
// have been handed in before its time was made longer.
func (k *Collector) lookupFor(digest string) attempt.Lookup {
	return func(id string) *scenarios.Scenario {
		s := k.lookup(id)
		if i, ours := k.byID[id]; ours && s.Digest() != digest {
			for _, before := range k.class.Earlier(i, s) {
				if before.Digest() == digest {
					return before
				}
			}
		}
		return s
	}
}

// placed says whose variant an attempt was made on.
func (k *Collector) placed(r Row) Row {
	if k.class == nil {
		return r
	}
	owner, ours := k.byID[r.Scenario]
	if !ours {
		r.Status = StatusWrongVariant
		return r
	}
	label := k.variants[owner].Student.Label()
	if r.Student == "" && k.byWho[class.Fold(r.Who)] == shared && class.Fold(r.Who) == class.Fold(k.variants[owner].Student.Name) {
		r.Student, r.Extra = label, k.variants[owner].Student.Extra // of those with this name, whose engine it is
	}
	switch {
	case r.Student == "":
		r.Owner, r.Status = label, StatusNotOnRoster
	case r.Student != label:
		r.Owner, r.Status = label, StatusOther
	case k.class.Mode != "" && r.Mode != k.class.Mode:
		r.Status, r.Then, r.Now = StatusWrongMode, r.Mode, k.class.Mode
	}
	return r
}

// refused says why an attempt doesn't hold.
func (r Row) refused(err error) Row {
	r.Text = strip(err.Error())
	if v := (*attempt.VersionError)(nil); errors.As(err, &v) {
		r.What, r.Then, r.Now = v.What, v.Then, v.Now
		if r.Status = StatusVersion; v.What != "model" {
			r.Status = StatusChanged
		}
		return r
	}
	if d := (*bench.Diverged)(nil); errors.As(err, &d) {
		r.Status, r.Tick = StatusDiffers, d.Tick
		return r
	}
	if x := (*bench.Impossible)(nil); errors.As(err, &x) {
		r.Status, r.Tick = StatusImpossible, x.Tick
		if x.Action < r.Actions {
			r.Action = x.Action + 1
		}
		return r
	}
	r.Status = StatusUnknown
	return r
}
