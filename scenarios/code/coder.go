package code

// A coder writes or reads bits that a model predicts: bits that were likely cost
// next to nothing. It is an arithmetic coder of 32 bits under a mixture of
// adaptive predictions, in whole numbers only, so every machine and every version
// of the compiler reads the same. Writing and reading go through the same calls:
// each takes the value to write, and returns the value written or read.
//
// The standard library's flate would do, but reading alone would add 29 kB to the
// page's program on the wire, and its links are a sixth longer. This is small enough
// to stand once more in the page itself, where it reads links (app/link.js).
type coder struct {
	mode   mode
	data   []byte // written so far, or to be read
	at     int    // next byte to read
	lo, hi uint32 // what is left of the interval
	have   uint32 // the bits being read

	slots   []slot // predictions by hashed context
	weights []int32
	in      [maxInputs]int32
	where   [maxInputs]*slot
}

type mode byte

const (
	learning mode = iota // only the model moves
	writing
	reading
)

const (
	maxInputs  = 8
	slotBits   = 18 // 262,144 predictions; the longest text we pack uses about half
	weightSets = 64
	oneWeight  = 1 << 16
)

// A slot is what was seen after one context: the chance of a 1, 16 bits, and how
// often it was asked.
type slot struct {
	chance uint16
	seen   uint8
}

func newCoder(m mode, data []byte) *coder {
	c := &coder{mode: m, data: data, hi: 0xffffffff, slots: make([]slot, 1<<slotBits), weights: make([]int32, weightSets*maxInputs)}
	for i := range c.slots {
		c.slots[i].chance = 1 << 15
	}
	for i := range c.weights {
		c.weights[i] = oneWeight / 3
	}
	return c
}

// start begins to write, or to read data, with what was learned so far.
func (c *coder) start(m mode, data []byte) {
	c.mode, c.data, c.at, c.lo, c.hi, c.have = m, data, 0, 0, 0xffffffff, 0
	if m == reading {
		for range 4 {
			c.have = c.have<<8 | uint32(c.next())
		}
	}
}

// next reads a byte; past the end there are zeros.
func (c *coder) next() byte {
	c.at++
	if c.at <= len(c.data) {
		return c.data[c.at-1]
	}
	return 0
}

// over tells whether more was read than was ever written: nothing sensible
// follows. Four bytes are read ahead.
func (c *coder) over() bool { return c.mode == reading && c.at > len(c.data)+4 }

// finish writes what tells the last interval from its neighbours, and returns all.
func (c *coder) finish() []byte {
	for shift := 24; ; shift -= 8 {
		// The least number of whole bytes, followed by zeros, that lies inside.
		v := c.lo
		if rest := uint32(1)<<shift - 1; v&rest != 0 {
			v = v&^rest + rest + 1 // wraps to 0 past the last one
		}
		if v >= c.lo && v <= c.hi {
			for s := 24; s >= shift; s -= 8 {
				c.data = append(c.data, byte(v>>s))
			}
			break
		}
	}
	for len(c.data) > 0 && c.data[len(c.data)-1] == 0 {
		c.data = c.data[:len(c.data)-1] // a reader sees zeros there
	}
	return c.data
}

// split codes one bit with the chance p of a 1, in 1..65535.
func (c *coder) split(bit int, p uint32) int {
	if c.mode == learning {
		return bit
	}
	mid := c.lo + uint32(uint64(c.hi-c.lo)*uint64(p)>>16)
	if c.mode == reading {
		bit = 0
		if c.have <= mid {
			bit = 1
		}
	}
	if bit == 1 {
		c.hi = mid
	} else {
		c.lo = mid + 1
	}
	for (c.lo^c.hi)>>24 == 0 {
		if c.mode == writing {
			c.data = append(c.data, byte(c.hi>>24))
		} else {
			c.have = c.have<<8 | uint32(c.next())
		}
		c.lo <<= 8
		c.hi = c.hi<<8 | 0xff
	}
	return bit
}

// plain codes the n low bits of v without a model, for what can't be foreseen.
func (c *coder) plain(v uint64, n int) uint64 {
	var out uint64
	for i := n - 1; i >= 0; i-- {
		out = out<<1 | uint64(c.split(int(v>>i&1), 1<<15))
	}
	return out
}
