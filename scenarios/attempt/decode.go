package attempt

import (
	"fmt"
	"strconv"

	"crankbay/scenarios/strict"
	"crankbay/sim/bench"
	"crankbay/sim/record"
)

const (
	maxChoice = 64
	maxNumber = 1e9
	maxMarks  = bench.MaxActions + bench.MaxTicks/record.TicksPerSecond + 1
	maxKind   = 32
	maxCyl    = 64 // more than any engine; the engine's own number is the bench's to check
)

// Decode reads a file. The error is one sentence that names the place:
// attempt: actions[12].number: 1e999, want a number from -1e+09 to 1e+09.
func Decode(data []byte) (*File, error) {
	doc, err := strict.Parse(data, MaxBytes)
	if err != nil {
		return nil, fmt.Errorf("attempt: %w", err)
	}
	f := &File{}
	o := doc.Root().Object()
	// A file of another format may have any fields: its number comes first.
	if v := o.Need("format"); v.Present() {
		if f.Format = int(v.Int(1, 1<<30)); f.Format > Format {
			v.Fail("written in format %d, this program reads format %d", f.Format, Format)
		}
	}
	f.Model = int(o.Need("model").Int(1, 1<<30))
	f.Grader = int(o.Need("grader").Int(1, 1<<30))
	f.Scenario = o.Need("scenario").ID()
	f.ScenarioDigest = digits(o.Need("scenario_digest"))
	f.Seed = o.Need("seed").Uint64()
	f.Mode = o.Need("mode").OneOf(Modes()...)
	f.Who = o.Need("who").Text(maxWho)
	f.Actions = actions(o.Need("actions"))
	f.Marks = marks(o.Need("marks"))
	end := o.Need("tick")
	f.Tick = end.Int(0, bench.MaxTicks)
	sum := o.Need("digest")
	f.Digest = digits(sum)
	o.Close()
	if doc.Err() == nil {
		f.close(end, sum)
	}
	if err := doc.Err(); err != nil {
		return nil, fmt.Errorf("attempt: %w", err)
	}
	return f, nil
}

// close checks what holds between fields.
func (f *File) close(end, sum strict.Value) {
	if n := len(f.Actions); n > 0 && f.Actions[n-1].Tick > f.Tick {
		end.Fail("%d lies before the last action, at %d", f.Tick, f.Actions[n-1].Tick)
	}
	if last := f.Marks[len(f.Marks)-1].Tick; last != f.Tick {
		end.Fail("%d, but the last mark is at %d", f.Tick, last)
	}
	if want := f.sum(); f.Digest != want {
		sum.Fail("%s does not fit the contents, which give %s: something was changed or damaged", f.Digest, want)
	}
}

// digits reads 32 small hex digits.
func digits(v strict.Value) string {
	s := v.Text(32)
	if !v.Present() {
		return ""
	}
	good := len(s) == 32
	for i := 0; i < len(s); i++ {
		c := s[i]
		good = good && (c >= '0' && c <= '9' || c >= 'a' && c <= 'f')
	}
	if !good {
		v.Fail("%s, want 32 small hex digits", strconv.Quote(s))
	}
	return s
}

func actions(v strict.Value) []record.Action {
	items := v.List(0, bench.MaxActions)
	list := make([]record.Action, len(items))
	for i, item := range items {
		list[i] = action(item)
		if i > 0 && list[i].Tick < list[i-1].Tick {
			item.Fail("tick %d lies before the action above it, at %d", list[i].Tick, list[i-1].Tick)
		}
		if i > 0 && list[i-1].Kind == KindHandIn {
			item.Fail("nothing follows hand-in")
		}
	}
	return list
}

func action(v strict.Value) record.Action {
	o := v.Object()
	kind := o.Need("kind")
	a := record.Action{Tick: o.Need("tick").Int(0, bench.MaxTicks), Kind: kind.Text(maxKind)}
	if kind.Present() && !knows(a.Kind) {
		kind.Fail("%s is no kind of action", strconv.Quote(a.Kind))
	}
	if c := o.May("cylinder"); c.Present() {
		a.Cylinder = int(c.Int(0, maxCyl))
	}
	if n := o.May("number"); n.Present() {
		a.Number = n.Float(-maxNumber, maxNumber) + 0 // -0 is 0
	}
	if c := o.May("choice"); c.Present() {
		a.Choice = c.Text(maxChoice)
	}
	if t := o.May("text"); t.Present() {
		a.Text = t.Text(maxText)
	}
	o.Close()
	return a
}

func marks(v strict.Value) []record.Mark {
	items := v.List(1, maxMarks)
	list := make([]record.Mark, len(items))
	for i, item := range items {
		o := item.Object()
		list[i] = record.Mark{Tick: o.Need("tick").Int(0, bench.MaxTicks), Digest: o.Need("digest").Uint64()}
		o.Close()
		if i > 0 && list[i].Tick < list[i-1].Tick {
			item.Fail("tick %d lies before the mark above it, at %d", list[i].Tick, list[i-1].Tick)
		}
	}
	return list
}
