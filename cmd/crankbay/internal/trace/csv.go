package trace

import (
	"bufio"
	"encoding/csv"
	"fmt"
	"io"
	"strconv"

	"crankbay/sim/unit"
)

// columns before the pressures of the cylinders; each name ends in its unit.
var columns = []string{
	"run", "cylinder", "oil_ml", "time_s", "crank_deg", "cylinder_deg", "speed_rpm", "current_a", "battery_v",
	"plenum_kpa_abs", "hose_kpa_gauge", "needle_kpa_gauge",
}

// Columns names the columns of a trace of an engine with n cylinders. crank_deg
// runs from 0 to 720 and is 0 at compression TDC of the first cylinder in firing
// order; cylinder_deg runs from -360 to 360 and is 0 at compression TDC of the
// cylinder under test. time_s starts anew with each run. What was not connected or
// does not apply is empty: a gauge that is not on shows nothing, not zero.
func Columns(n int) []string {
	out := append([]string{}, columns...)
	for cyl := 1; cyl <= n; cyl++ {
		out = append(out, fmt.Sprintf("pressure_%d_kpa_abs", cyl))
	}
	return out
}

// WriteCSV writes one row per tick of every run, with a line of names first.
// Equal traces give equal bytes.
func (t Trace) WriteCSV(w io.Writer) error {
	buffered := bufio.NewWriterSize(w, 1<<16)
	out := csv.NewWriter(buffered)
	if err := out.Write(Columns(t.Cylinders)); err != nil {
		return err
	}
	for _, run := range t.Runs {
		for _, s := range run.Samples {
			if err := out.Write(row(run, s)); err != nil {
				return err
			}
		}
	}
	out.Flush()
	if err := out.Error(); err != nil {
		return err
	}
	return buffered.Flush()
}

func row(run Run, s Sample) []string {
	cells := []string{
		strconv.Itoa(run.ID), "", fixed(run.OilML, 2),
		fixed(s.Seconds(), 5), fixed(unit.Angle(s.Crank).Degrees(), 3), "",
		fixed(unit.RPM(s.Speed), 2), fixed(s.Current, 2), fixed(s.Voltage, 3),
		fixed(float64(s.Plenum)/1000, 3), "", "",
	}
	if run.Cylinder > 0 {
		cells[1], cells[5] = strconv.Itoa(run.Cylinder), fixed(unit.Angle(s.Angle).Degrees(), 3)
	}
	if run.Gauged {
		cells[10], cells[11] = fixed(s.Hose.KPa(), 2), fixed(s.Needle.KPa(), 2)
	}
	for _, p := range s.Pressure {
		cells = append(cells, fixed(float64(p)/1000, 2))
	}
	return cells
}

// fixed writes a number with so many decimals, and zero without a sign.
func fixed(v float64, decimals int) string {
	text := strconv.FormatFloat(v, 'f', decimals, 64)
	if v < 0 && v > -1 {
		if back, err := strconv.ParseFloat(text, 64); err == nil && back == 0 {
			return text[1:]
		}
	}
	return text
}
