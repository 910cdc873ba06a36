package intake

// unit settles which unit pressures have that carry none: the one said for all, the
// one that a reading carries where only one does, else a guess.
func (p *parser) unit(r *Readings) *Error {
	highest, decimals, bare := 0.0, false, false
	thousands := p.thousands()
	for _, x := range p.raws {
		if x.f.kind == kindUnit {
			m, ok := unitOf(squeezed(x.text))
			if !ok || m.of != ofPressure {
				return trouble(x.at, ErrUnitUnknown, x.text)
			}
			p.meant(m, x.text)
			r.Unit = m.name
		}
		if x.f.kind != ofPressure || x.unit != "" {
			continue
		}
		v := x.n.v
		if thousands && x.n.alt > 0 {
			v = x.n.alt
		}
		bare = true
		decimals = decimals || !x.n.whole
		highest = max(highest, v)
	}
	if u := p.only(); u != "" && r.Unit == "" {
		r.Unit = u
	}
	if r.Unit != "" {
		return nil
	}
	if !bare {
		r.Unit = p.first()
		return nil
	}
	if highest == 0 { // nothing is nothing in every unit
		r.Unit = PSI
		return nil
	}
	u := guess(highest)
	if u == "" || u == MPa && !decimals {
		e := trouble(p.firstBare(), ErrUnitNeeded, "")
		e.High = highest
		return e
	}
	r.Unit, r.Guessed = u, true
	p.tell(Note{Key: NoteUnitGuessed, Unit: u, Value: highest})
	return nil
}

// thousands reports whether marks before three digits are those of thousands: some
// other pressure is a plain number of three digits or more.
func (p *parser) thousands() bool {
	for _, x := range p.raws {
		if x.f.kind == ofPressure && x.n.alt == 0 && x.n.v >= 400 {
			return true
		}
	}
	return false
}

// only returns the unit of pressure that readings carry where all that carry one carry
// the same, else an empty text.
func (p *parser) only() string {
	found := ""
	for _, x := range p.raws {
		if x.f.kind != ofPressure || x.unit == "" || !x.f.each {
			continue
		}
		m, ok := unitOf(x.unit)
		if !ok || m.of != ofPressure || found != "" && found != m.name {
			return ""
		}
		found = m.name
	}
	return found
}

// first returns the unit of the first pressure of a cylinder, for showing them all.
func (p *parser) first() string {
	for _, x := range p.raws {
		if m, ok := unitOf(x.unit); ok && m.of == ofPressure && x.f.each {
			return m.name
		}
	}
	return ""
}

func (p *parser) firstBare() place {
	for _, x := range p.raws {
		if x.f.kind == ofPressure && x.unit == "" {
			return x.at
		}
	}
	return place{}
}

// meant tells of a unit that is written in a way that isn't quite one.
func (p *parser) meant(m measure, text string) {
	if m.meant {
		p.tell(Note{Key: NoteUnitMeant, Text: text, Unit: m.name})
	}
}

// doubtful refuses a table parted by commas in which a column holds single digits
// only, beside a column of pressures: they are likely what followed a decimal comma.
func (p *parser) doubtful() *Error {
	t := p.commaTable
	if t == nil {
		return nil
	}
	for i := 1; i < len(t.columns); i++ {
		left, right := t.columns[i-1], t.columns[i]
		if left.f == nil || right.f == nil || left.f.kind != ofPressure || right.f.kind != ofPressure {
			continue
		}
		if right.seen > 0 && right.digits == right.seen && left.big {
			return trouble(right.first, ErrComma, right.example)
		}
	}
	return nil
}
