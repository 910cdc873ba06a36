package collect

import "slices"

// A Picture is what a class came to.
type Picture struct {
	HandIns  int            `json:"hand_ins"`
	Graded   int            `json:"graded"` // whose replay holds, each work once
	Passed   int            `json:"passed"`
	Mean     float64        `json:"mean_percent"` // of those graded
	Statuses map[string]int `json:"statuses"`
	Missteps []Count        `json:"missteps"` // most frequent first
	Missing  []string       `json:"missing"`  // on the roster, and nothing that holds on their own engine
}

// A Count is how many attempts have one misstep.
type Count struct {
	Key string `json:"key"`
	N   int    `json:"n"`
}

// Finish holds rows against each other, in the order they came: which is a student's
// second, which is the same work as another, sent twice or under another name.
func (k *Collector) Finish(rows []Row) {
	times := map[string]int{}
	logs := map[string]int{}
	for i := range rows {
		r := &rows[i]
		if !r.Holds {
			continue
		}
		// Attempts with next to nothing in them are alike by nature.
		at, twice := logs[r.Log]
		switch {
		case !twice:
			logs[r.Log] = i
		case rows[at].student() == r.student() && rows[at].Scenario == r.Scenario:
			r.SameAs = rows[at].Source // as a file and as a code, or sent twice: no further hand-in
			continue
		case r.Actions > 20:
			r.SameAs = rows[at].Source
		}
		if key := r.Scenario + "\n" + r.student(); r.student() != "" {
			if times[key]++; times[key] > 1 {
				r.Again = times[key]
			}
		}
	}
}

// once tells whether a row is one that counts, and not what came in before once more.
func once() func(r Row) bool {
	seen := map[string]bool{}
	return func(r Row) bool {
		key := r.Scenario + "\n" + r.student() + "\n" + r.Log
		defer func() { seen[key] = true }()
		return !seen[key]
	}
}

// student is whom a row belongs to, as far as it says.
func (r Row) student() string {
	if r.Student != "" {
		return r.Student
	}
	return r.Who
}

// Picture counts.
func (k *Collector) Picture(rows []Row) Picture {
	p := Picture{HandIns: len(rows), Statuses: map[string]int{}, Missteps: []Count{}, Missing: []string{}}
	n := map[string]int{}
	done := map[string]bool{}
	counts := once()
	for _, r := range rows {
		p.Statuses[r.Status]++
		if !r.Holds || !counts(r) {
			continue
		}
		p.Graded++
		p.Mean += r.Percent
		if r.Pass {
			p.Passed++
		}
		for _, m := range r.Missteps {
			n[m]++
		}
		if Fits(r.Status) || r.Status == StatusWrongMode {
			done[r.Student] = true
		}
	}
	if p.Graded > 0 {
		p.Mean /= float64(p.Graded)
	}
	for _, key := range Missteps() {
		if n[key] > 0 {
			p.Missteps = append(p.Missteps, Count{key, n[key]})
		}
	}
	slices.SortStableFunc(p.Missteps, func(a, b Count) int { return b.N - a.N })
	for _, v := range k.variants {
		if !done[v.Student.Label()] {
			p.Missing = append(p.Missing, v.Student.Label())
		}
	}
	return p
}
