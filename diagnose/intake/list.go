package intake

import "strconv"

// single takes the readings of a cylinder that was named: there can be one.
func (p *parser) single(f *field, cyl int, items []item) *Error {
	if len(items) > 1 {
		return trouble(items[1].at, ErrTwoReadings, items[1].n.text)
	}
	return p.item(f, cyl, items[0])
}

func (p *parser) item(f *field, cyl int, it item) *Error {
	if it.blank {
		return nil
	}
	if it.about {
		p.tell(Note{Key: NoteAbout, Line: it.at.line, Text: it.n.text})
	}
	if err := p.add(raw{f: f, cyl: cyl, n: it.n, unit: it.unit, at: it.at}); err != nil {
		return err
	}
	for _, n := range it.repeats {
		if f.name != "dry" && f.name != "repeat" {
			return trouble(it.at, ErrTwoReadings, n.text)
		}
		if err := p.add(raw{f: named("repeat", false), cyl: cyl, n: n, unit: it.unit, at: it.at}); err != nil {
			return err
		}
	}
	return nil
}

// list takes readings in the order of the cylinders: those a line named before, or
// from 1.
func (p *parser) list(f *field, items []item) *Error {
	if f.whole && len(items) == 1 && p.order == nil {
		return p.item(f, 0, items[0])
	}
	if err := joints(items); err != nil {
		return err
	}
	most := MaxCylinders
	if p.order != nil {
		most = len(p.order)
	}
	if len(items) > most {
		return trouble(items[most].at, ErrTooMany, strconv.Itoa(len(items)))
	}
	for i, it := range items {
		cyl := i + 1
		if p.order != nil {
			cyl = p.order[i]
		}
		if err := p.item(f, cyl, it); err != nil {
			return err
		}
	}
	if p.order == nil {
		p.tell(Note{Key: NoteInOrder})
	}
	return nil
}

// joints refuses two numbers with a dash between them, which can be a range. A row of
// more is a list.
func joints(items []item) *Error {
	joined := 0
	for _, it := range items {
		if it.joined {
			joined++
		}
	}
	if joined > 0 && (joined < len(items)-1 || len(items) < 3) {
		for i, it := range items {
			if it.joined {
				return trouble(items[i-1].at, ErrDash, items[i-1].n.text+"-"+it.n.text)
			}
		}
	}
	return nil
}

// flush takes the lines of bare numbers that were waiting.
func (p *parser) flush() *Error {
	block := p.block
	p.block = nil
	if len(block) == 0 {
		return nil
	}
	f := block[0].head.f
	if f == nil {
		f = named("dry", false)
		p.tell(Note{Key: NoteAsDry, Line: block[0].n})
	}
	p.head = heading{}
	var all []item
	for _, l := range block {
		all = append(all, l.items...)
	}
	switch {
	case paired(block, all):
		return p.pairs(f, all)
	case len(block) == 1 && len(all) == 2 && likeCylinder(all[0], 1) && !all[0].joined:
		return trouble(all[0].at, ErrPair, all[0].n.text+" "+all[1].n.text)
	case len(block) > 1 && len(all) != len(block):
		return trouble(place{line: block[1].n, col: 1}, ErrTwoLists, "")
	}
	return p.list(f, all)
}

// paired reports whether each first of two numbers names a cylinder: they count from
// 1. Two numbers in all are too few to tell.
func paired(block []listed, all []item) bool {
	if len(all) < 4 || len(all)%2 != 0 {
		return false
	}
	for _, l := range block {
		if len(block) > 1 && len(l.items) != 2 {
			return false
		}
	}
	for i := 0; i < len(all); i += 2 {
		if !likeCylinder(all[i], i/2+1) {
			return false
		}
	}
	return true
}

// likeCylinder reports whether an item can be the number of a cylinder, and is n.
func likeCylinder(it item, n int) bool {
	return !it.blank && it.n.whole && it.n.v == float64(n)
}

func (p *parser) pairs(f *field, all []item) *Error {
	p.tell(Note{Key: NotePairs, Line: all[0].at.line})
	for i := 0; i+1 < len(all); i += 2 {
		if i/2 >= MaxCylinders {
			return trouble(all[i].at, ErrTooMany, strconv.Itoa(len(all)/2))
		}
		if err := p.item(f, i/2+1, all[i+1]); err != nil {
			return err
		}
	}
	return nil
}
