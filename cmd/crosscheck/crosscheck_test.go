//go:build !js

package main

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// atRoot moves the test to the root of the tree, where the program runs.
func atRoot(t *testing.T) {
	t.Helper()
	t.Chdir(filepath.Join("..", ".."))
}

// The file that all programs read holds every problem, and nothing of it is lost
// on the way: what is read, written again, is what stands there.
func TestProblemsFile(t *testing.T) {
	atRoot(t)
	file, err := os.ReadFile(problemsPath)
	require.NoError(t, err)
	list, err := readProblems(problemsPath)
	require.NoError(t, err)
	require.Len(t, list, len(problems()))
	for i, q := range problems() {
		assert.Equal(t, q.Name, list[i].Name)
		line, err := json.Marshal(&list[i])
		require.NoError(t, err)
		assert.Contains(t, string(file), string(line), "%s: parameters were added or lost; go run ./cmd/crosscheck -write", q.Name)
		_, err = list[i].build()
		assert.NoError(t, err, q.Name)
	}
}

func TestPeakFinder(t *testing.T) {
	var f peakFinder
	height := func(a float64) float64 { return 5 - 3*(a-0.013)*(a-0.013) }
	for a := -0.7; a < 0.7; a += 0.05 {
		f.add(a, height(a))
	}
	require.Len(t, f.peaks, 1)
	assert.InDelta(t, 5, f.peaks[0], 1e-12, "a parabola is found exactly")
	for a := math.Pi - 0.7; a < math.Pi+0.7; a += 0.05 {
		f.add(a, 5-(a-math.Pi)*(a-math.Pi))
	}
	assert.Len(t, f.peaks, 1, "away from TDC nothing counts")
}

func TestDiffers(t *testing.T) {
	want := solution{Peaks: []float64{1e6, 2e6}, Gauge: 1e6}
	got := solution{Peaks: []float64{1.001e6, 1.9999e6}, Gauge: 1e6 + 0.25*pascalPerPSI}
	peak, gauge := got.differs(&want)
	assert.InDelta(t, 1e-3, peak, 1e-12)
	assert.InDelta(t, 0.25, gauge, 1e-9)
	assert.True(t, got.meets(&want))
	got.Gauge += 0.5 * pascalPerPSI
	assert.False(t, got.meets(&want))
	got.Peaks = got.Peaks[:1]
	peak, _ = got.differs(&want)
	assert.True(t, math.IsInf(peak, 1), "a compression is missing")
	assert.Nil(t, fastest([]solution{got}, &want, notLive))
}

// A grid covers one cycle, and while a valve is open no step is wider than said.
func TestGrid(t *testing.T) {
	q := problem{Params: single(), Start: 3 * math.Pi}
	const widest = 1.5 * degree
	steps := q.grid(widest)
	sum, wide := 0.0, 0
	for _, step := range steps {
		at := q.Start + sum
		for _, s := range q.spans() {
			if inside := math.Mod(at+step/2-s.from+2*cycle, cycle); inside < s.to-s.from {
				assert.LessOrEqual(t, step, widest+1e-5, "at %g°", at/degree)
			}
		}
		if step > 3*widest {
			wide++
		}
		assert.Positive(t, step)
		sum += step
	}
	assert.InDelta(t, cycle, sum, 1e-6)
	assert.Greater(t, wide, 5, "and wide ones where they are shut")
}

// On a fine grid the cylinder alone meets the goals of every problem it is stepped in.
func TestAloneMeetsTheGoals(t *testing.T) {
	atRoot(t)
	list, err := readProblems(problemsPath)
	require.NoError(t, err)
	count := 0
	for i := range list {
		q := &list[i]
		if !q.alone() {
			continue
		}
		count++
		s, err := q.runAlone(0.35)
		require.NoError(t, err)
		peak, _ := s.differs(&solution{Peaks: fixture(t, q.Name)})
		assert.Less(t, peak, peakGoal, q.Name)
	}
	assert.Equal(t, 6, count)
}

// What CVODE makes of the equations in C agrees with what SciPy made of those in
// Python, so neither is misspelt where they were written twice.
func TestCVODEAgreesWithSciPy(t *testing.T) {
	if !haveCVODE() {
		t.Skip("SKIP: gcc or libsundials-dev is not installed, the C equations were not run")
	}
	atRoot(t)
	program, err := compileCVODE(t.TempDir())
	require.NoError(t, err)
	list, err := solve(program, problemsPath, "once")
	require.NoError(t, err)
	require.Len(t, list, len(problems()))
	for _, s := range list {
		want := fixture(t, s.Problem)
		require.Len(t, s.Peaks, len(want), s.Problem)
		for i, p := range want {
			assert.InEpsilon(t, p, s.Peaks[i], 1e-5, "%s, compression %d", s.Problem, i+1)
		}
	}
}

// SciPy, run now, gives what was recorded.
func TestSciPyRepeats(t *testing.T) {
	if !haveSciPy() {
		t.Skip("SKIP: python3-scipy is not installed, the recorded curves were not computed anew")
	}
	atRoot(t)
	list, err := solve(python, filepath.Join(folder, "solve.py"), problemsPath, "reference", t.TempDir(), "sealed", "leaking")
	require.NoError(t, err)
	require.Len(t, list, 2)
	for _, s := range list {
		want := fixture(t, s.Problem)
		require.Len(t, s.Peaks, len(want))
		for i, p := range want {
			assert.InEpsilon(t, p, s.Peaks[i], 1e-6)
		}
	}
}

// fixture returns the recorded peaks of a problem [Pa].
func fixture(t *testing.T, name string) []float64 {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(folder, "scipy", name+".csv"))
	require.NoError(t, err)
	for _, line := range bytes.Split(data, []byte("\n")) {
		if list, ok := bytes.CutPrefix(line, []byte("# peaks_pa ")); ok {
			var peaks []float64
			require.NoError(t, json.Unmarshal([]byte("["+string(bytes.ReplaceAll(list, []byte(" "), []byte(",")))+"]"), &peaks))
			return peaks
		}
	}
	t.Fatalf("%s.csv has no peaks", name)
	return nil
}
