package main

import (
	"encoding/gob"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"sort"
	"sync"

	"github.com/spf13/cobra"

	"crankbay/cmd/libgen/internal/evaluate"
	"crankbay/cmd/libgen/internal/population"
	"crankbay/diagnose/library"
	"crankbay/diagnose/reason"
)

// judgedSeed is far from any seed the library is made with.
const judgedSeed = 7_000_001

type judging struct {
	seed      uint64
	each      int // subjects of each family
	workers   int
	libFile   string
	cacheFile string
	fieldFile string
	quick     bool
	out       io.Writer
}

func evaluation() *cobra.Command {
	j := judging{out: os.Stdout}
	c := &cobra.Command{
		Use:   "evaluate",
		Short: "hold the inference against simulated engines it has never seen and against field cases; JSON lines",
		Args:  cobra.NoArgs,
		RunE:  func(*cobra.Command, []string) error { return j.run() },
	}
	c.Flags().Uint64Var(&j.seed, "seed", judgedSeed, "of the engines to be judged on")
	c.Flags().IntVar(&j.each, "each", 50, "engines of each family; 0 judges field cases only")
	c.Flags().IntVar(&j.workers, "workers", runtime.NumCPU(), "engines at a time")
	c.Flags().StringVar(&j.libFile, "library", "cmd/crankbay/internal/library/library.bin", "library to judge")
	c.Flags().StringVar(&j.cacheFile, "engines", "", "file to keep the tested engines in, for the next time")
	c.Flags().StringVar(&j.fieldFile, "field", "testdata/field/field-cases.jsonl", "field cases")
	c.Flags().BoolVar(&j.quick, "quick", false, "leave out the slow parts: designs never seen, the next best test, small sets of tests")
	return c
}

func (j *judging) library() (*library.Library, error) {
	data, err := os.ReadFile(j.libFile)
	if err != nil {
		return nil, err
	}
	return library.Open(data)
}

func (j *judging) line(kind string, fields map[string]any) {
	fields["kind"] = kind
	data, err := json.Marshal(fields)
	if err != nil {
		panic(err) // only numbers, words and lists of them
	}
	fmt.Fprintln(j.out, string(data))
}

func (j *judging) run() error {
	lib, err := j.library()
	if err != nil {
		return err
	}
	j.line("library", map[string]any{"digest": lib.Digest, "model": lib.Model, "seed": lib.Seed, "engines": lib.Engines})
	if j.each > 0 {
		subjects, err := j.subjects()
		if err != nil {
			return err
		}
		j.simulated(lib, subjects)
	}
	return j.field(lib)
}

// field judges the cases of the field twice: by their numbers alone, and with what was
// recorded beside them.
func (j *judging) field(lib *library.Library) error {
	cases, err := os.ReadFile(j.fieldFile)
	if err != nil {
		return err
	}
	beside, err := os.ReadFile(filepath.Join(filepath.Dir(j.fieldFile), "recorded.jsonl"))
	if err != nil {
		return err
	}
	list, recorded, err := evaluate.ReadField(cases, beside)
	if err != nil {
		return fmt.Errorf("%s: %w", j.fieldFile, err)
	}
	for _, with := range []string{"numbers", "recorded"} {
		var score evaluate.FieldScore
		for i := range list {
			var r *evaluate.Recorded
			if x, ok := recorded[list[i].ID]; ok && with == "recorded" {
				r = &x
			}
			line := evaluate.JudgeField(lib, &list[i], r, &score)
			line["from"] = with
			j.line("field_case", line)
		}
		j.line("field", map[string]any{
			"from": with, "cases": score.N, "first": evaluate.Share(score.First, score.N), "among_three": evaluate.Share(score.Three, score.N),
			"missed_three": score.N - score.Three,
		})
	}
	return nil
}

// subjects simulates the engines to be judged on, or reads them from an earlier time.
func (j *judging) subjects() ([]evaluate.Subject, error) {
	if j.cacheFile != "" {
		if f, err := os.Open(j.cacheFile); err == nil {
			defer f.Close()
			var s []evaluate.Subject
			return s, gob.NewDecoder(f).Decode(&s)
		}
	}
	bases := population.Bases()
	designs, err := population.Designs(bases)
	if err != nil {
		return nil, err
	}
	per := map[string]int{}
	for _, f := range reason.Families() {
		if f.Name != reason.ByDesign { // a matter of what the page says
			per[f.Name] = j.each
		}
	}
	jobs := population.Plan(j.seed, per, 1)
	var out []evaluate.Subject
	bar := newProgress("engines", len(jobs))
	err = population.Each(j.seed, jobs, bases, j.workers, func(population.Case) bool { return true }, func(c population.Case, t population.Tests) {
		out = append(out, evaluate.NewSubject(c, t, bases[c.Base].ID, designs[c.Base]))
		bar.step()
	})
	bar.done()
	sort.Slice(out, func(i, k int) bool { return out[i].Number < out[k].Number })
	if err == nil && j.cacheFile != "" {
		err = save(j.cacheFile, out)
	}
	return out, err
}

func save(name string, v any) error {
	f, err := os.Create(name)
	if err != nil {
		return err
	}
	return errors.Join(gob.NewEncoder(f).Encode(v), f.Close())
}

