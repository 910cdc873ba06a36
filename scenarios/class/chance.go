package class

import (
	"encoding/binary"
	"math"

	"crankbay/sim/num"
)

// chance is the stream of numbers that makes one candidate: HMAC-SHA-256 under the
// class's secret over the student, the number of the candidate and a counter.
// Source: Krawczyk1997.
type chance struct {
	secret []byte
	seed   []byte
	count  uint32
	left   []byte
}

func newChance(secret []byte, s Student, candidate int) *chance {
	seed := binary.BigEndian.AppendUint32(nil, uint32(len(s.Name)))
	seed = append(seed, s.Name...)
	seed = binary.BigEndian.AppendUint32(seed, uint32(len(s.ID)))
	seed = append(seed, s.ID...)
	return &chance{secret: secret, seed: binary.BigEndian.AppendUint32(seed, uint32(candidate))}
}

// next returns 64 bits.
func (c *chance) next() uint64 {
	if len(c.left) < 8 {
		message := append([]byte("crankbay class 1\n"), c.seed...)
		c.left = keyed(c.secret, binary.BigEndian.AppendUint32(message, c.count))
		c.count++
	}
	v := binary.BigEndian.Uint64(c.left)
	c.left = c.left[8:]
	return v
}

// keyed is HMAC-SHA-256, for keys that are no longer than a block. The standard
// library's would bring hashes that nobody here needs, 30 kB on the wire; a test holds
// this one to figures that another program worked out. Source: Krawczyk1997.
func keyed(key, message []byte) []byte {
	var inner, outer [64]byte
	copy(inner[:], key)
	copy(outer[:], key)
	for i := range inner {
		inner[i] ^= 0x36
		outer[i] ^= 0x5c
	}
	sum := num.SHA256(append(inner[:], message...))
	sum = num.SHA256(append(outer[:], sum[:]...))
	return sum[:]
}

// below returns a whole number in [0, n), n above 0. What the division leaves over
// weighs 2^-50 and is nothing to anybody.
func (c *chance) below(n int) int { return int(c.next() % uint64(n)) }

// between returns a number in [lo, hi).
func (c *chance) between(lo, hi float64) float64 {
	return lo + float64((hi-lo)*float64(float64(c.next()>>11)*0x1p-53))
}

// figures rounds to so many significant figures, so that a number can be read.
func figures(v float64, n int) float64 {
	if v == 0 {
		return 0
	}
	scale := 1.0
	for a := math.Abs(v); a < 1 && scale < 1e9; a *= 10 {
		scale *= 10
	}
	for range n - 1 {
		scale *= 10
	}
	if a := math.Abs(v); a >= 1 {
		for ; a >= 10 && scale > 1; a /= 10 {
			scale /= 10
		}
	}
	return rounded(v, scale)
}

// rounded rounds to whole parts of a scale; never to minus nothing, which wouldn't
// come out of a page's JSON as it went in.
func rounded(v, scale float64) float64 { return math.Round(v*scale)/scale + 0 }
