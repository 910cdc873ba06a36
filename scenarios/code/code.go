package code

import (
	"encoding/base64"
	"encoding/binary"
	"fmt"
	"hash/fnv"
	"strings"
	"unicode/utf8"

	"crankbay/scenarios/attempt"
)

// What begins every code. The digit is the version of the packing; a higher one is
// named, never guessed at.
const (
	Prefix   = "CB1."  // a short code, base64url: for copying
	PrefixQR = "CB1:"  // the same in base45: for a QR code
	Sealed   = "CBS1." // a hand-in that only the instructor can open, see package seal
)

// endQR ends the text of a QR code: base45 has blanks, and what stands at the end is
// trimmed by many a scanner.
const endQR = "."

// Limits of a short code.
const (
	MaxLength = 3500 // characters; what an LMS keeps for us is 4,096 at the least
	MaxText   = 400  // characters of free text
	MaxQR     = 1800 // characters that phones still read off a screen
)

// TooLong says that an attempt does not fit a short code: hand in the file.
type TooLong struct {
	What      string // characters, or characters of free text
	Have, Max int
}

// Error tells what to do instead.
func (e *TooLong) Error() string {
	return fmt.Sprintf("code: %d %s, a short code holds %d: hand in the file", e.Have, e.What, e.Max)
}

// Encode packs an attempt into a short code. It carries the whole log and the
// last mark; what a replay makes again is left out. The error is a *TooLong, or
// says that the file's marks don't belong to its actions.
func Encode(f *attempt.File) (string, error) {
	b, err := f.Brief()
	if err != nil {
		return "", fmt.Errorf("code: %s", strings.TrimPrefix(err.Error(), "attempt: "))
	}
	body, err := pack(b)
	if err != nil {
		return "", err
	}
	text := Prefix + base64.RawURLEncoding.EncodeToString(framed(body))
	if len(text) > MaxLength {
		return "", &TooLong{"characters", len(text), MaxLength}
	}
	return text, nil
}

// QR turns a short code into the text of a QR code, which is longer by an eighth
// but takes less room there, because only capitals, digits and a few signs are in
// it. The error is a *TooLong.
func QR(text string) (string, error) {
	body, err := bodyOf(text)
	if err != nil {
		return "", err
	}
	out := PrefixQR + Base45(framed(body)) + endQR
	if len(out) > MaxQR {
		return "", &TooLong{"characters", len(out), MaxQR}
	}
	return out, nil
}

// Decode reads a short code, copied or out of a QR code. Line breaks, blanks and
// marks of a quoted mail are passed over. The attempt still has to be verified.
func Decode(text string) (*attempt.Brief, error) {
	body, err := bodyOf(text)
	if err != nil {
		return nil, err
	}
	return unpack(body)
}

// bodyOf reads the bytes behind the prefix and holds them against their length.
func bodyOf(text string) ([]byte, error) {
	text = strings.TrimLeft(strings.TrimSpace(text), "> \t\r\n")
	switch {
	case text == "":
		return nil, fmt.Errorf("code: empty: there is nothing to read")
	case len(text) > 4*MaxLength:
		return nil, fmt.Errorf("code: %d characters, a short code has at most %d", len(text), MaxLength)
	case !utf8.ValidString(text):
		return nil, fmt.Errorf("code: not text")
	}
	var body []byte
	var err error
	switch head := text[:min(len(text), len(Prefix))]; {
	case head == Prefix:
		var at int
		if body, at = letters(joined(text[len(Prefix):])); at > 0 {
			err = fmt.Errorf("code: character %d behind %s is none of a code", at, Prefix)
		}
	case head == PrefixQR:
		inner, ended := strings.CutSuffix(text[len(PrefixQR):], endQR)
		if !ended {
			return nil, fmt.Errorf("code: cut short: a QR code ends with a dot")
		}
		body, err = UnBase45(inner)
	case strings.HasPrefix(text, Sealed):
		err = fmt.Errorf("code: sealed: it opens with the key of the instructor it was sealed to")
	case otherVersion(text):
		err = fmt.Errorf("code: version %s, this program reads version 1", version(text))
	default:
		err = fmt.Errorf("code: begins with %q, a short code begins with %s", head, Prefix)
	}
	if err != nil {
		return nil, err
	}
	return unframed(body)
}