// parallel calls do for every index on so many workers.
func parallel(n, workers int, do func(i int)) {
	var wg sync.WaitGroup
	for w := range max(1, workers) {
		wg.Go(func() {
			for i := w; i < n; i += workers {
				do(i)
			}
		})
	}
	wg.Wait()
}

// simulated judges every set of tests over all subjects.
func (j *judging) simulated(lib *library.Library, subjects []evaluate.Subject) {
	families := map[string]bool{}
	for _, s := range subjects {
		families[s.Family] = true
	}
	priors := evaluate.Even(families)
	for _, m := range evaluate.Merges() {
		j.line("merged", m)
	}
	for _, set := range evaluate.Sets() {
		if j.quick && set.Name != "all" {
			continue
		}
		j.set(lib, subjects, set, priors)
	}
	for _, set := range evaluate.Sets()[:3] {
		j.fieldLike(lib, subjects, set)
	}
	if j.quick {
		return
	}
	j.unseen(lib, subjects, priors)
	j.walks(lib, subjects, priors)
}

func (j *judging) set(lib *library.Library, subjects []evaluate.Subject, set evaluate.TestSet, priors reason.Priors) {
	judged := make([]evaluate.Judged, len(subjects))
	parallel(len(subjects), j.workers, func(i int) { judged[i] = evaluate.Judge(lib, &subjects[i], set, priors) })
	var all evaluate.Score
	var cal evaluate.Calibration
	by := map[string]*evaluate.Score{}
	instead := map[string]map[string]int{}
	for i, x := range judged {
		f := subjects[i].Family
		if by[f] == nil {
			by[f], instead[f] = &evaluate.Score{}, map[string]int{}
		}
		for _, s := range []*evaluate.Score{&all, by[f]} {
			s.Add(x)
		}
		if !x.First {
			instead[f][x.Instead]++
		}
		cal.Add(x.Said, x.First)
	}
	for _, f := range reason.Families() {
		if s := by[f.Name]; s != nil {
			j.line("family", map[string]any{
				"tests": set.Name, "family": f.Name, "engines": s.N, "first": evaluate.Share(s.First, s.N), "among_three": evaluate.Share(s.Three, s.N),
				"group_first": evaluate.Share(s.Group, s.N), "instead": instead[f.Name],
			})
		}
	}
	j.line("simulated", map[string]any{
		"tests": set.Name, "engines": all.N, "first": evaluate.Share(all.First, all.N), "among_three": evaluate.Share(all.Three, all.N),
		"group_first": evaluate.Share(all.Group, all.N), "calibration_error": cal.Error(),
	})
}

// fieldLike judges readings that are spoiled as those of real engines are.
func (j *judging) fieldLike(lib *library.Library, subjects []evaluate.Subject, set evaluate.TestSet) {
	list := evaluate.FieldLikes(subjects, set, j.seed)
	opinions := make([]reason.Opinion, len(list))
	parallel(len(list), j.workers, func(i int) { opinions[i] = reason.Weigh(lib, list[i].Evidence, reason.Priors{}) })
	var all evaluate.FieldLikeScore
	by := map[string]*evaluate.FieldLikeScore{}
	var names []string
	for i := range list {
		g := list[i].Group
		if by[g] == nil {
			by[g] = &evaluate.FieldLikeScore{}
			names = append(names, g)
		}
		all.Add(opinions[i].Groups, &list[i])
		by[g].Add(opinions[i].Groups, &list[i])
	}
	sort.Strings(names)
	for _, g := range names {
		line := by[g].Line()
		delete(line, "said_and_right")
		delete(line, "calibration_error")
		line["tests"], line["group"] = set.Name, g
		j.line("field_like_group", line)
	}
	line := all.Line()
	line["tests"] = set.Name
	j.line("field_like", line)
}

// unseen judges each design with a library that has no example of it.
func (j *judging) unseen(lib *library.Library, subjects []evaluate.Subject, priors reason.Priors) {
	set := evaluate.Sets()[len(evaluate.Sets())-1]
	var all evaluate.Score
	var cal evaluate.Calibration
	for _, engine := range lib.Engines {
		without := lib.Without(engine)
		var mine []*evaluate.Subject
		for i := range subjects {
			if subjects[i].Base == engine {
				mine = append(mine, &subjects[i])
			}
		}
		judged := make([]evaluate.Judged, len(mine))
		parallel(len(mine), j.workers, func(i int) { judged[i] = evaluate.Judge(without, mine[i], set, priors) })
		var one evaluate.Score
		for _, x := range judged {
			one.Add(x)
			all.Add(x)
			cal.Add(x.Said, x.First)
		}
		j.line("unseen_design", map[string]any{"tests": set.Name, "design": engine, "engines": one.N, "first": evaluate.Share(one.First, one.N)})
	}
	j.line("unseen", map[string]any{"tests": set.Name, "engines": all.N, "first": evaluate.Share(all.First, all.N), "calibration_error": cal.Error()})
}

// walks sets the best next test against what is usually taught.
func (j *judging) walks(lib *library.Library, subjects []evaluate.Subject, priors reason.Priors) {
	next := make([]evaluate.Walk, len(subjects))
	taught := make([]evaluate.Walk, len(subjects))
	parallel(len(subjects), j.workers, func(i int) {
		next[i] = evaluate.FollowNext(lib, &subjects[i], priors)
		taught[i] = evaluate.WetThenLeakage(lib, &subjects[i], priors)
	})
	j.line("next_best", evaluate.Compare(next, taught))
}
