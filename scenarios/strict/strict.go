// Package strict reads JSON that people write and mail, and says in one short
// sentence what is wrong with it and where.
//
// The standard decoder folds the case of names, keeps the last of two equal
// names, ignores names it does not know and gives no path. Here the standard
// tokenizer is kept and everything else is refused: an unknown, doubled,
// missing or mis-spelt name, a wrong type, a number outside its range, a list
// that is too long, a document too big or too deep.
//
// Reading never stops half way: the first fault is remembered in the Doc and
// later reads give zero values, so a reader is straight-line code that asks
// Err once at the end.
package strict

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"unicode/utf8"
)

// MaxDepth is how many lists and objects may lie inside each other.
const MaxDepth = 32

// MaxValues is how many values a document may hold, lists and objects included.
// The fullest attempt has about 60,000; a file of 4 MB could hold two million and
// take half a gigabyte to read.
const MaxValues = 1 << 17

type kind byte

const (
	null kind = iota
	boolean
	number
	text
	list
	object
)

var kindName = [...]string{"null", "true or false", "a number", "a text", "a list", "an object"}

// node is one parsed value. Text, number literal and first doubled name share s.
type node struct {
	kind    kind
	yes     bool
	s       string
	names   []string
	members []node // items of a list, values of an object beside names
}

// A Doc is a parsed document and the first fault found while reading it.
type Doc struct {
	root node
	err  error
}

// Parse reads one JSON value of at most maxBytes. The error is one sentence: too
// big, empty, cut short, not JSON (with its line), too deep, too many values.
func Parse(data []byte, maxBytes int) (*Doc, error) {
	switch {
	case len(data) > maxBytes:
		return nil, fmt.Errorf("too big: %d bytes, at most %d are read", len(data), maxBytes)
	case len(bytes.TrimSpace(data)) == 0:
		return nil, errors.New("empty: there is nothing to read")
	case !utf8.Valid(data):
		return nil, errors.New("not text: the bytes are not UTF-8")
	}
	p := parser{data: data, dec: json.NewDecoder(bytes.NewReader(data))}
	p.dec.UseNumber()
	d := &Doc{}
	if err := p.value(&d.root, 0); err != nil {
		return nil, err
	}
	if _, err := p.dec.Token(); !errors.Is(err, io.EOF) {
		return nil, fmt.Errorf("line %d: something follows the end of the document", p.line())
	}
	return d, nil
}

type parser struct {
	data   []byte
	dec    *json.Decoder
	values int // begun so far
}

func (p *parser) line() int {
	at := min(int(p.dec.InputOffset()), len(p.data))
	return 1 + bytes.Count(p.data[:at], []byte{'\n'})
}

func (p *parser) token() (json.Token, error) {
	t, err := p.dec.Token()
	switch {
	case err == nil:
		return t, nil
	case errors.Is(err, io.EOF), errors.Is(err, io.ErrUnexpectedEOF):
		return nil, errors.New("cut short: the document ends in the middle")
	}
	return nil, fmt.Errorf("line %d: not JSON", p.line())
}

func (p *parser) value(n *node, depth int) error {
	if p.values++; p.values > MaxValues {
		return fmt.Errorf("line %d: more than %d values", p.line(), MaxValues)
	}
	t, err := p.token()
	if err != nil {
		return err
	}
	switch t := t.(type) {
	case bool:
		n.kind, n.yes = boolean, t
	case json.Number:
		n.kind, n.s = number, string(t)
	case string:
		n.kind, n.s = text, t
	case json.Delim:
		if depth >= MaxDepth {
			return fmt.Errorf("line %d: more than %d lists or objects inside each other", p.line(), MaxDepth)
		}
		return p.members(n, t, depth+1)
	}
	return nil
}

// members reads the inside of a list or object up to its closing bracket.
func (p *parser) members(n *node, open json.Delim, depth int) error {
	n.kind = list
	var seen map[string]bool
	if open == '{' {
		n.kind, seen = object, map[string]bool{}
	}
	for p.dec.More() {
		if n.kind == object {
			t, err := p.token()
			if err != nil {
				return err
			}
			name, _ := t.(string)
			if seen[name] && n.s == "" {
				n.s, n.yes = name, true
			}
			seen[name] = true
			n.names = append(n.names, name)
		}
		n.members = append(n.members, node{})
		if err := p.value(&n.members[len(n.members)-1], depth); err != nil {
			return err
		}
	}
	_, err := p.token()
	return err
}
