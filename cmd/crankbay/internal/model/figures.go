//go:build !js

package model

import (
	"fmt"
	"strconv"

	"crankbay/cmd/crankbay/internal/plots"
	"crankbay/sim"
)

// Sizes of the page's figures: small, so that their words can still be read when
// a telephone shrinks them.
const (
	figureWidth  = 430
	figureHeight = 310
)

// A shown is a figure with its table.
type shown struct {
	figure plots.Figure
	table  table
}

// A table has one head row; the first cell of every row is its head.
type table struct {
	ID      string
	Caption string
	Head    []string
	Rows    []rowOf
}

// A rowOf is one row; Strong sets it off.
type rowOf struct {
	Cells  []string
	Strong bool
}

func (t *table) add(cells ...string) { t.Rows = append(t.Rows, rowOf{Cells: cells}) }

func (w words) figure(id string) plots.Figure {
	return plots.Figure{
		ID: id, Width: figureWidth, Height: figureHeight,
		Title: w.say("plot." + id + ".title"),
		X:     plots.Axis{Name: w.say("plot." + id + ".x")}, Y: plots.Axis{Name: w.say("plot." + id + ".y")},
	}
}

func (w words) tableOf(id string, head ...string) table {
	return table{ID: id, Caption: w.say("table." + id), Head: head}
}

// tones of the conditions: the burnt valve is what the plots are about.
var tones = map[string]plots.Line{
	"sound": {Tone: plots.Ink}, "burnt": {Tone: plots.Red}, "worn": {Tone: plots.Quiet}, "gasket": {Tone: plots.Ink, Dashed: true},
}

func (w words) line(c curve) plots.Line {
	l := tones[c.key]
	l.Name = w.say("name." + c.key)
	return l
}

func (w words) names(curves []curve) []string {
	var out []string
	for _, c := range curves {
		out = append(out, w.say("name."+c.key))
	}
	return out
}

// shown returns every figure with its table, in the order of the page.
func (w words) shown(s study) []shown {
	return []shown{
		w.pressure(s), w.strokes(s), w.parked(s), w.oil(s), w.speed(s), w.current(s), w.altitude(s),
	}
}

// tableAngles are where the pressure trace is also given as numbers [°].
var tableAngles = []float64{-120, -90, -60, -30, -15, 0, 15, 30, 60, 90}

func (w words) pressure(s study) shown {
	f := w.figure("pressure")
	f.X.Min, f.X.Max, f.X.Ticks = -180, 180, []float64{-180, -90, 0, 90, 180}
	t := w.tableOf("pressure", append([]string{w.say("column.angle")}, w.names(s.strokes)...)...)
	rows := make([][]string, len(tableAngles)+1)
	for i, a := range tableAngles {
		rows[i] = []string{number(a, 0)}
	}
	rows[len(tableAngles)] = []string{w.say("row.peak")}
	var peaks []any
	for _, c := range s.strokes {
		l := w.line(c)
		last := c.readings[0].last()
		high := 0
		for i, p := range last {
			l.X, l.Y = append(l.X, p.angle/degree), append(l.Y, p.pressure.PSI())
			if l.Y[i] > l.Y[high] {
				high = i
			}
		}
		l.NameAt = high + 1
		f.Lines = append(f.Lines, l)
		for i, a := range tableAngles {
			rows[i] = append(rows[i], number(between(l.X, l.Y, a), 0))
		}
		rows[len(tableAngles)] = append(rows[len(tableAngles)], number(l.Y[high], 0))
		peaks = append(peaks, c.key, number(l.Y[high], 0))
	}
	for i, cells := range rows {
		t.Rows = append(t.Rows, rowOf{cells, i == len(tableAngles)})
	}
	f.Description = w.say("plot.pressure.text", peaks...)
	return shown{f, t}
}

// between reads a curve at x.
func between(xs, ys []float64, x float64) float64 {
	for i := 1; i < len(xs); i++ {
		if xs[i] >= x {
			return ys[i-1] + (ys[i]-ys[i-1])*(x-xs[i-1])/(xs[i]-xs[i-1])
		}
	}
	return ys[len(ys)-1]
}

