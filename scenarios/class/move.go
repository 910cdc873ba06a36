package class

import (
	"slices"
	"strings"
	"unicode"

	"crankbay/scenarios"
)

// A move takes every cylinder to another one and keeps who stands beside whom: banks
// may change over, a bank may be counted from its other end, and all may go some
// places further as long as nobody concerned falls off the end.
type move struct {
	to []int // by cylinder number less one; 0 for those that have nowhere to go
}

func (m move) cylinder(c int) int {
	if c < 1 || c > len(m.to) {
		return c
	}
	return m.to[c-1]
}

func (m move) list(cylinders []int) []int {
	if cylinders == nil {
		return nil
	}
	out := make([]int, len(cylinders))
	for i, c := range cylinders {
		out[i] = m.cylinder(c)
	}
	return out
}

var (
	// before are words that a text puts right before the number of a cylinder.
	before = strings.Fields("number número núm num no nº n° #")
	// places are what there is one of on each cylinder.
	places = strings.Fields("cylinder cylinders cilindro cilindros cyl cil coil coils bobina bobinas plug plugs bujía bujías injector injectors inyector inyectores")
	// ordinals say which one, before the word or after it.
	ordinals = strings.Fields("first second third fourth fifth sixth seventh eighth primer primero primera segundo segunda tercer tercero tercera cuarto cuarta quinto quinta sexto sexta séptimo séptima octavo octava")
	// cardinals say which one only after the word: before it they count.
	cardinals = strings.Fields("two three four five six seven eight nine ten eleven twelve dos tres cuatro cinco seis siete ocho nueve diez once doce")
	// endings make an ordinal of digits.
	endings = strings.Fields("st nd rd th er ro ra do da to ta mo ma vo va no na º ª °")
)

// near is how many words may stand between a number and what it numbers.
const near = 1

// told tells whether a text names a cylinder. In doubt it does: the fault then stays
// where the text has it.
func told(text string) bool {
	list := strings.FieldsFunc(strings.ReplaceAll(strings.ToLower(text), "#", " # "), func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r) && !strings.ContainsRune("#ºª°", r)
	})
	for i, word := range list {
		digits := strings.TrimLeft(word, "0123456789")
		number := digits == "" // a bare one
		ordinal := slices.Contains(ordinals, word) || !number && len(digits) < len(word) && slices.Contains(endings, digits) ||
			number && i+1 < len(list) && slices.Contains(endings[4:], list[i+1]) // "3.er"
		if number && i > 0 && slices.Contains(before, list[i-1]) {
			return true
		}
		if (number || ordinal || slices.Contains(cardinals, word)) && anyOf(places, list[max(0, i-near-1):i]) {
			return true
		}
		if ordinal && anyOf(places, list[i+1:min(len(list), i+near+2)]) {
			return true
		}
	}
	return false
}

func anyOf(words, list []string) bool {
	for _, w := range list {
		if slices.Contains(words, w) {
			return true
		}
	}
	return false
}

// fixed tells whether the texts say which cylinder it is: then it has to stay.
func fixed(s *scenarios.Scenario) bool {
	for _, t := range []scenarios.Text{s.Title, s.Complaint, s.History} {
		if told(t.EN) || told(t.ES) {
			return true
		}
	}
	return false
}

// moves lists the moves that are possible for a scenario, the one that changes
// nothing first, each with another outcome for the cylinders concerned.
func moves(s *scenarios.Scenario) []move {
	e := s.Engine
	same := move{to: make([]int, e.Cylinders)}
	for i := range same.to {
		same.to[i] = i + 1
	}
	all := []move{same}
	concerned := concernedBy(s)
	if fixed(s) || len(concerned) == 0 && !oneBank(s) {
		return all
	}
	if len(concerned) == 0 { // a cam of one bank: its cylinders tell
		concerned = e.Banks[bankOf(s)-1]
	}
	seen := map[string]bool{outcome(same, concerned): true}
	for swap := range len(e.Banks) {
		for _, mirrored := range []bool{false, true} {
			for shift := -e.Cylinders; shift <= e.Cylinders; shift++ {
				m, ok := build(e.Banks, e.Cylinders, concerned, swap, mirrored, shift)
				if key := outcome(m, concerned); ok && !seen[key] {
					seen[key] = true
					all = append(all, m)
				}
			}
		}
	}
	return all
}

// build makes one move; ok is false when a cylinder concerned has nowhere to go.
func build(banks [][]int, n int, concerned []int, swap int, mirrored bool, shift int) (m move, ok bool) {
	m = move{to: make([]int, n)}
	for b, bank := range banks {
		other := banks[(b+swap)%len(banks)]
		for i, c := range bank {
			if mirrored {
				i = len(bank) - 1 - i
			}
			if i += shift; i >= 0 && i < len(other) {
				m.to[c-1] = other[i]
			}
		}
	}
	for _, c := range concerned {
		if m.to[c-1] == 0 {
			return m, false
		}
	}
	return m, true
}

func outcome(m move, concerned []int) string {
	key := ""
	for _, c := range concerned {
		key += string(rune('a' + m.cylinder(c)))
	}
	return key
}

// concernedBy lists the cylinders that faults and key name, each once.
func concernedBy(s *scenarios.Scenario) []int {
	var all []int
	add := func(list ...int) {
		for _, c := range list {
			if c > 0 && !slices.Contains(all, c) {
				all = append(all, c)
			}
		}
	}
	for _, f := range s.Faults {
		add(f.Cylinder)
		add(f.Cylinders...)
	}
	if len(all) > 0 { // of a whole bank the key names every cylinder
		add(s.Key.Cylinders...)
		for _, a := range s.Key.Accept {
			add(a.Cylinders...)
		}
	}
	return all
}

// bankOf is the bank whose cams are at fault, 0 none or both.
func bankOf(s *scenarios.Scenario) int {
	for _, f := range s.Faults {
		if k := scenarios.KindOf(f.Kind); k != nil && k.Place == scenarios.PlaceCams && f.Bank > 0 {
			return f.Bank
		}
	}
	return 0
}

func oneBank(s *scenarios.Scenario) bool { return bankOf(s) > 0 }

// apply moves everything that names a cylinder or a bank.
func (m move) apply(s *scenarios.Scenario) {
	banks := s.Engine.Banks
	for i := range s.Faults {
		f := &s.Faults[i]
		f.Cylinder = m.cylinder(f.Cylinder)
		f.Cylinders = sorted(m.list(f.Cylinders))
		if f.Bank > 0 && f.Bank <= len(banks) {
			f.Bank = bankWith(banks, m.cylinder(banks[f.Bank-1][0]))
		}
	}
	s.Key.Cylinders = sorted(m.list(s.Key.Cylinders))
	for i := range s.Key.Accept {
		s.Key.Accept[i].Cylinders = sorted(m.list(s.Key.Accept[i].Cylinders))
	}
}

func bankWith(banks [][]int, cylinder int) int {
	for i, bank := range banks {
		if slices.Contains(bank, cylinder) {
			return i + 1
		}
	}
	return 0
}

func sorted(list []int) []int {
	slices.Sort(list)
	return list
}
