//go:build !js

package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"os"

	"crankbay/sim"
)

// A problem is one run that all programs do from the same numbers. The crank
// stands at Start and all gas is at rest when it begins; whoever turns the crank
// at a given speed does so from the second tick on.
type problem struct {
	Name     string     `json:"name"`
	Params   sim.Params `json:"params"`
	Plugs    []string   `json:"plugs"`    // by cylinder: in, out, gauge
	Throttle float64    `json:"throttle"` // 0 shut … 1 open
	Stand    float64    `json:"stand"`    // minutes at rest before, in seconds
	Start    float64    `json:"start"`    // crank [rad]
	Speed    float64    `json:"speed"`    // of the crank [rad/s]; 0: the starter turns it
	Coast    float64    `json:"coast"`    // speed from which it runs down by itself [rad/s]; 0: it doesn't
	Ticks    int        `json:"ticks"`    // length of the run
	Coolant  float64    `json:"coolant"`  // walls when it begins [K]
	Film     []float64  `json:"film"`     // oil films when it begins, by cylinder [-]
	Breathes bool       `json:"breathes"` // valves open in it
}

// A problemFile is testdata/crosscheck/problems.json.
type problemFile struct {
	TicksPerSecond int       `json:"ticks_per_second"`
	Problems       []problem `json:"problems"`
}

const (
	mm2      = 1e-6 // [m²]
	cranking = 24.0 // [rad/s], 229 rpm
)

// single returns the reference engine cut down to its first cylinder, with that
// cylinder's share of plenum and throttle.
func single() sim.Params {
	p := sim.Reference()
	share := 1 / float64(p.Cylinders)
	p.Cylinders = 1
	p.PlenumVolume *= share
	p.ThrottleArea *= share
	p.IdleArea *= share
	for i := 1; i < sim.MaxCylinders; i++ {
		p.Cylinder[i] = sim.CylinderParams{}
	}
	return p
}

// closed returns a single cylinder whose valves stay shut, with a ring leak.
func closed(leak float64) sim.Params {
	p := single()
	c := &p.Cylinder[0]
	c.RingArea, c.IntakeLift, c.ExhaustLift = leak, 0, 0
	return p
}

// small returns a single cylinder behind a manifold that holds less than it.
func small() sim.Params {
	p := single()
	p.PlenumVolume = 3e-4
	return p
}

// problems returns all problems, from the simplest to a test by the book.
func problems() []problem {
	list := []problem{
		{Name: "sealed", Params: closed(0), Speed: cranking, Ticks: 2400},
		{Name: "leaking", Params: closed(0.86 * mm2), Speed: cranking, Ticks: 2400},
		{Name: "breathing-open", Params: single(), Speed: cranking, Throttle: 1, Ticks: 3600, Breathes: true},
		{Name: "breathing-idle", Params: single(), Speed: cranking, Ticks: 3600, Breathes: true},
		{Name: "gauged", Params: single(), Plugs: []string{"gauge"}, Speed: cranking, Throttle: 1, Ticks: 4800, Breathes: true},
		{Name: "small-single", Params: small(), Plugs: []string{"gauge"}, Speed: cranking, Throttle: 1, Ticks: 3600, Breathes: true},
		{Name: "motored", Params: single(), Throttle: 1, Ticks: 3600, Breathes: true},
		{Name: "motored-four", Params: sim.Reference(), Throttle: 1, Ticks: 3600, Breathes: true},
		{Name: "coast-down", Params: single(), Throttle: 1, Coast: 60, Ticks: 1540, Breathes: true},
		{Name: "dry-test", Params: sim.Reference(), Plugs: []string{"gauge", "out", "out", "out"}, Throttle: 1, Stand: 120, Ticks: 4200, Breathes: true},
	}
	for i := range list {
		q := &list[i]
		q.Start = 3 * math.Pi // bottom dead centre before the compression of cylinder 1
		for len(q.Plugs) < q.Params.Cylinders {
			q.Plugs = append(q.Plugs, "in")
		}
		q.Params.Starter.PullIn = 0
	}
	return list
}

// finish writes down what the surroundings are when the run begins.
func (q *problem) finish() error {
	e, err := q.build()
	if err != nil {
		return err
	}
	q.Coolant, q.Film = e.Coolant(), nil
	for cyl := 1; cyl <= q.Params.Cylinders; cyl++ {
		film, _ := e.Film(cyl)
		q.Film = append(q.Film, film)
	}
	return nil
}

// writeProblems writes the file all programs read, one problem a line.
func writeProblems(path string) error {
	var out bytes.Buffer
	fmt.Fprintf(&out, "{\"ticks_per_second\":%d,\n\"problems\":[\n", sim.TicksPerSecond)
	for i, q := range problems() {
		if err := q.finish(); err != nil {
			return fmt.Errorf("%s: %w", q.Name, err)
		}
		line, err := json.Marshal(q)
		if err != nil {
			return err
		}
		if i > 0 {
			out.WriteString(",\n")
		}
		out.Write(line)
	}
	out.WriteString("\n]}\n")
	return os.WriteFile(path, out.Bytes(), 0o666)
}

// readProblems reads that file.
func readProblems(path string) ([]problem, error) {
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	var file problemFile
	decoder := json.NewDecoder(bytes.NewReader(data))
	decoder.DisallowUnknownFields()
	if err := decoder.Decode(&file); err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	if file.TicksPerSecond != sim.TicksPerSecond {
		return nil, fmt.Errorf("%s: written for %d ticks per second, the simulation has %d", path, file.TicksPerSecond, sim.TicksPerSecond)
	}
	return file.Problems, nil
}
