package class

import (
	"fmt"
	"slices"

	"crankbay/scenarios"
)

// Stream returns the first n numbers behind a candidate.
func Stream(secret []byte, s Student, candidate, n int) (out []uint64) {
	c := newChance(secret, s, candidate)
	for range n {
		out = append(out, c.next())
	}
	return out
}

// Places lists the cylinders that a scenario's key can come to name, sorted.
func Places(s *scenarios.Scenario) []string {
	var all []string
	for _, m := range moves(s) {
		p := fmt.Sprint(sorted(m.list(s.Key.Cylinders)))
		if !slices.Contains(all, p) {
			all = append(all, p)
		}
	}
	for i := range all {
		for k := i; k > 0 && all[k] < all[k-1]; k-- {
			all[k], all[k-1] = all[k-1], all[k]
		}
	}
	return all
}