func (w words) strokes(s study) shown {
	f := w.figure("strokes")
	t := w.tableOf("strokes", append([]string{w.say("column.stroke")}, w.names(s.strokes)...)...)
	count := len(s.strokes[0].readings[0].strokes)
	f.X.Max = float64(count)
	share := []string{w.say("row.share")}
	params := []any{}
	for k := range count + 1 {
		f.X.Ticks = append(f.X.Ticks, float64(k))
	}
	for _, c := range s.strokes {
		l := w.line(c)
		l.X, l.Y, l.Dots = []float64{0}, []float64{0}, true
		for k, g := range c.readings[0].strokes {
			l.X, l.Y = append(l.X, float64(k+1)), append(l.Y, g.PSI())
		}
		f.Lines = append(f.Lines, l)
		share = append(share, w.say("percent", "n", number(c.readings[0].share(), 0)))
		params = append(params, c.key, number(c.readings[0].first().PSI(), 0), c.key+"_end", number(c.readings[0].final.PSI(), 0))
	}
	for k := range count {
		cells := []string{strconv.Itoa(k + 1)}
		for _, c := range s.strokes {
			cells = append(cells, number(c.readings[0].strokes[k].PSI(), 0))
		}
		t.add(cells...)
	}
	t.Rows = append(t.Rows, rowOf{share, true})
	f.Description = w.say("plot.strokes.text", params...)
	return shown{f, t}
}

func (w words) parked(s study) shown {
	c := s.parked[0]
	f := w.figure("parked")
	f.X.Min, f.X.Max, f.X.Ticks = -180, 0, []float64{-180, -120, -60, 0}
	first := plots.Line{Name: w.say("name.first"), Tone: plots.Red, Dots: true}
	last := plots.Line{Name: w.say("name.final"), Tone: plots.Ink, Dots: true}
	t := w.tableOf("parked", w.say("column.parked"), w.say("column.first"), w.say("column.ofwhole"), w.say("column.final"))
	whole := c.readings[0].first()
	for i, a := range c.at {
		r := c.readings[i]
		first.X, first.Y = append(first.X, -a), append(first.Y, r.first().PSI())
		last.X, last.Y = append(last.X, -a), append(last.Y, r.final.PSI())
		t.add(number(-a, 0), number(r.first().PSI(), 0), w.say("percent", "n", number(100*float64(r.first()/whole), 0)), number(r.final.PSI(), 0))
	}
	f.Lines = []plots.Line{last, first}
	at60 := between(negative(first.X), negative(first.Y), 60)
	f.Description = w.say("plot.parked.text", "whole", number(whole.PSI(), 0), "part", number(-at60, 0))
	return shown{f, t}
}

func negative(list []float64) []float64 {
	out := make([]float64, len(list))
	for i, v := range list {
		out[len(list)-1-i] = -v
	}
	return out
}

// over draws final readings of several conditions over one quantity.
func (w words) over(id, column string, curves []curve) shown {
	f := w.figure(id)
	t := w.tableOf(id, append([]string{w.say(column)}, w.names(curves)...)...)
	for _, c := range curves {
		l := w.line(c)
		l.X, l.Dots = c.at, true
		for _, r := range c.readings {
			l.Y = append(l.Y, r.final.PSI())
		}
		f.Lines = append(f.Lines, l)
	}
	for i, v := range curves[0].at {
		cells := []string{number(v, 0)}
		for _, c := range curves {
			cells = append(cells, number(c.readings[i].final.PSI(), 0))
		}
		t.add(cells...)
	}
	return shown{f, t}
}

// gain is what an amount of oil does to the final reading [%].
func (c curve) gain(ml float64) float64 {
	for i, v := range c.at {
		if v == ml {
			return 100 * (float64(c.readings[i].final/c.readings[0].final) - 1)
		}
	}
	panic(fmt.Sprintf("model: nobody poured %g ml", ml))
}

// spoon is what procedure cards ask for, about [ml].
const spoon = 10

