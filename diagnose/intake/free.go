package intake

import (
	"strconv"
	"strings"
)

// An item is one place in a list of readings.
type item struct {
	n       number
	repeats []number
	blank   bool
	unit    string
	about   bool
	joined  bool // a dash stands between it and the one before
	at      place
}

// listed is a line of bare readings.
type listed struct {
	items []item
	head  heading // the name that stood alone above it
	n     int
}

// reader goes through the tokens of one line.
type reader struct {
	p     *parser
	n     int // line
	f     *field
	said  bool // the field was named
	cyl   int  // cylinder named last; 0: none
	items []item
	unit  string // said for the whole line
	any   string // the first unit of a reading
	sep   bool   // a separator stood before, with nothing after it yet
	about bool
	dash  bool
	took  bool // something was said about the cylinder named last
	again bool // slashes part repeats of one reading, not cylinders
	slash bool // one stood before
}

// again reports whether slashes join repeats: not all numbers of the line are joined
// by them.
func again(all []token) bool {
	numbers, slashes := 0, 0
	for _, t := range all {
		switch {
		case t.kind == tokNumber:
			numbers++
		case t.kind == tokSep && t.text == "/":
			slashes++
		}
	}
	return slashes > 0 && slashes != numbers-1
}

// free takes a line that belongs to no table: names, cylinders, readings in whatever
// order people write them.
func (p *parser) free(line string, n int) *Error {
	all, err := tokens(line, n)
	if err != nil {
		return err
	}
	if p.cylinderLine(parted(all)) {
		return p.flush()
	}
	switch commas(runsOf(all)) {
	case commasDoubtful:
		return trouble(place{line: n, col: firstComma(all)}, ErrComma, line)
	case commasPart:
		all = parted(all)
		p.tell(Note{Key: NoteCommasPart})
	case commasPlain:
		all = parted(all)
	case commasDecimal:
		p.tell(Note{Key: NoteDecimalComma})
	}
	r := &reader{p: p, n: n, f: named("dry", false), unit: p.head.unit, again: again(all)}
	if p.head.f != nil {
		r.f = p.head.f
	}
	for i := 0; i < len(all); {
		k, err := r.take(all, i)
		if err != nil {
			return err
		}
		i += k
	}
	return r.end()
}

func firstComma(all []token) int {
	for _, t := range all {
		if t.kind == tokNumber && strings.Contains(t.text, ",") {
			return t.col
		}
	}
	return 1
}

// cylinderLine takes a line that only names cylinders, for the lists under it:
// "cylinder 1 2 3 4".
func (p *parser) cylinderLine(all []token) bool {
	if len(all) < 4 || all[0].kind != tokWord || !isCylinder(all[0].text) {
		return false
	}
	var order []int
	for _, t := range all[1:] {
		if t.kind == tokSep || t.kind == tokColon && len(order) == 0 {
			continue
		}
		n, err := strconv.Atoi(t.text)
		if t.kind != tokNumber || err != nil || n < 1 || n > MaxCylinders || len(order) > 0 && n <= order[len(order)-1] {
			return false
		}
		order = append(order, n)
	}
	if len(order) < 3 {
		return false
	}
	p.order = order
	return true
}

func isCylinder(word string) bool {
	f := named(strings.TrimSuffix(plain(word), "."), false)
	return f != nil && f.kind == kindCylinder
}

// take reads what begins at token i and tells how many tokens that takes.
func (r *reader) take(all []token, i int) (int, *Error) {
	t := all[i]
	next := func(kind int) bool { return i+1 < len(all) && all[i+1].kind == kind }
	switch t.kind {
	case tokHash:
		return r.marker(all, i, 1)
	case tokWord:
		return r.word(all, i)
	case tokColon:
		r.sep = false
		return 1, nil
	case tokSep:
		if r.again && t.text == "/" {
			r.slash = true
			return 1, nil
		}
		r.separator()
		return 1, nil
	case tokAbout:
		if len(r.items) > 0 && t.text == "+" {
			r.items[len(r.items)-1].about = true
		} else {
			r.about = true
		}
		return 1, nil
	case tokDash:
		return 1, r.joint(all, i)
	}
	if next(tokColon) {
		return 1, r.cylinder(t)
	}
	return 1, r.number(t)
}