// unframed holds the bytes of a code against the length that stands before them.
func unframed(body []byte) ([]byte, error) {
	if len(body) < 2 {
		return nil, fmt.Errorf("code: cut short: nothing follows %s", Prefix)
	}
	n := int(binary.BigEndian.Uint16(body))
	if body = body[2:]; len(body) < n {
		return nil, fmt.Errorf("code: cut short: %d of %d bytes arrived", len(body), n)
	} else if len(body) > n {
		return nil, fmt.Errorf("code: %d bytes too many follow its end: is it two codes, or one twice?", len(body)-n)
	}
	return body, nil
}

// otherVersion tells whether a text looks like a code of another version.
func otherVersion(text string) bool {
	return len(text) > 4 && text[:2] == "CB" && text[2] >= '0' && text[2] <= '9' && (text[3] == '.' || text[3] == ':' || text[4] == '.')
}

func version(text string) string {
	v, _, _ := strings.Cut(text[2:], ".")
	v, _, _ = strings.Cut(v, ":")
	return v
}

const digestBytes = 8

// pack returns digest and packed attempt.
func pack(b *attempt.Brief) ([]byte, error) {
	if n := freeText(b.File); n > MaxText {
		return nil, &TooLong{"characters of free text", n, MaxText}
	}
	c := newCoder(learning, nil)
	p := newPacker(c)
	p.prime()
	c.start(writing, nil)
	p.all(b.File, &b.Checks)
	if p.err != nil {
		return nil, p.err
	}
	packed := c.finish()
	if n := digestBytes + len(packed); n > 0xffff {
		return nil, &TooLong{"bytes", n, 0xffff}
	}
	return append(digest(b), packed...), nil
}

// framed puts the length before a body.
func framed(body []byte) []byte {
	return append(binary.BigEndian.AppendUint16(nil, uint16(len(body))), body...)
}

// unpack reads what pack wrote.
func unpack(body []byte) (*attempt.Brief, error) {
	if len(body) < digestBytes {
		return nil, fmt.Errorf("code: damaged: %d bytes are no attempt", len(body))
	}
	c := newCoder(learning, nil)
	p := newPacker(c)
	p.prime()
	c.start(reading, body[digestBytes:])
	b := &attempt.Brief{File: &attempt.File{}}
	p.all(b.File, &b.Checks)
	b.File.Digest = ""
	if p.err != nil || c.over() || string(digest(b)) != string(body[:digestBytes]) {
		return nil, errDamagedCode
	}
	b.File.Digest = b.File.Sum()
	if err := valid(b.File); err != nil {
		return nil, err
	}
	return b, nil
}

// valid holds what was unpacked against the same rules as a file: whoever can pack
// can pack nonsense.
func valid(f *attempt.File) error {
	data, err := f.Encode()
	if err == nil {
		_, err = attempt.Decode(data)
	}
	if err != nil {
		return fmt.Errorf("code: %s", strings.TrimPrefix(err.Error(), "attempt: "))
	}
	return nil
}

// digest returns 64 bits of FNV-1a, 128 bits, over the attempt as a file with one
// mark, and its checks. It notices damage and stops no forger.
func digest(b *attempt.Brief) []byte {
	f := *b.File
	f.Digest = ""
	h := fnv.New128a()
	h.Write([]byte(f.Sum()))
	h.Write(b.Checks)
	return h.Sum(nil)[:digestBytes]
}

// freeText counts the characters that a student typed as text.
func freeText(f *attempt.File) int {
	n := utf8.RuneCountInString(f.Who)
	for _, a := range f.Actions {
		n += utf8.RuneCountInString(a.Text)
	}
	return n
}
