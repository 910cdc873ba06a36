package code

import (
	_ "embed" // its directive only
	"encoding/base64"
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"

	"crankbay/scenarios"
	"crankbay/scenarios/attempt"
	"crankbay/scenarios/strict"
)

// Fragment begins the part of an address that carries an assignment. The digit is
// the version of the packing.
const Fragment = "job1."

// MaxLink is the longest fragment that is read [characters]. Every browser takes
// that much, and so do mail and chat that don't shorten links.
const MaxLink = 8000

// Bounds of what an assignment says beside its scenario [characters].
const (
	maxClass = 60
	maxWho   = 100
	maxSeal  = 100
	maxHead  = 4000 // all of them, as they are written [bytes]

	maxUnpacked = 1 << 17 // text inside a link [bytes]
)

// An Assignment is what an instructor hands out: a scenario, and how it is to be
// worked. The link that carries it is packed and masked, so that nobody reads the
// answer by looking at it. It is no secret: whoever takes the trouble can unpack
// it, with this very program. What protects a grade is that everybody has another
// variant, and that every attempt is played again.
type Assignment struct {
	Scenario *scenarios.Scenario
	Mode     string // one of attempt.Modes, or empty: the student chooses
	Who      string // whom it is for, at most 100 characters; empty: the student says
	Class    string // at most 60 characters, may be empty
	Seal     string // the public key hand-ins are sealed to (package seal), or empty
}

// What texts of assignments have in common. It is part of version 1 of the link:
// never change it.
//
//go:embed dictionary-1.txt
var dictionary string

// Link returns the fragment of an address, without the #: job1. and base64url.
func (a *Assignment) Link() (string, error) {
	text, err := a.text()
	if err != nil {
		return "", err
	}
	c := newCoder(learning, nil)
	t := newProse(c)
	t.learn(dictionary)
	c.start(writing, nil)
	c.length(uint64(len(text)), 0x7200)
	t.text(string(text), len(text))
	packed := c.finish()
	body := binary.BigEndian.AppendUint16(nil, uint16(min(len(packed)+4, 0xffff)))
	body = binary.BigEndian.AppendUint32(body, checksum(text))
	body = append(body, masked(packed, checksum(text))...)
	link := Fragment + base64.RawURLEncoding.EncodeToString(body)
	if len(link) > MaxLink {
		return "", fmt.Errorf("code: link: %d characters, at most %d: hand the scenario out as a file", len(link), MaxLink)
	}
	return link, nil
}

// ReadLink reads an assignment out of a whole address, a fragment with or without
// its #, or what is left of one in a mail. The error is one sentence that says what
// happened to it.
func ReadLink(text string) (*Assignment, error) {
	out, err := unpackLink(text)
	if err != nil {
		return nil, err
	}
	return readAssignment(out)
}

// unpackLink returns the text inside a link.
func unpackLink(text string) ([]byte, error) {
	body, err := linkBody(text)
	if err != nil {
		return nil, err
	}
	sum := binary.BigEndian.Uint32(body)
	c := newCoder(learning, nil)
	t := newProse(c)
	t.learn(dictionary)
	c.start(reading, masked(body[4:], sum))
	n := c.length(0, 0x7200)
	if n > maxUnpacked {
		return nil, errDamaged
	}
	out := []byte(t.text("", int(n)))
	if c.over() || checksum(out) != sum {
		return nil, errDamaged
	}
	return out, nil
}

var errDamaged = errors.New("code: link: its checksum does not fit: it was changed or damaged on the way")

// linkBody finds the packed part and holds it against its length.
func linkBody(text string) ([]byte, error) {
	if len(text) > 2*MaxLink {
		return nil, fmt.Errorf("code: link: %d bytes, more than any link of ours has", len(text))
	}
	part, version := inside(text)
	if version != "1" {
		return nil, noLink(version)
	}
	body, at := letters(part)
	if at > 0 {
		return nil, fmt.Errorf("code: link: character %d behind %s is none of a link", at, Fragment)
	}
	if len(body) < 6 {
		return nil, fmt.Errorf("code: link: cut short: hardly anything follows %s", Fragment)
	}
	n := int(binary.BigEndian.Uint16(body))
	switch body = body[2:]; {
	case len(body) < n:
		return nil, fmt.Errorf("code: link: cut short: %d of %d bytes arrived, ask for it once more or as a file", len(body), n)
	case len(body) > n:
		return nil, fmt.Errorf("code: link: %d bytes too many follow its end", len(body)-n)
	}
	return body, nil
}

