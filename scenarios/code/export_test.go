package code

import (
	"encoding/base64"
	"encoding/binary"

	"crankbay/scenarios/attempt"
)

// Packed wraps bytes as the contents of a code.
func Packed(data []byte) string {
	body := binary.BigEndian.AppendUint16(nil, uint16(digestBytes+len(data)))
	body = append(append(body, make([]byte, digestBytes)...), data...)
	return Prefix + base64.RawURLEncoding.EncodeToString(body)
}

// LinkText returns the text inside a link.
func LinkText(link string) (string, error) {
	text, err := unpackLink(link)
	return string(text), err
}

// Crafted is the code of an attempt that no program of ours would write: whatever its
// numbers are, and with a digest of nothing.
func Crafted(f *attempt.File) string {
	c := newCoder(learning, nil)
	p := newPacker(c)
	p.prime()
	c.start(writing, nil)
	var checks []byte
	p.all(f, &checks)
	return Packed(c.finish())
}
