package cli

import (
	"crypto/rand"
	"encoding/csv"
	"encoding/hex"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"crankbay/scenarios"
	"crankbay/scenarios/class"
	"crankbay/scenarios/collect"
	"crankbay/web/strings/words"
)

// composing is how a class set is made.
type composing struct {
	handing
	roster, out, secret, again, lang, paper, unit string
	tags, extra                                   []string
}

func newComposeClass() *cobra.Command {
	var o composing
	c := &cobra.Command{
		Use:   "class SCENARIO|FILE --roster FILE --out FOLDER",
		Short: "Make a variant of a scenario for every student of a roster",
		Long: `Make a variant of a scenario for every student of a roster.

Everybody gets the same lesson on another engine: another cylinder where that makes
sense, another severity, other tolerances, other errors of the gauge. A variant
follows from the class's secret and the student, so it comes out the same whenever it
is made again. Each is tested by the book first and has to show the scenario's
pattern.

The roster is a list of names, one a line, or a table with commas, semicolons or
tabs; headings such as name, first name, last name, id and extra time are understood
in English and Spanish. Extra time is percent: 50 gives a student half as many
minutes again, where the scenario has a limit (work.minutes); --extra gives it too.

Task tags (--tag) are your own words for what the job covers, from the task list of
your school. They stand in answers and results and claim no accreditation.

The folder then holds class.json (for you: 'crankbay verify --class' needs it, and
whoever has it knows every answer), links.csv, slips.html to print and cut,
answers.csv and answers.html.`,
		Example: `  crankbay compose class burnt-exhaust-inline-four --roster auto-2.csv --name "Auto 2" \
      --mode grade --base https://school.example/bay/ --out auto-2
  crankbay compose class my-engine.json --roster names.txt --seal my-key.txt --out set
  crankbay compose class my-engine.json --roster names.txt --extra "Luz=50" \
      --tag "Perform cylinder compression test" --out set
  crankbay compose class --again set/class.json --base https://new.example/ --out set`,
		Args: args(0, 1, "one scenario"),
		RunE: func(c *cobra.Command, a []string) error { return o.run(c, a) },
	}
	o.flags(c)
	f := c.Flags()
	f.StringVar(&o.roster, "roster", "", "file with the students")
	f.StringVar(&o.out, "out", "", "folder to write into; it is made when it isn't there")
	f.StringArrayVar(&o.extra, "extra", nil, "extra time of one student in percent, NAME=50; may be given again")
	f.StringArrayVar(&o.tags, "tag", nil, "your own name of a task that the job covers; may be given again")
	f.StringVar(&o.secret, "secret", "", "secret of the class as 32 to 64 hexadecimal digits (default: made by chance)")
	f.StringVar(&o.again, "again", "", "class file: make its links and sheets once more")
	f.StringVar(&o.lang, "lang", "en", "language of slips and answer sheet: en or es")
	f.StringVar(&o.paper, "paper", "letter", "paper: letter or a4")
	f.StringVar(&o.unit, "unit", "psi", "unit of pressure on the answer sheet: psi, kPa or bar")
	return c
}

// newClass is newComposeClass where people look for it first.
func newClass() *cobra.Command {
	c := newComposeClass()
	c.Hidden = true
	c.Long = "The same as 'crankbay compose class'.\n\n" + c.Long
	return c
}

func (o *composing) run(c *cobra.Command, a []string) error {
	if err := o.checkFlags(a); err != nil {
		return err
	}
	group, err := o.group(a)
	if err != nil {
		return err
	}
	bar := progress{w: c.ErrOrStderr(), of: len(group.Students), show: len(group.Students) > 4 && terminal(c.ErrOrStderr())}
	set, err := group.HandOut(func(int, int) { bar.step() })
	bar.end()
	if err != nil {
		return fmt.Errorf("%s", plain(err))
	}
	l, err := class.LessonOf(group.Scenario)
	if err != nil {
		return err
	}
	if supported, open := l.Settled(); !supported && !open {
		fmt.Fprintf(c.ErrOrStderr(), "crankbay: warning: %s: by dry and wet readings the evidence can't settle it; 'crankbay compose check' says more\n", group.Scenario.ID)
	}
	if who := untimed(group); who != "" {
		fmt.Fprintf(c.ErrOrStderr(), "crankbay: warning: %s: the job has no limit of time (work.minutes), so extra time is noted and changes nothing for %s\n", group.Scenario.ID, who)
	}
	if o.base == "" {
		fmt.Fprintln(c.ErrOrStderr(), "crankbay: warning: without --base links and squares lead to no page; give the address of the site")
	}
	answers, err := group.Answers(set)
	if err != nil {
		return err
	}
	if err := o.write(group, answers); err != nil {
		return err
	}
	fmt.Fprintf(c.OutOrStdout(), "%s: %d variants of %s, pattern %s\n", o.out, len(set), group.Scenario.ID, plainWords(l.Pattern()))
	return nil
}

