package main

import (
	"encoding/gob"
	"errors"
	"fmt"
	"os"
	"runtime"

	"github.com/spf13/cobra"

	"crankbay/cmd/libgen/internal/population"
	"crankbay/diagnose/reason"
	"crankbay/sim"
)

func root() *cobra.Command {
	c := &cobra.Command{
		Use: "libgen", Short: "make and evaluate the likelihood library", SilenceUsage: true, SilenceErrors: true,
	}
	c.AddCommand(generate(), merge(), evaluation())
	return c
}

// DefaultSeed is the one the library on the site is made with.
const DefaultSeed = 20

// plan is what a run of the generator makes.
type plan struct {
	seed              uint64
	cylinders, wholes int // examples of each family
	shard, shards     int
	workers           int
	out               string
}

func (p plan) jobs() []population.Job {
	per := map[string]int{}
	for _, f := range reason.Families() {
		switch {
		case f.Name == reason.ByDesign: // what a page promises is not simulated
		case f.Scope == reason.ScopeEngine:
			per[f.Name] = p.wholes
		default:
			per[f.Name] = p.cylinders
		}
	}
	jobs := population.Plan(p.seed, per, 2)
	var mine []population.Job
	for _, j := range jobs {
		if j.Number%p.shards == p.shard {
			mine = append(mine, j)
		}
	}
	return mine
}

// A shardFile is what one shard leaves for merge.
type shardFile struct {
	Seed    uint64
	Model   int
	Engines []string
	Jobs    int // of all shards together
	Results []population.Result
}

func generate() *cobra.Command {
	p := plan{shards: 1}
	var shard string
	c := &cobra.Command{
		Use:   "generate",
		Short: "simulate the engines of one shard",
		Example: `  libgen generate -o library.shard
  libgen generate --shard 1/4 -o one.shard`,
		Args: cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			if shard != "" {
				if n, err := fmt.Sscanf(shard, "%d/%d", &p.shard, &p.shards); n != 2 || err != nil || p.shard < 0 || p.shard >= p.shards {
					return fmt.Errorf("shard %q, want i/n with 0 ≤ i < n", shard)
				}
			}
			return p.run()
		},
	}
	c.Flags().Uint64Var(&p.seed, "seed", DefaultSeed, "everything drawn follows from it")
	c.Flags().IntVar(&p.cylinders, "examples", 130, "examples of each family of cylinders, pairs and banks")
	c.Flags().IntVar(&p.wholes, "engines", 100, "examples of each family of whole engines")
	c.Flags().StringVar(&shard, "shard", "", "which part of the engines, i/n")
	c.Flags().IntVar(&p.workers, "workers", runtime.NumCPU(), "engines at a time")
	c.Flags().StringVarP(&p.out, "output", "o", "library.shard", "file to write")
	return c
}

func (p plan) run() error {
	bases := population.Bases()
	designs, err := population.Designs(bases)
	if err != nil {
		return err
	}
	all := p
	all.shard, all.shards = 0, 1
	f := shardFile{Seed: p.seed, Model: sim.ModelVersion, Jobs: len(all.jobs())}
	for _, b := range bases {
		f.Engines = append(f.Engines, b.ID)
	}
	jobs := p.jobs()
	bar := newProgress("engines", len(jobs))
	err = population.Each(p.seed, jobs, bases, p.workers, population.ThroughGauge, func(c population.Case, t population.Tests) {
		f.Results = append(f.Results, population.Result{Job: c.Number, Rows: population.Examples(c, t, designs[c.Base])})
		bar.step()
	})
	bar.done()
	if err != nil {
		return err
	}
	w, err := os.Create(p.out)
	if err != nil {
		return err
	}
	err = gob.NewEncoder(w).Encode(f)
	return errors.Join(err, w.Close())
}

func merge() *cobra.Command {
	var out string
	c := &cobra.Command{
		Use:     "merge SHARD…",
		Short:   "put shards together into a library",
		Example: `  libgen merge *.shard -o library.bin`,
		Args:    cobra.MinimumNArgs(1),
		RunE: func(_ *cobra.Command, files []string) error {
			data, err := merged(files)
			if err != nil {
				return err
			}
			return os.WriteFile(out, data, 0o644)
		},
	}
	c.Flags().StringVarP(&out, "output", "o", "library.bin", "file to write")
	return c
}

// merged reads shards and encodes the library they make. All of one plan have to be
// there.
func merged(files []string) ([]byte, error) {
	var whole shardFile
	for i, name := range files {
		f, err := readShard(name)
		if err != nil {
			return nil, err
		}
		if i == 0 {
			whole = f
			continue
		}
		if f.Seed != whole.Seed || f.Model != whole.Model || f.Jobs != whole.Jobs || fmt.Sprint(f.Engines) != fmt.Sprint(whole.Engines) {
			return nil, fmt.Errorf("%s is a shard of another plan than %s", name, files[0])
		}
		whole.Results = append(whole.Results, f.Results...)
	}
	bases := population.Bases()
	if len(bases) != len(whole.Engines) {
		return nil, errors.New("the shards were made with another catalogue of engines")
	}
	l, err := population.Build(whole.Seed, whole.Model, bases, whole.Results)
	if err != nil {
		return nil, err
	}
	if len(whole.Results) != whole.Jobs {
		return nil, fmt.Errorf("%d of %d engines are there: a shard is missing", len(whole.Results), whole.Jobs)
	}
	return l.Encode()
}

func readShard(name string) (shardFile, error) {
	var f shardFile
	r, err := os.Open(name)
	if err != nil {
		return f, err
	}
	defer r.Close()
	if err := gob.NewDecoder(r).Decode(&f); err != nil {
		return f, fmt.Errorf("%s: %w", name, err)
	}
	return f, nil
}