func (w words) oil(s study) shown {
	out := w.over("oil", "column.oil", s.oil)
	gains := []string{w.say("row.gain", "ml", spoon)}
	params := []any{"ml", spoon}
	for _, c := range s.oil {
		gains = append(gains, w.say("percent", "n", change(c.gain(spoon), 0)))
		params = append(params, c.key, number(c.gain(spoon), 0))
	}
	out.table.Rows = append(out.table.Rows, rowOf{gains, true})
	out.figure.Description = w.say("plot.oil.text", params...)
	return out
}

func (w words) speed(s study) shown {
	out := w.over("speed", "column.rpm", s.speed)
	params := []any{"low", number(speeds[0], 0), "high", number(speeds[len(speeds)-1], 0)}
	for _, c := range s.speed {
		params = append(params, c.key, number(c.readings[0].final.PSI(), 0), c.key+"_end", number(c.readings[len(speeds)-1].final.PSI(), 0))
	}
	out.figure.Description = w.say("plot.speed.text", params...)
	return out
}

func (w words) current(s study) shown {
	f := w.figure("current")
	const until = windowFrom + 0.55
	f.X.Min, f.X.Max = windowFrom, until
	f.Note = w.say("plot.current.note")
	l := plots.Line{Tone: plots.Ink}
	for _, p := range s.current {
		if p.seconds >= windowFrom && p.seconds <= until {
			l.X, l.Y = append(l.X, p.seconds), append(l.Y, p.current)
		}
	}
	f.Lines = []plots.Line{l}
	t := w.tableOf("current", w.say("column.cylinder"), w.say("column.amps"), w.say("column.ofhighest"))
	highest := 0.0
	for _, h := range s.humps {
		highest = max(highest, h.amps)
	}
	f.Y.Max = 1.15 * highest
	low := 0.0
	for _, h := range s.humps {
		m := plots.Mark{X: h.seconds, Y: h.amps, Text: strconv.Itoa(h.cylinder)}
		if h.cylinder == weak {
			m.Tone, low = plots.Red, h.amps
		}
		f.Marks = append(f.Marks, m)
		t.Rows = append(t.Rows, rowOf{[]string{
			strconv.Itoa(h.cylinder), number(h.amps, 0), w.say("percent", "n", number(100*h.amps/highest, 0)),
		}, h.cylinder == weak})
	}
	f.Description = w.say("plot.current.text", "cylinder", weak, "low", number(low, 0), "high", number(highest, 0))
	return shown{f, t}
}

const metresPerFoot = 0.3048

func (w words) altitude(s study) shown {
	f := w.figure("altitude")
	f.X.Max, f.Y.Min, f.Y.Max = 6000, 70, 102
	pressure := plots.Line{Name: w.say("name.pressure"), Tone: plots.Ink}
	computed := plots.Line{Name: w.say("name.computed"), Tone: plots.Red, Bare: true}
	trade := plots.Line{Name: w.say("name.trade"), Tone: plots.Quiet, Dashed: true}
	t := w.tableOf("altitude", w.say("column.feet"), w.say("column.metres"), w.say("column.pressure"), w.say("column.computed"), w.say("column.trade"))
	for _, h := range s.altitude {
		pressure.X, pressure.Y = append(pressure.X, h.feet), append(pressure.Y, 100*h.pressure)
		computed.X, computed.Y = append(computed.X, h.feet), append(computed.Y, 100*h.computed)
		cell := w.say("cell.none")
		if h.trade > 0 {
			trade.X, trade.Y = append(trade.X, h.feet), append(trade.Y, 100*h.trade)
			cell = number(100*h.trade, 1)
		}
		t.add(number(h.feet, 0), number(h.feet*metresPerFoot, 0), number(100*h.pressure, 1), number(100*h.computed, 1), cell)
	}
	f.Lines = []plots.Line{trade, pressure, computed}
	top := s.altitude[len(s.altitude)-1]
	f.Description = w.say("plot.altitude.text", "feet", number(top.feet, 0), "pressure", number(100*top.pressure, 0),
		"computed", number(100*top.computed, 0), "trade", number(100*top.trade, 0))
	return shown{f, t}
}