// separator: two in a row leave a place blank.
func (r *reader) separator() {
	if r.sep || len(r.items) == 0 && r.cyl == 0 && !r.said {
		r.items = append(r.items, item{blank: true, at: place{line: r.n}})
	}
	r.sep = len(r.items) > 0
}

// joint takes a dash: a blank where a reading should stand, else what joins two
// numbers.
func (r *reader) joint(all []token, i int) *Error {
	before := i > 0 && all[i-1].kind == tokNumber
	after := i+1 < len(all) && all[i+1].kind == tokNumber
	switch {
	case r.cyl != 0 && len(r.items) == 0 && after: // cyl 1 - 150
	case before && after:
		r.dash = true
	case i > 0 && all[i-1].kind == tokWord && after: // dry - 150 151
	case i == 0 && after && all[1].col == all[0].col+1 && len(all) > 2 && all[2].kind == tokNumber: // -5 150 150: no blank and no bullet
		return below0(r.n, all[0].col, "-"+all[1].text)
	default:
		r.items = append(r.items, item{blank: true, at: place{line: r.n, col: all[i].col}})
		r.sep = false
	}
	return nil
}

// marker takes the number after a word or sign for a cylinder.
func (r *reader) marker(all []token, i, k int) (int, *Error) {
	for i+k < len(all) && (all[i+k].kind == tokHash || all[i+k].kind == tokWord && isCylinder(all[i+k].text)) {
		k++ // "cyl no. 3"
	}
	if i+k >= len(all) || all[i+k].kind != tokNumber {
		return 0, trouble(place{line: r.n, col: all[i].col}, ErrCylinder, all[i].text)
	}
	return k + 1, r.cylinder(all[i+k])
}

// cylinder ends what was said about the one before and begins another.
func (r *reader) cylinder(t token) *Error {
	if err := r.close(); err != nil {
		return err
	}
	at := place{line: r.n, col: t.col}
	if err := r.nothing(at); err != nil {
		return err
	}
	n, err := cylinderOf(t.text, at)
	r.cyl, r.took = n, false
	return err
}

// nothing refuses a cylinder that was named and of which nothing was said.
func (r *reader) nothing(at place) *Error {
	if r.cyl != 0 && !r.took {
		return trouble(at, ErrCylinderBare, strconv.Itoa(r.cyl))
	}
	return nil
}

// word takes a name, a unit, or a word of doubt.
func (r *reader) word(all []token, i int) (int, *Error) {
	var texts []string
	for _, t := range all[i:min(len(all), i+4)] {
		if t.kind != tokWord {
			break
		}
		texts = append(texts, strings.TrimSuffix(plain(t.text), "."))
	}
	at := place{line: r.n, col: all[i].col}
	switch {
	case (texts[0] == "on" || texts[0] == "en") && len(texts) == 1 && len(r.items) > 0 && i+1 < len(all) && all[i+1].kind == tokNumber: // 160 on 3
		return 0, trouble(at, ErrPair, all[i].text+" "+all[i+1].text)
	case texts[0] == "and" || texts[0] == "y" || texts[0] == "on" || texts[0] == "en" && len(texts) == 1:
		return 1, nil
	case about(texts[0]):
		r.about = true
		return 1, nil
	case blank(texts[0]) && texts[0] != "":
		r.items, r.sep = append(r.items, item{blank: true, at: at}), false
		return 1, nil
	}
	n, c, unit := meaning(texts)
	if n == 0 && len(texts) > 1 && texts[0] == "en" {
		return 1, nil
	}
	switch {
	case n == 0:
		return 0, trouble(at, ErrWord, all[i].text)
	case unit != "":
		r.unitSaid(all, i, unit)
		return n, nil
	case c.f.kind == kindCylinder:
		return r.marker(all, i, n)
	case c.f.kind == kindWords || c.f.kind == kindBore || c.f.kind == kindDead:
		return r.heard(all, i+n, c.f)
	case c.f.kind == kindRemark || c.f.kind == kindBank || c.f.kind == kindUnit:
		return 0, trouble(at, ErrWord, all[i].text)
	}
	return n, r.begin(c.f)
}

