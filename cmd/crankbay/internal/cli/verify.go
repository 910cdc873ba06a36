package cli

import (
	"fmt"
	"os"
	"regexp"
	"runtime"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"crankbay/cmd/crankbay/internal/library"
	"crankbay/diagnose/reason"
	"crankbay/scenarios"
	"crankbay/scenarios/attempt"
	"crankbay/scenarios/class"
	"crankbay/scenarios/code"
	"crankbay/scenarios/collect"
	"crankbay/scenarios/seal"
	"crankbay/web/strings/words"
)

// verifying is how hand-ins are verified.
type verifying struct {
	scenarios []string // files beyond the catalogue
	class     string   // file, empty none
	keys      []string // files of private keys, each of which may open what is sealed
	asJSON    bool
	asCSV     bool
	full      bool // what the Debrief tells
	reports   bool // one report after the other, instead of a table
	lang      string
	words     words.Words // of that language
	jobs      int         // at once
	stdin     bool        // names come from standard input, answers are lines
	collector *collect.Collector
}

func newVerify() *cobra.Command {
	var o verifying
	c := &cobra.Command{
		Use:   "verify ATTEMPT|FOLDER|-...",
		Short: "Play handed-in attempts again and grade them again",
		Long: `Play handed-in attempts again and grade them again.

A hand-in is a file, a short code, or either of them sealed; a text may hold many
codes, as a mail or the table of a form does. A folder stands for all files in it.

Nothing stored in an attempt is trusted: its log is replayed, every mark is
compared, readings are read again and the grade is computed again. That proves
that log, scenario and grade fit together; it doesn't prove who sat there.

With --class every attempt is held against the roster: one that was made on
another student's variant, under a name that nobody has, or on no engine of this
class is named as such. --csv prints a table that any gradebook reads.

With - the names of files come from standard input, one a line, and every hand-in
is answered with one line of JSON as soon as it is done, so that xargs or a batch
system can spread any number over any number of machines.

With --debrief it also tells what was inside, holds every reading against it,
plays the attempt again without each mistake to see what that changed, and works
out which tests would have told it soonest. That takes a few seconds.

An attempt at a scenario outside the catalogue needs its file (--scenario). Where a
class file is lost, the list of its links serves instead: everything is replayed and
graded, but nothing tells whose engine it was, and nobody can be added.
The exit status is 1 when any hand-in is not what it should be.`,
		Example: `  crankbay verify attempt.json
  crankbay verify handed-in/ --class auto-2/class.json --csv > grades.csv
  crankbay verify mailbox.txt --key my-key.txt
  find . -name '*.json' | crankbay verify - > rows.jsonl
  crankbay verify --debrief attempt.json
  crankbay verify --debrief --lang es attempt.json
  crankbay verify --scenario my-engine.json attempt.json
  crankbay verify handed-in/ --scenario auto-2/links.csv --csv`,
		Args: args(1, -1, "one or more attempt files"),
		RunE: func(c *cobra.Command, a []string) error { return o.run(c, a) },
	}
	f := c.Flags()
	f.StringArrayVar(&o.scenarios, "scenario", nil, "file of a scenario that the catalogue doesn't have, or with links to some; may be given again")
	f.StringVar(&o.class, "class", "", "class file to hold hand-ins against")
	f.StringArrayVar(&o.keys, "key", nil, "file of the private key that opens sealed hand-ins; may be given again")
	f.BoolVar(&o.full, "debrief", false, "tell what the page's Debrief tells")
	f.BoolVar(&o.asJSON, "json", false, "print JSON, one entry per hand-in")
	f.BoolVar(&o.asCSV, "csv", false, "print a table with commas, one line per hand-in")
	f.BoolVar(&o.reports, "reports", false, "print a whole report for each hand-in of a folder too")
	f.StringVar(&o.lang, "lang", "en", "language of reports: en or es")
	f.IntVarP(&o.jobs, "jobs", "j", runtime.GOMAXPROCS(0), "hand-ins worked on at once")
	return c
}

