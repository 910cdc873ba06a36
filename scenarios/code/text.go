package code

// A writer of text predicts each byte from up to six before it and from the
// place where the same six bytes stood last.
type prose struct {
	c     *coder
	done  []byte
	found []int32 // by hash: where six bytes were followed by
	match int     //  index into done that is expected next, 0 none
	run   int     // how many bytes it was right
}

const foundBits = 16

func newProse(c *coder) *prose { return &prose{c: c, found: make([]int32, 1<<foundBits)} }

// learn reads a text without coding it.
func (t *prose) learn(text string) {
	was := t.c.mode
	t.c.mode = learning
	for i := range len(text) {
		t.byte(text[i])
	}
	t.c.mode = was
}

// text codes n bytes; s is what is written.
func (t *prose) text(s string, n int) string {
	from := len(t.done)
	for i := range n {
		var b byte
		if i < len(s) {
			b = s[i]
		}
		t.byte(b)
		if t.c.over() {
			break
		}
	}
	return string(t.done[from:])
}

func (t *prose) byte(b byte) {
	var contexts [maxInputs]uint32
	h := uint32(0x51ed)
	n := 0
	for order := range 7 {
		if order != 5 {
			contexts[n] = hash(h, uint32(order))
			n++
		}
		h = hash(h, uint32(t.before(order+1)))
	}
	expected := -1
	if t.match > 0 {
		expected = int(t.done[t.match])
	}
	node := 1
	for i := 7; i >= 0; i-- {
		var at [maxInputs]uint32
		for k := range n {
			at[k] = spread(hash(contexts[k], uint32(node)))
		}
		guess := uint32(0)
		if expected >= 0 && (expected|0x100)>>(i+1) == node {
			guess = uint32(1 + 2*min(t.run, 40) + expected>>i&1)
		}
		at[n] = spread(hash(0x7777, guess))
		node = node<<1 | t.c.bit(int(b>>i&1), at[:n+1])
	}
	t.put(byte(node))
}

// before returns the byte that stands n back.
func (t *prose) before(n int) byte {
	if n > len(t.done) {
		return 0
	}
	return t.done[len(t.done)-n]
}

// put appends a byte and looks for what may follow it.
func (t *prose) put(b byte) {
	if t.match > 0 && t.done[t.match] == b {
		t.match++
		t.run++
	} else {
		t.match, t.run = 0, 0
	}
	t.done = append(t.done, b)
	const least = 6
	if len(t.done) < least {
		return
	}
	h := uint32(0)
	for i := 1; i <= least; i++ {
		h = hash(h, uint32(t.before(i)))
	}
	h = spread(h) >> (32 - foundBits)
	if t.match == 0 {
		t.match = int(t.found[h])
	}
	t.found[h] = int32(len(t.done))
	if t.match >= len(t.done) {
		t.match = 0
	}
}