// begin takes a name: what follows is of that kind.
func (r *reader) begin(f *field) *Error {
	if len(r.items) > 0 {
		if err := r.close(); err != nil {
			return err
		}
	}
	r.f, r.said, r.sep = f, true, false
	return nil
}

// unitSaid gives the reading before a unit that unit, or the whole line.
func (r *reader) unitSaid(all []token, i int, unit string) {
	if i > 0 && all[i-1].kind == tokNumber && len(r.items) > 0 {
		r.items[len(r.items)-1].unit = unit
		if r.any == "" {
			r.any = unit
		}
		return
	}
	r.unit = unit
}

// heard takes the words after a name for places: up to the next number, or the end.
func (r *reader) heard(all []token, i int, f *field) (int, *Error) {
	start := i
	if i < len(all) && all[i].kind == tokNumber && i+1 < len(all) && all[i+1].kind == tokColon {
		if err := r.cylinder(all[i]); err != nil {
			return 0, err
		}
		i += 2
	}
	var texts []string
	for ; i < len(all) && (all[i].kind == tokWord || all[i].kind == tokSep || all[i].kind == tokColon); i++ {
		if all[i].kind == tokWord && isCylinder(all[i].text) {
			break
		}
		texts = append(texts, all[i].text)
	}
	if len(texts) == 0 || r.cyl == 0 {
		return 0, trouble(place{line: r.n, col: all[max(0, start-1)].col}, ErrHeard, f.name)
	}
	at := place{line: r.n, col: all[start].col}
	r.took = true
	return i - start + 1, r.p.add(raw{f: f, cyl: r.cyl, text: strings.Trim(strings.Join(texts, " "), ":=,; "), at: at})
}

func (r *reader) number(t token) *Error {
	n, ok := numberOf(t.text)
	at := place{line: r.n, col: t.col}
	if !ok {
		return trouble(at, ErrNumber, t.text)
	}
	if len(r.items) > 4*MaxCylinders { // no list is that long, whatever it is
		return trouble(at, ErrTooMany, "")
	}
	if r.slash && len(r.items) > 0 && !r.items[len(r.items)-1].blank {
		last := &r.items[len(r.items)-1]
		last.repeats = append(last.repeats, n)
		r.p.tell(Note{Key: NoteRepeats, Line: r.n})
	} else {
		r.items = append(r.items, item{n: n, about: r.about, joined: r.dash, at: at})
	}
	r.about, r.dash, r.sep, r.slash = false, false, false, false
	return nil
}

// close takes what was gathered for one name or one cylinder.
func (r *reader) close() *Error {
	items := r.items
	r.items, r.sep = nil, false
	r.took = r.took || len(items) > 0
	for i := range items {
		if items[i].unit == "" {
			items[i].unit = r.unit
		}
		if items[i].unit == "" {
			items[i].unit = r.any
		}
	}
	switch {
	case len(items) == 0:
		return nil
	case r.cyl != 0:
		return r.p.single(r.f, r.cyl, items)
	case r.said:
		return r.p.list(r.f, items)
	}
	r.p.block = append(r.p.block, listed{items: items, head: r.p.head, n: r.n})
	return nil
}

// end closes the line. A name without readings is a heading of those under it.
func (r *reader) end() *Error {
	if r.said || r.cyl != 0 {
		if err := r.p.flush(); err != nil {
			return err
		}
	}
	switch {
	case r.said && len(r.items) == 0 && r.cyl == 0:
		r.p.head = heading{r.f, r.unit}
		return nil
	case len(r.items) == 0 && r.cyl == 0 && r.unit != "":
		r.p.head.unit = r.unit
		return nil
	}
	if err := r.close(); err != nil {
		return err
	}
	return r.nothing(place{line: r.n, col: 1})
}

// below0 refuses a reading with a minus before it.
func below0(line, col int, text string) *Error {
	e := trouble(place{line: line, col: col}, ErrRange, text)
	e.High, e.Unit = pressureMost/Pascal(PSI), PSI
	return e
}