// Tables without a figure.

func (w words) bandTable(s study) table {
	t := w.tableOf("bands", w.say("column.engine"), w.say("column.printed"), w.say("column.rpm"),
		w.say("column.slowest"), w.say("column.middle"), w.say("column.fastest"), w.say("column.verdict"))
	for _, b := range s.bands {
		verdict := w.say("verdict.outside")
		if b.inside() {
			verdict = w.say("verdict.inside")
		}
		t.add(b.name, number(b.low, 0)+"–"+number(b.high, 0), number(b.rpm[0], 0)+"–"+number(b.rpm[2], 0),
			number(b.got[0], 0), number(b.got[1], 0), number(b.got[2], 0), verdict)
	}
	return t
}

func (w words) orificeTable(s study) table {
	t := w.tableOf("orifices", w.say("column.ratio"), w.say("column.theory"), w.say("column.model"))
	for _, o := range s.orifices {
		t.add(strconv.FormatFloat(o.ratio, 'g', -1, 64), number(o.want, 1), number(o.got, 1))
	}
	return t
}

func (w words) stepTable(s study) table {
	t := w.tableOf("steps", w.say("column.step"), w.say("column.peakopen"), w.say("column.gaugeopen"), w.say("column.peakshut"), w.say("column.gaugeshut"))
	for _, r := range s.steps {
		name := number(r.degrees, 3)
		if r.inUse {
			name = w.say("row.inuse", "degrees", name)
		}
		t.Rows = append(t.Rows, rowOf{[]string{
			name, change(r.peak[0], 2), change(r.gauge[0], 2), change(r.peak[1], 2), change(r.gauge[1], 2),
		}, r.inUse})
	}
	return t
}

func (w words) thinTable(s study) table {
	t := w.tableOf("thin", w.say("column.number"), w.say("column.used"))
	for _, what := range []string{"name.sound", "name.worn", "column.wornshare", "column.rpm"} {
		t.Head = append(t.Head, w.say("column.half", "what", w.say(what)), w.say("column.double", "what", w.say(what)))
	}
	for _, r := range s.thin {
		used := number(r.value, r.digits)
		if r.unit != "" {
			used += "\u00a0" + r.unit
		}
		a, b := r.half, r.double
		t.add(w.say(r.key), used, change(a.sound, 1), change(b.sound, 1), change(a.worn, 1), change(b.worn, 1),
			change(a.share, 1), change(b.share, 1), change(a.rpm, 0), change(b.rpm, 0))
	}
	return t
}

func (w words) sourceTable(s study) table {
	t := w.tableOf("sources", w.say("column.table"), w.say("column.rows"), w.say("column.source"), w.say("column.seen"))
	for _, x := range s.tables {
		t.add(x.name, strconv.Itoa(x.rows), x.source, w.say("mark."+x.mark))
	}
	return t
}

// facts are numbers that sentences name.
func facts() map[string]string {
	r := sim.Reference()
	return map[string]string{
		"ticks": strconv.Itoa(sim.TicksPerSecond), "step": number(sim.SubStep/degree, 2), "lift": number(sim.EventLift/mm, 2),
		"ratio": number(r.Compression, 0), "bore": number(r.Bore/mm, 0), "stroke": number(r.Stroke/mm, 0),
		"closes": number(r.Intake.Closes/degree-540, 0), "version": strconv.Itoa(sim.ModelVersion),
		"burnt": number(burntArea/mm2, 1), "worn": number(wornArea/mm2, 1), "rings": number(r.Cylinder[0].RingArea/mm2, 1),
		"gasket": number(gasketArea/mm2, 1), "hose": number(r.Gauge.HoseVolume/ml, 0), "tester": number(testerArea/mm2, 2),
		"bench": "4", "benchmost": "22", "sealed": "12", "leaking": "15", // measured: testdata/crosscheck/README.md
		"rpm": number(heightRPM, 0), "studyrpm": number(studyRPM, 0), "finest": number(sim.SubStep/degree/24, 3),
	}
}