func (o *composing) checkFlags(a []string) error {
	switch {
	case o.out == "":
		return usagef("compose class: --out is missing: the folder to write into")
	case o.again == "" && len(a) == 0:
		return usagef("compose class: nothing was named; it takes one scenario")
	case o.again == "" && o.roster == "":
		return usagef("compose class: --roster is missing: the file with the students")
	case o.again != "" && (len(a) > 0 || o.roster != "" || o.secret != "" || len(o.extra)+len(o.tags) > 0):
		return usagef("compose class: --again takes scenario, roster, secret, extra time and tags from the class file")
	case o.lang != "en" && o.lang != "es":
		return usagef("compose class: --lang %q, want en or es", o.lang)
	case o.paper != "letter" && o.paper != "a4":
		return usagef("compose class: --paper %q, want letter or a4", o.paper)
	case o.unit != "psi" && o.unit != "kPa" && o.unit != "bar":
		return usagef("compose class: --unit %q, want psi, kPa or bar", o.unit)
	}
	if err := o.check("compose class"); err != nil {
		return err
	}
	return o.keepsOld()
}

// keepsOld refuses to write over a class file: with its secret every variant that was
// handed out would be nobody's.
func (o *composing) keepsOld() error {
	name := filepath.Join(o.out, "class.json")
	if _, err := os.Stat(name); err != nil {
		return nil // what is wrong with the folder is said when it is written
	}
	if o.again == "" {
		return fmt.Errorf("%s: is there already, and hand-ins of that class need it; choose another folder, or --again %s for its links and sheets once more", name, name)
	}
	old, err := os.Stat(name)
	again, err2 := os.Stat(o.again)
	if err != nil || err2 != nil || !os.SameFile(old, again) {
		return fmt.Errorf("%s: is another class than %s; choose another folder", name, o.again)
	}
	return nil
}

// group reads or makes the class.
func (o *composing) group(a []string) (*class.Class, error) {
	if o.again != "" {
		return loadClass(o.again)
	}
	s, err := load(a[0])
	if err != nil {
		return nil, err
	}
	data, err := readFile(o.roster, class.MaxBytes)
	if err != nil {
		return nil, err
	}
	students, err := class.ReadRoster(data)
	if err != nil {
		return nil, fmt.Errorf("%s: %s", o.roster, strings.TrimPrefix(plain(err), "roster: "))
	}
	if err := o.extraTime(s, students); err != nil {
		return nil, err
	}
	g := &class.Class{Name: o.class, Mode: o.mode, Seal: o.seal, Tags: o.tags, Scenario: s, Students: students}
	if o.secret == "" {
		g.Secret = make([]byte, class.SecretBytes)
		if _, err := rand.Read(g.Secret); err != nil {
			return nil, fmt.Errorf("a secret by chance: %w", err)
		}
	} else if g.Secret, err = hex.DecodeString(o.secret); err != nil {
		return nil, usagef("compose class: --secret: want 32 to 64 hexadecimal digits")
	}
	if err := g.Check(); err != nil {
		return nil, fmt.Errorf("%s", plain(err))
	}
	return g, nil
}

// extraTime gives students what --extra says.
func (o *composing) extraTime(s *scenarios.Scenario, students []class.Student) error {
	for _, text := range o.extra {
		name, number, ok := strings.Cut(text, "=")
		n, err := strconv.Atoi(strings.TrimSuffix(strings.TrimSpace(number), "%"))
		if !ok || err != nil || n < 0 || n > class.MaxExtra {
			return usagef("compose class: --extra %q, want a name, = and percent from 0 to %d", text, class.MaxExtra)
		}
		var at []int
		for i, st := range students {
			if f := class.Fold(name); f == class.Fold(st.Name) || f == class.Fold(st.Label()) || st.ID != "" && f == class.Fold(st.ID) {
				at = append(at, i)
			}
		}
		switch len(at) {
		case 0:
			return usagef("compose class: --extra %q: nobody on the roster is called that", text)
		case 1:
			students[at[0]].Extra = n
		default:
			return usagef("compose class: --extra %q: %d students are called that; name one by the id", text, len(at))
		}
	}
	return nil
}

