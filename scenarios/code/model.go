package code

// bit codes one bit as the given contexts foresee it, each a number that names
// what is known. Their predictions are added up in the logistic domain with
// weights that learn.
func (c *coder) bit(bit int, contexts []uint32) int {
	known := 0
	for i, x := range contexts {
		s := &c.slots[x>>(32-slotBits)]
		c.where[i] = s
		c.in[i] = stretch(int32(s.chance >> 4))
		if s.seen > 0 {
			known++
		}
		if s.seen < 2 {
			c.in[i] = c.in[i] * int32(1+s.seen) / 3 // hardly anything is known yet
		}
	}
	w := c.weights[(known*maxInputs)%len(c.weights):][:len(contexts)]
	var sum int64
	for i := range w {
		sum += int64(w[i]) * int64(c.in[i])
	}
	p := squash(int32(min(max(sum>>16, -2047), 2047)))
	bit = c.split(bit, min(max(uint32(p)<<4+8, 24), 65536-24))
	miss := (int32(bit)<<12 - p) * 10
	for i := range w {
		w[i] += (c.in[i]*miss + 1<<13) >> 14
		c.where[i].learn(bit)
	}
	return bit
}

// learn moves a prediction towards what came, less the more it has seen.
func (s *slot) learn(bit int) {
	const slowest = 60
	target := int32(0)
	if bit == 1 {
		target = 65535
	}
	step := (target - int32(s.chance)) * 2 / (2*int32(s.seen) + 3)
	s.chance = uint16(min(max(int32(s.chance)+step, 16), 65535-16))
	if s.seen < slowest {
		s.seen++
	}
}

// squash is the logistic function: d in 1/256 from -2047 to 2047 gives a chance in
// 1/4096. Between the 33 points of the table it is linear.
func squash(d int32) int32 {
	i, rest := (d+2048)>>7, (d+2048)&127
	return (curve[i]*(128-rest) + curve[i+1]*rest + 64) >> 7
}

var curve = [...]int32{
	1, 2, 3, 6, 10, 16, 27, 45, 73, 120, 194, 310, 488, 747, 1101, 1546, 2047,
	2549, 2994, 3348, 3607, 3785, 3901, 3975, 4022, 4050, 4068, 4079, 4085, 4089, 4092, 4093, 4094,
}

// stretch is the inverse of squash.
func stretch(p int32) int32 { return int32(logit[p]) }

var logit = inverse()

func inverse() (table [4096]int16) {
	next := 0
	for d := int32(-2047); d <= 2047; d++ {
		for v := int(squash(d)); next <= v; next++ {
			table[next] = int16(d)
		}
	}
	for ; next < len(table); next++ {
		table[next] = 2047
	}
	return table
}

// hash mixes a number into a context.
func hash(h, x uint32) uint32 {
	h = (h ^ x*0x9e3779b1) * 0x85ebca6b
	return h ^ h>>13
}

// spread makes the top bits of a context depend on all of it.
func spread(h uint32) uint32 { return (h ^ h>>15) * 0x2c1b3c6d }

// symbol codes a number of n bits, its high bits first, each under the contexts
// and what is known of the number so far.
func (c *coder) symbol(v, n int, contexts ...uint32) int {
	var at [maxInputs]uint32
	node := 1
	for i := n - 1; i >= 0; i-- {
		for k, x := range contexts {
			at[k] = spread(hash(x+uint32(k)*0x3c6ef372, uint32(node)))
		}
		node = node<<1 | c.bit(v>>i&1, at[:len(contexts)])
	}
	return node - 1<<n
}

// length codes a whole number from 0 to 2^40-1: first how many bits it has, then
// those bits, of which the highest three are foreseen.
func (c *coder) length(v uint64, contexts ...uint32) uint64 {
	bits := 0
	for v>>bits != 0 {
		bits++
	}
	bits = min(c.symbol(bits, 6, contexts...), 40)
	if bits < 2 {
		return uint64(bits)
	}
	low := bits - 1
	top := min(low, 3)
	var of [maxInputs]uint32
	for i, x := range contexts {
		of[i] = hash(x, uint32(bits)+100)
	}
	out := uint64(1)<<top | uint64(c.symbol(int(v>>(low-top)&(1<<top-1)), top, of[:len(contexts)]...))
	rest := low - top
	return out<<rest | c.plain(v&(1<<rest-1), rest)
}
