package bench

import (
	"math"

	"crankbay/sim/record"
)

// hash is FNV-1a over 64-bit words.
type hash uint64

const (
	fnvOffset hash = 14695981039346656037
	fnvPrime  hash = 1099511628211
)

func newHash() hash { return fnvOffset }

func (h hash) sum() uint64 { return uint64(h) }

func (h hash) word(w uint64) hash {
	for range 8 {
		h = (h ^ hash(w&0xff)) * fnvPrime
		w >>= 8
	}
	return h
}

func (h hash) float(values ...float64) hash {
	for _, v := range values {
		h = h.word(math.Float64bits(v))
	}
	return h
}

func (h hash) int(values ...int) hash {
	for _, v := range values {
		h = h.word(uint64(int64(v)))
	}
	return h
}

func (h hash) bool(values ...bool) hash {
	for _, v := range values {
		w := uint64(0)
		if v {
			w = 1
		}
		h = (h ^ hash(w)) * fnvPrime
	}
	return h
}

// text ends with a byte that UTF-8 never has, so that "ab","c" differs from "a","bc".
func (h hash) text(values ...string) hash {
	for _, s := range values {
		for i := 0; i < len(s); i++ {
			h = (h ^ hash(s[i])) * fnvPrime
		}
		h = (h ^ 0xff) * fnvPrime
	}
	return h
}

func (h hash) action(a record.Action) hash {
	return h.word(uint64(a.Tick)).text(a.Kind).int(a.Cylinder).float(a.Number).text(a.Choice, a.Text)
}

// Digest folds the whole state, needle and log included, into 64 bits.
func (b *Bench) Digest() uint64 {
	h := newHash().word(b.engine.Digest())
	h = hash(b.needle.Digest(h.sum()))
	h = b.hands.digest(h)
	for i := range b.cyl {
		c := &b.cyl[i]
		h = h.text(c.order).bool(c.loose).float(c.oil, c.washed)
		if c.torn {
			h = h.bool(true)
		}
	}
	if b.valvesShut || b.rail != railTurns {
		h = h.bool(b.valvesShut).int(b.rail)
	}
	h = b.press.digest(h)
	h = b.run.digest(h)
	h = b.meters.digest(h)
	h = b.tests.digest(h)
	h = h.int(b.release, b.quiet, b.told, len(b.rec.Events), len(b.rec.Runs)).float(b.stated, b.heat)
	return h.word(uint64(b.rec.Tick)).word(b.logHash).sum()
}

func (s *hands) digest(h hash) hash {
	h = h.bool(s.glasses, s.brake, s.chocks, s.belts, s.fluids, s.charger, s.wells, s.open, s.remote, s.fuelOff,
		s.ignitionOff, s.voltmeter, s.tachometer, s.starter, s.proved, s.leads, s.codes, s.vapour, s.jammed)
	return h.text(s.gear, s.page, s.started).int(s.gauge, s.adapter, s.hose)
}
