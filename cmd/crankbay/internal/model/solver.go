//go:build !js

package model

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"crankbay/sim"
	"crankbay/sim/unit"
)

// A solved is one problem that another program, written apart from ours, has
// solved from the same numbers with a tolerance far below ours.
type solved struct {
	name  string
	peaks int     // compressions compared
	worst float64 // largest difference of a peak, ours less theirs [%]
	gauge float64 // difference of the gauge at the end, ours less theirs [psi]; NaN without a gauge
}

// problem is what testdata/crosscheck/problems.json says of one.
type problem struct {
	Name     string
	Params   sim.Params
	Plugs    []string
	Throttle float64
	Stand    float64 // minutes at rest before, in seconds
	Start    float64 // [rad]
	Speed    float64 // [rad/s]; 0: the starter turns it
	Coast    float64 // it runs down from there [rad/s]; 0: it doesn't
	Ticks    int
}

// solver compares every problem that has a recorded solution. Without the folder
// there is nothing to compare.
func (s *study) solver(testdata string) error {
	folder := filepath.Join(testdata, "crosscheck")
	data, err := os.ReadFile(filepath.Join(folder, "problems.json"))
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	} else if err != nil {
		return err
	}
	var file struct{ Problems []problem }
	if err := json.Unmarshal(data, &file); err != nil {
		return fmt.Errorf("problems.json: %w", err)
	}
	for _, q := range file.Problems {
		theirs, err := readSolution(filepath.Join(folder, "scipy", q.Name+".csv"))
		if errors.Is(err, fs.ErrNotExist) {
			continue
		} else if err != nil {
			return fmt.Errorf("%s: %w", q.Name, err)
		}
		row, err := q.compare(theirs)
		if err != nil {
			return fmt.Errorf("%s: %w", q.Name, err)
		}
		s.solved = append(s.solved, row)
	}
	return nil
}

// A solution is what is compared.
type solution struct {
	peaks []float64 // highest pressure of every compression of the first cylinder [Pa]
	hose  float64   // at the end [Pa]
}

// readSolution reads a recorded one: peaks in a line of its head, the hose in the
// column hose_pa of its last row.
func readSolution(name string) (solution, error) {
	f, err := os.Open(name)
	if err != nil {
		return solution{}, err
	}
	defer f.Close()
	var out solution
	var last, head []string
	for lines := bufio.NewScanner(f); lines.Scan(); {
		line := lines.Text()
		list, isPeaks := strings.CutPrefix(line, "# peaks_pa ")
		switch {
		case isPeaks:
			for _, word := range strings.Fields(list) {
				v, err := strconv.ParseFloat(word, 64)
				if err != nil {
					return out, err
				}
				out.peaks = append(out.peaks, v)
			}
		case strings.HasPrefix(line, "#"):
		case head == nil:
			head = strings.Split(line, ",")
		default:
			last = strings.Split(line, ",")
		}
	}
	for i, name := range head {
		if name == "hose_pa" && i < len(last) {
			out.hose, err = strconv.ParseFloat(last[i], 64)
		}
	}
	if len(out.peaks) == 0 || last == nil {
		return out, errors.New("a solution needs its peaks and rows")
	}
	return out, err
}

var plugs = map[string]sim.PlugState{"in": sim.PlugIn, "out": sim.PlugOut, "gauge": sim.PlugGauge}

// compare runs the problem by our program as it is.
func (q problem) compare(theirs solution) (solved, error) {
	e, err := sim.New(q.Params)
	if err != nil {
		return solved{}, err
	}
	e.SetThrottle(q.Throttle)
	e.SetCoolant(q.Params.CoolantTemperature)
	gauged := false
	for i, name := range q.Plugs {
		e.SetPlug(i+1, plugs[name])
		gauged = gauged || name == "gauge"
	}
	e.Stand(q.Stand)
	e.SetAngle(q.Start)
	ours := solution{}
	var x, y [3]float64
	if q.Coast > 0 {
		e.Step(sim.Inputs{Driven: q.Coast}) // takes the speed at its end
	}
	for tick := range q.Ticks {
		e.Step(sim.Inputs{Starter: q.Speed == 0 && q.Coast == 0, Driven: q.Speed})
		x, y = [3]float64{x[1], x[2], e.CylinderAngle(1)}, [3]float64{y[1], y[2], e.Pressure(1)}
		if tick > 1 && math.Abs(x[1]) < 0.6 && y[1] > y[0] && y[1] >= y[2] {
			ours.peaks = append(ours.peaks, summit(x, y))
		}
	}
	// A run may end at the top of a compression, which one of the two then counts.
	common := min(len(ours.peaks), len(theirs.peaks))
	if len(ours.peaks)+len(theirs.peaks) > 2*common+1 {
		return solved{}, fmt.Errorf("%d compressions, the other program has %d", len(ours.peaks), len(theirs.peaks))
	}
	out := solved{name: q.Name, peaks: common, gauge: math.NaN()}
	for i, p := range theirs.peaks[:common] {
		if d := 100 * (ours.peaks[i]/p - 1); math.Abs(d) > math.Abs(out.worst) {
			out.worst = d
		}
	}
	if gauged {
		out.gauge = unit.Gauge(e.HosePressure() - theirs.hose).PSI()
	}
	return out, nil
}

// summit is the height of the parabola through three points.
func summit(x, y [3]float64) float64 {
	d0, d1 := (y[1]-y[0])/(x[1]-x[0]), (y[2]-y[1])/(x[2]-x[1])
	second := (d1 - d0) / (x[2] - x[0])
	slope := d0 + second*(x[1]-x[0])
	return y[1] - slope*slope/(4*second)
}

func (w words) solverTable(s study) table {
	t := w.tableOf("solver", w.say("column.problem"), w.say("column.compressions"), w.say("column.worst"), w.say("column.gaugediff"))
	for _, x := range s.solved {
		gauge := w.say("cell.nogauge")
		if !math.IsNaN(x.gauge) {
			gauge = change(x.gauge, 2)
		}
		t.add(w.or("problem."+x.name, x.name), strconv.Itoa(x.peaks), change(x.worst, 3), gauge)
	}
	return t
}