func noLink(version string) error {
	if version == "" {
		return fmt.Errorf("code: link: no assignment in it, want %s and more behind the #", Fragment)
	}
	return fmt.Errorf("code: link: version %s, this program reads version 1", version)
}

// inside finds what stands behind job and its version, in whatever an address was
// pasted with. There is no assignment when the version is empty.
func inside(text string) (part, version string) {
	text = joined(text)
	for i := len(text) - 1; i >= 0; i-- {
		if text[i] == '#' {
			text = text[i+1:]
			break
		}
	}
	const word = 3 // letters of job
	dot := 0
	for dot < len(text) && text[dot] != '.' {
		dot++
	}
	if dot <= word || dot > word+3 || dot == len(text) || text[:word] != Fragment[:word] {
		return "", ""
	}
	end := len(text)
	for end > dot+1 && isPunctuation(text[end-1]) {
		end--
	}
	return text[dot+1 : end], text[word:dot]
}

// isPunctuation tells what a sentence may end with behind an address.
func isPunctuation(b byte) bool {
	switch b {
	case '.', ',', ';', ')', '>', '"', '\'', '=':
		return true
	}
	return false
}

// text is what a link packs: one line of what the assignment says, then the
// scenario.
func (a *Assignment) text() ([]byte, error) {
	head, err := json.Marshal(struct {
		Class string `json:"class"`
		Mode  string `json:"mode"`
		Who   string `json:"who"`
		Seal  string `json:"seal"`
	}{a.Class, a.Mode, a.Who, a.Seal})
	if err != nil {
		return nil, fmt.Errorf("code: link: %w", err)
	}
	scenario, err := json.Marshal(a.Scenario)
	if err != nil {
		return nil, fmt.Errorf("code: link: scenario: %w", err)
	}
	text := append(append(head, '\n'), scenario...)
	_, err = readAssignment(text)
	return text, err
}

// readAssignment reads the text inside a link as strictly as a file.
func readAssignment(text []byte) (*Assignment, error) {
	end := 0
	for end < len(text) && text[end] != '\n' {
		end++
	}
	doc, err := strict.Parse(text[:end], maxHead)
	if err != nil {
		return nil, fmt.Errorf("code: link: %w", err)
	}
	a := &Assignment{}
	o := doc.Root().Object()
	a.Class = o.Need("class").Text(maxClass)
	if a.Mode = o.Need("mode").Text(maxClass); a.Mode != "" {
		a.Mode = o.Need("mode").OneOf(attempt.Modes()...)
	}
	a.Who = o.Need("who").Text(maxWho)
	a.Seal = o.Need("seal").Text(maxSeal)
	o.Close()
	if err := doc.Err(); err != nil {
		return nil, fmt.Errorf("code: link: %w", err)
	}
	if a.Scenario, err = scenarios.Decode(text[end:]); err != nil {
		return nil, fmt.Errorf("code: link: scenario: %w", err)
	}
	return a, nil
}

// checksum notices damage on the way and stops no forger: 32 bits of FNV-1a.
func checksum(text []byte) uint32 {
	h := uint32(2166136261)
	for _, b := range text {
		h = (h ^ uint32(b)) * 16777619
	}
	return h
}

// masked hides bytes from a glance, and shows hidden ones: the stream of a small
// generator seeded by the checksum lies over them.
func masked(data []byte, seed uint32) []byte {
	out := make([]byte, len(data))
	for i, b := range data {
		out[i] = b ^ byte(spread(hash(seed, uint32(i)))>>24)
	}
	return out
}
