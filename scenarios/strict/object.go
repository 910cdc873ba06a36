package strict

import (
	"slices"
	"strconv"
	"strings"
)

// An Object hands out the members of a JSON object by name and notices, when it
// is closed, the names nobody asked for and those that were needed and missing.
type Object struct {
	v       Value
	asked   []string
	missing string
}

// Object opens v. Close it after the last name was asked for.
func (v Value) Object() *Object {
	o := &Object{v: v}
	if !v.is(object) {
		o.v.n = nil
		return o
	}
	if v.n.yes {
		o.at(v.n.s).Fail("given twice")
	}
	return o
}

// Need returns the member, whose absence is a fault.
func (o *Object) Need(name string) Value {
	v := o.May(name)
	if o.v.n != nil && v.n == nil && o.missing == "" {
		o.missing = name
	}
	return v
}

// May returns the member, or a value that is not Present.
func (o *Object) May(name string) Value {
	o.asked = append(o.asked, name)
	v := o.at(name)
	if o.v.n == nil {
		return v
	}
	for i, n := range o.v.n.names {
		if n == name {
			v.n = &o.v.n.members[i]
			break
		}
	}
	return v
}

// Close reports the first name that nobody asked for, else the first missing one:
// a mis-spelt name is both, and the spelling is what its writer can see.
func (o *Object) Close() {
	if o.v.n == nil {
		return
	}
	for _, name := range o.v.n.names {
		if !slices.Contains(o.asked, name) {
			o.unknown(name)
			return
		}
	}
	if o.missing != "" {
		o.at(o.missing).Fail("missing")
	}
}

func (o *Object) unknown(name string) {
	for _, a := range o.asked {
		if strings.EqualFold(a, name) {
			o.at(name).Fail("unknown field, it is written %s", a)
			return
		}
	}
	o.at(name).Fail("unknown field")
}

// at names a member of o without looking for it.
func (o *Object) at(name string) Value {
	shown := clip(name)
	if shown == "" || strings.ContainsAny(shown, " .[]\"\n\t:") {
		shown = strconv.Quote(shown)
	}
	if o.v.path != "" {
		shown = o.v.path + "." + shown
	}
	return Value{doc: o.v.doc, path: shown}
}
