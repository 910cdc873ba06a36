//go:build !js

package guide

// A step is one part of a lesson: how long it takes, and the key of its texts,
// step.<Key>.head and .do, and where they are wanted .ask and .show.
type step struct {
	Minutes int
	Key     string
}

// A plan is a lesson from bell to bell.
type plan struct {
	ID    string
	Steps []step
}

// minutes is how long a lesson takes.
func (p plan) minutes() (sum int) {
	for _, s := range p.Steps {
		sum += s.Minutes
	}
	return sum
}

func plans() []plan {
	return []plan{
		{"short", []step{
			{4, "complaint"}, {5, "safety"}, {7, "demo"}, {18, "first"}, {3, "conclude"}, {6, "debrief"}, {2, "exit"},
		}},
		{"long", []step{
			{5, "complaint"}, {7, "safety"}, {10, "show"}, {24, "two"}, {8, "compare"}, {6, "tools"}, {20, "grade"}, {4, "handin"}, {6, "picture"},
		}},
	}
}

// A pick is an engine of the catalogue that the guide names: {Role} in a sentence is
// its title.
type pick struct {
	Role string
	ID   string
}

// picks are all engines named, in the order of the table.
func picks() []pick {
	return []pick{
		{"job_demo", "sound-inline-four"},
		{"job_valve", "burnt-exhaust-inline-four"},
		{"job_rings", "worn-rings-inline-four"},
		{"job_pair", "gasket-inline-four"},
		{"job_method", "throttle-closed-inline-four"},
		{"job_gauge", "gauge-reads-low-v6"},
		{"job_design", "sound-atkinson-hybrid"},
		{"job_other", "not-compression-inline-five"},
	}
}

// captions are the buttons and places named: {name} in a sentence is what stands on
// them, by its key in the texts of the site.
func captions() map[string]string {
	return map[string]string{
		"reasons": "mode.reasons", "alone": "mode.alone", "grade": "mode.grade",
		"yard": "place.yard", "bay": "place.bay", "debrief": "place.debrief", "desk": "place.desk", "opinion": "place.opinion",
		"say_needle": "needle.words", "one_stroke": "crank.stroke", "dial": "dial.open", "hand_in": "hand.in", "hand_now": "hand.now",
		"print_card": "card.print", "open_file": "yard.open.button", "name": "yard.who",
		"how_hard": "yard.filter.level", "what_to_practice": "yard.filter.trains", "go_on": "yard.resume", "loading": "yard.loading",
		"desk_class": "office.part.class", "desk_collect": "office.part.collect", "desk_save": "office.class.save", "desk_hide": "office.hide",
		"desk_large": "office.large", "desk_extra": "office.extra", "give_file": "give.file", "give_code": "give.code",
	}
}

// commands are the lines of the command line shown, with the key of what each does.
func commands() []struct{ Key, Line string } {
	return []struct{ Key, Line string }{
		{"check", "crankbay compose check my-engine.json"},
		{"class", `crankbay compose class gasket-inline-four --roster auto-2.csv --name "Auto 2" --mode grade --base https://school.example/bay/ --out auto-2`},
		{"extra", `crankbay compose class my-engine.json --roster auto-2.csv --extra "Luz=50" --tag "Compression test: perform, decide" --out auto-2`},
		{"verify", "crankbay verify handed-in/ --class auto-2/class.json --csv > grades.csv"},
		{"reports", "crankbay verify handed-in/ --class auto-2/class.json --reports"},
		{"pack", "crankbay pack my-engine.json --format scorm12 --out job.zip"},
		{"book", "crankbay test gasket-inline-four --kind wet"},
	}
}

// problems are the rows of what to do when something fails: problem.<key> and
// problem.<key>.do.
var problems = []string{
	"loading", "drawing", "link", "filter", "lost", "name", "sound", "slow", "late", "version", "print", "code",
}

// helps are the rows of accommodations: help.<key> and help.<key>.do.
var helps = []string{"time", "keys", "reader", "sight", "colour", "motion", "hearing", "spanish", "reading", "unit"}