// run makes everything ready, then works the hand-ins off.
func (o *verifying) run(c *cobra.Command, names []string) error {
	o.stdin = len(names) == 1 && names[0] == "-"
	switch {
	case o.asCSV && o.asJSON:
		return usagef("verify: --csv and --json are two ways to print; choose one")
	case o.reports && (o.asCSV || o.asJSON):
		return usagef("verify: --reports and --csv or --json are two ways to print; choose one")
	case !o.stdin && slices.Contains(names, "-"):
		return usagef("verify: with - nothing else is named: names come from standard input")
	case o.stdin && (o.asCSV || o.reports):
		return usagef("verify: with - every answer is a line of JSON; --csv and --reports go with files and folders")
	case o.full && (o.asCSV || o.stdin):
		return usagef("verify: --debrief goes with reports and --json")
	case o.jobs < 1 || o.jobs > 1024:
		return usagef("verify: --jobs %d, want 1 to 1024", o.jobs)
	}
	if o.lang != "en" && o.lang != "es" {
		return usagef("verify: --lang %q: want en or es", o.lang)
	}
	var err error
	if o.words, err = words.For(o.lang); err != nil {
		return err
	}
	if err := o.collect(); err != nil {
		return err
	}
	if o.stdin {
		return o.lines(c)
	}
	sources, folder, err := sourcesOf(names)
	if err != nil {
		return err
	}
	if len(sources) == 0 {
		return fmt.Errorf("%s: no file in it", strings.Join(names, ", "))
	}
	o.reports = o.reports || o.full || !folder && o.class == ""
	return o.all(c, sources)
}

// collect sets up what hand-ins are held against.
func (o *verifying) collect() error {
	find, err := o.lookup()
	if err != nil {
		return err
	}
	var group *class.Class
	if o.class != "" {
		if group, err = loadClass(o.class); err != nil {
			return err
		}
	}
	open, err := o.opener()
	if err != nil {
		return err
	}
	if o.collector, err = collect.New(find, group, open); err != nil {
		return fmt.Errorf("%s: %s", o.class, plain(err))
	}
	o.collector.GradeBy(reason.NewJudge(library.Open(), reason.Priors{}))
	return nil
}

const keyBytesMax = 4096

// readKey reads a private key from its file.
func readKey(name string) (*seal.Key, error) {
	data, err := readFile(name, keyBytesMax)
	if err != nil {
		return nil, err
	}
	k, err := seal.ParseKey(string(data))
	if err != nil {
		return nil, fmt.Errorf("%s: %s", name, plain(err))
	}
	return k, nil
}

// opener opens with the first key that is the one; nil where there is none.
func (o *verifying) opener() (func([]byte) ([]byte, error), error) {
	var keys []*seal.Key
	for _, name := range o.keys {
		k, err := readKey(name)
		if err != nil {
			return nil, err
		}
		keys = append(keys, k)
	}
	if len(keys) == 0 {
		return nil, nil
	}
	return func(b []byte) (plain []byte, err error) {
		for _, k := range keys {
			if plain, err = k.Open(string(b)); err == nil {
				break
			}
		}
		return plain, err
	}, nil
}

// lookup finds scenarios of the files given, then those of the catalogue.
func (o *verifying) lookup() (attempt.Lookup, error) {
	own := map[string]*scenarios.Scenario{}
	for _, name := range o.scenarios {
		list, err := scenariosIn(name)
		if err != nil {
			return nil, err
		}
		for _, s := range list {
			own[s.ID] = s
		}
	}
	return func(id string) *scenarios.Scenario {
		if s := own[id]; s != nil {
			return s
		}
		return scenarios.Find(id)
	}, nil
}

// aLink is an assignment's link within a text.
var aLink = regexp.MustCompile(regexp.QuoteMeta("#"+code.Fragment) + `[A-Za-z0-9_-]+`)

// scenariosIn are the scenario of a file, or those of all links in it.
func scenariosIn(name string) ([]*scenarios.Scenario, error) {
	var all []*scenarios.Scenario
	if data, err := readFile(name, class.MaxBytes); looksLikeFile(name) && err == nil {
		for _, link := range aLink.FindAll(data, class.MaxStudents) {
			a, err := code.ReadLink(string(link))
			if err != nil {
				return nil, fmt.Errorf("%s: %s", name, plain(err))
			}
			all = append(all, a.Scenario)
		}
	}
	if len(all) > 0 {
		return all, nil
	}
	s, err := load(name)
	return []*scenarios.Scenario{s}, err
}

func loadClass(name string) (*class.Class, error) {
	data, err := readFile(name, class.MaxBytes)
	if err != nil {
		return nil, err
	}
	g, err := class.Decode(data)
	if err != nil {
		return nil, fmt.Errorf("%s: %s", name, plain(err))
	}
	return g, nil
}

// terminal tells whether a stream is one, so that a line may be written over.
func terminal(w any) bool {
	f, ok := w.(*os.File)
	if !ok {
		return false
	}
	st, err := f.Stat()
	return err == nil && st.Mode()&os.ModeCharDevice != 0 && os.Getenv("TERM") != "dumb"
}
