package reason

// A set is some cylinders of one engine, counted from 0.
type set uint32

func (s set) has(i int) bool { return s>>uint(i)&1 == 1 }

func setOf(list ...int) set {
	var s set
	for _, i := range list {
		s |= 1 << uint(i)
	}
	return s
}

// list returns the cylinders of a set by number, from 1.
func (s set) list() []int {
	out := []int{}
	for i := range mostCylinders {
		if s.has(i) {
			out = append(out, i+1)
		}
	}
	return out
}

// A neighbour is two cylinders side by side, with how probable that is.
type neighbour struct {
	a, b   int // from 0
	weight float64
}

// A bank is the cylinders of one bank, with how probable that is.
type bank struct {
	in     set
	weight float64
}

// arrangement is who stands beside whom.
type arrangement struct {
	pairs []neighbour
	banks []bank
}

// arrange works out who stands beside whom: from the bank map, or, when nobody gave
// one, from the ways engines of that layout are numbered. A V engine is numbered by
// turns (1-3-5-7 and 2-4-6-8) or bank after bank (1-4 and 5-8); both count half.
// Opposed engines are numbered by turns more often than not.
func arrange(e Evidence) arrangement {
	n := len(e.Cylinders)
	var a arrangement
	if len(e.Banks) > 0 {
		a.add(zeroBased(e.Banks), 1)
		return a
	}
	inline := [][]int{counted(0, n, 1)}
	turns := [][]int{counted(0, n, 2), counted(1, n, 2)}
	halves := [][]int{counted(0, n/2, 1), counted(n/2, n, 1)}
	switch {
	case e.Layout == LayoutInline, n < 4 || n%2 == 1:
		a.add(inline, 1)
	case e.Layout == LayoutV:
		a.add(turns, 0.5)
		a.add(halves, 0.5)
	case e.Layout == LayoutFlat:
		a.add(turns, 0.6)
		a.add(halves, 0.4)
	case n == 4:
		a.add(inline, 1)
	case n == 6:
		a.add(inline, 0.5)
		a.add(turns, 0.25)
		a.add(halves, 0.25)
	default:
		a.add(turns, 0.5)
		a.add(halves, 0.5)
	}
	return a
}

func counted(from, to, step int) []int {
	var out []int
	for i := from; i < to; i += step {
		out = append(out, i)
	}
	return out
}

func zeroBased(banks [][]int) [][]int {
	var out [][]int
	for _, b := range banks {
		var z []int
		for _, c := range b {
			z = append(z, c-1)
		}
		out = append(out, z)
	}
	return out
}

// add takes in one map with its weight.
func (a *arrangement) add(banks [][]int, weight float64) {
	for _, b := range banks {
		for i := 1; i < len(b); i++ {
			a.pair(b[i-1], b[i], weight)
		}
		if len(banks) > 1 && len(b) > 1 {
			a.bank(setOf(b...), weight)
		}
	}
}

func (a *arrangement) pair(x, y int, weight float64) {
	for i := range a.pairs {
		if p := &a.pairs[i]; p.a == x && p.b == y {
			p.weight += weight
			return
		}
	}
	a.pairs = append(a.pairs, neighbour{x, y, weight})
}

func (a *arrangement) bank(in set, weight float64) {
	for i := range a.banks {
		if a.banks[i].in == in {
			a.banks[i].weight += weight
			return
		}
	}
	a.banks = append(a.banks, bank{in, weight})
}
