package code

import (
	"errors"
	"strings"

	"crankbay/scenarios/attempt"
	"crankbay/sim/bench"
	"crankbay/sim/record"
)

// A packer walks through an attempt in one fixed order and hands every number and
// word to a coder, in either direction.
type packer struct {
	c     *coder
	t     *prose
	words []string
	index map[string]int
	last  map[uint32]typed  // by column: kind and choice
	was   map[uint32]uint32 // by kind: choice, and cylinder, of the last two
	kinds [4]uint32         // of the last actions
	prev  record.Action
	err   error
}

const wordBits = 9

func newPacker(c *coder) *packer {
	p := &packer{c: c, t: newProse(c), index: map[string]int{}, last: map[uint32]typed{}, was: map[uint32]uint32{}}
	for _, w := range strings.Fields(known) {
		p.add(w)
	}
	return p
}

func (p *packer) add(w string) {
	if _, there := p.index[w]; !there {
		p.index[w] = len(p.words)
		p.words = append(p.words, w)
	}
}

// none is the index of the empty word, spelt that of a new one.
const (
	none  = 0
	spelt = 1
	first = 2 // index of the first word
)

// word codes a word and returns it with its index.
func (p *packer) word(w string, most int, contexts ...uint32) (string, uint32) {
	i := spelt
	if at, there := p.index[w]; there {
		i = at + first
	} else if w == "" {
		i = none
	}
	i = p.c.symbol(i, wordBits, contexts...)
	switch {
	case i == none:
		return "", none
	case i == spelt:
		w = p.text(w, most*4)
		if p.add(w); len(p.words)+first >= 1<<wordBits {
			p.err = &TooLong{"different words", len(p.words), 1<<wordBits - first - 1}
		}
		return w, uint32(p.index[w] + first)
	case i-first >= len(p.words):
		p.err = errDamagedCode
		return "", none
	}
	return p.words[i-first], uint32(i)
}

// text codes a text of at most so many bytes.
func (p *packer) text(s string, most int) string {
	n := int(min(p.c.length(uint64(len(s)), 0x7001), uint64(most)))
	return p.t.text(s, n)
}

// small codes a number below 2^40.
func (p *packer) small(v uint64, what uint32) uint64 { return p.c.length(v, hash(0x7100, what)) }

// all packs a file and its check bytes.
func (p *packer) all(f *attempt.File, checks *[]byte) {
	f.Format = int(p.small(uint64(f.Format), 1))
	f.Model = int(p.small(uint64(f.Model), 2))
	f.Grader = int(p.small(uint64(f.Grader), 3))
	f.Scenario = p.text(f.Scenario, 64)
	f.ScenarioDigest = p.hex(f.ScenarioDigest)
	p.seed(f)
	modes := attempt.Modes()
	f.Mode = modes[min(p.c.symbol(indexOf(modes, f.Mode), 2, 0x7002), len(modes)-1)]
	f.Who = p.text(f.Who, 400)
	p.t.done = append(p.t.done, '\n')
	n := int(min(p.small(uint64(len(f.Actions)), 4), bench.MaxActions))
	if p.c.mode == reading {
		f.Actions = make([]record.Action, 0, min(n, 512))
		*checks = nil
	}
	for i := range n {
		var a record.Action
		if p.c.mode != reading {
			a = f.Actions[i]
		}
		if a = p.action(a); p.err != nil || p.c.over() {
			return
		}
		if p.c.mode == reading {
			f.Actions = append(f.Actions, a)
		}
	}
	p.end(f)
	p.checks(checks)
}

// seed is small when a person chose it.
func (p *packer) seed(f *attempt.File) {
	big := 0
	if f.Seed >= 1<<32 {
		big = 1
	}
	if p.c.symbol(big, 1, 0x7003) == 1 {
		f.Seed = p.c.plain(f.Seed, 64)
	} else {
		f.Seed = p.small(f.Seed, 6)
	}
}

// checks packs one byte of every 16th mark, which nobody can foresee.
func (p *packer) checks(list *[]byte) {
	n := int(min(p.small(uint64(len(*list)), 7), bench.MaxActions))
	for i := range n {
		var b byte
		if p.c.mode != reading {
			b = (*list)[i]
		}
		if b = byte(p.c.plain(uint64(b), 8)); p.c.over() {
			return
		}
		if p.c.mode == reading {
			*list = append(*list, b)
		}
	}
}

// end packs where it ended, and the mark there.
func (p *packer) end(f *attempt.File) {
	f.Tick = p.prev.Tick + int64(p.small(uint64(f.Tick-p.prev.Tick), 5))
	m := record.Mark{Tick: f.Tick}
	if p.c.mode != reading {
		m = f.Marks[len(f.Marks)-1]
	}
	m.Digest = p.c.plain(m.Digest, 64)
	f.Marks = []record.Mark{m}
}

// action packs one action, each column by what usually stands there.
func (p *packer) action(a record.Action) record.Action {
	k := p.kinds
	kind, ki := p.word(a.Kind, 32, hash(0x100, k[0]), hash(hash(0x101, k[0]), k[1]),
		hash(hash(hash(0x102, k[0]), k[1]), k[2]), hash(hash(0x103, k[0]), p.was[k[0]]), hash(hash(hash(hash(0x104, k[0]), k[1]), k[2]), k[3]))
	a.Kind = kind
	was := p.was[ki]
	choice, ci := p.word(a.Choice, 64, hash(0x200, ki), hash(hash(0x201, ki), was&0xffff), hash(hash(0x202, ki), was),
		hash(hash(hash(0x203, ki), k[0]), was&0xffff), hash(hash(hash(0x204, ki), k[0]), k[1]))
	a.Choice = choice
	column := hash(ki, ci)
	there := p.was[column]
	before := uint32(p.prev.Cylinder)
	a.Cylinder = p.c.symbol(a.Cylinder, 7, hash(0x300, column), hash(hash(0x301, column), there&0xff), hash(hash(0x302, column), before),
		hash(hash(hash(0x303, column), there), before), hash(hash(0x304, ki), p.was[ki|1<<20]))
	since := int64(p.c.length(uint64(max(a.Tick-p.prev.Tick, 0)), hash(0x400, ki), hash(hash(0x401, ki), k[0]), hash(hash(hash(0x402, column), k[0]), k[1])))
	a.Tick = p.prev.Tick + since
	some := 0
	if a.Number != 0 {
		some = 1
	}
	if p.c.symbol(some, 1, hash(0x500, ki), hash(0x501, column)) == 1 {
		a.Number = p.number(a.Number, column)
	}
	if a.Kind == attempt.KindRemark {
		a.Text = p.text(a.Text, 1600)
	}
	p.prev = a
	p.was[ki] = was<<16 | ci
	p.was[column] = there<<8 | uint32(a.Cylinder)
	p.was[ki|1<<20] = uint32(a.Cylinder)
	copy(p.kinds[1:], k[:])
	p.kinds[0] = ki
	return a
}

// hex packs 32 small hex digits.
func (p *packer) hex(s string) string {
	const digits = "0123456789abcdef"
	out := make([]byte, 32)
	for i := range out {
		v := 0
		if i < len(s) {
			for v = 0; v < 15 && digits[v] != s[i]; v++ {
			}
		}
		out[i] = digits[p.c.plain(uint64(v), 4)]
	}
	return string(out)
}

func indexOf(list []string, s string) int {
	for i, x := range list {
		if x == s {
			return i
		}
	}
	return 0
}

// errDamagedCode is every way in which what was unpacked is not what was packed.
var errDamagedCode = errors.New("code: its digest does not fit the contents: something was changed or damaged")