// untimed says who has extra time that changes nothing.
func untimed(g *class.Class) string {
	if w := g.Scenario.Work; w != nil && w.Minutes > 0 {
		return ""
	}
	var all []string
	for _, s := range g.Students {
		if s.Extra > 0 {
			all = append(all, oneLine(s.Label()))
		}
	}
	return strings.Join(all, ", ")
}

// write fills the folder.
func (o *composing) write(g *class.Class, answers []class.Answer) error {
	if err := os.MkdirAll(o.out, 0o755); err != nil {
		return fmt.Errorf("%s: %w", o.out, cause(err))
	}
	data, err := g.Encode()
	if err != nil {
		return err
	}
	t, err := words.For(o.lang)
	if err != nil {
		return err
	}
	p := page{words: t, lang: o.lang, paper: o.paper, base: o.base, unit: o.unit}
	for _, f := range []struct {
		name  string
		mode  os.FileMode
		write func(io.Writer) error
	}{
		{"class.json", 0o600, func(w io.Writer) error { _, err := w.Write(append(data, '\n')); return err }},
		{"links.csv", 0o644, func(w io.Writer) error { return o.writeLinks(w, answers) }},
		{"slips.html", 0o644, func(w io.Writer) error { return p.slips(w, g, answers) }},
		{"answers.csv", 0o600, func(w io.Writer) error { return p.answerTable(w, answers) }},
		{"answers.html", 0o600, func(w io.Writer) error { return p.answers(w, g, answers) }},
	} {
		if err := toWhole(filepath.Join(o.out, f.name), f.mode, f.write); err != nil {
			return err
		}
	}
	return nil
}

func (o *composing) writeLinks(w io.Writer, answers []class.Answer) error {
	out := csv.NewWriter(w)
	if err := out.Write([]string{"student", "id", "link"}); err != nil {
		return err
	}
	for _, a := range answers {
		if err := out.Write([]string{collect.Inert(a.Name), collect.Inert(a.ID), o.address(a.Link)}); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

// answerColumns head the answers; in Spanish as paper.csv says.
var answerColumns = []string{"student", "id", "variant", "family", "cylinders", "faults", "dry_psi", "wet_psi", "extra_time_percent", "minutes"}

// answerTable prints what was given to whom, and what is right for it. In English it
// has the program's own names, which other programs can rely on.
func (p page) answerTable(w io.Writer, answers []class.Answer) error {
	out := csv.NewWriter(w)
	columns := answerColumns
	if p.lang != "en" {
		columns = strings.Split(p.words.Say("paper.csv"), ",")
	}
	if err := out.Write(columns); err != nil {
		return err
	}
	for _, a := range answers {
		family, faults := a.Key.Family, faultNumbers(a.Faults)
		if p.lang != "en" {
			family, faults = p.words.Say("family."+family), strings.Join(p.faultTexts(a.Faults), "; ")
		}
		err := out.Write([]string{
			collect.Inert(a.Name), collect.Inert(a.ID), a.Variant, family, numbers(a.Key.Cylinders), faults, readings(a.Dry), readings(a.Wet),
			unlessZero(float64(a.Extra)), unlessZero(a.Minutes),
		})
		if err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

func unlessZero(v float64) string {
	if v == 0 {
		return ""
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

func numbers(list []int) string {
	return strings.Trim(strings.ReplaceAll(fmt.Sprint(list), " ", " "), "[]")
}

// faultNumbers names faults with the numbers that make them.
func faultNumbers(list []scenarios.Fault) string {
	var out []string
	for _, f := range list {
		s := faultWords([]scenarios.Fault{f})
		if k := scenarios.KindOf(f.Kind); k != nil {
			for _, n := range k.Numbers {
				s += fmt.Sprintf(", %s %g", strings.TrimSpace(strings.ReplaceAll(n.Name, "_", " ")), n.Of(f))
			}
		}
		out = append(out, s)
	}
	return strings.Join(out, "; ")
}
