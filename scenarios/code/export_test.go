package code

import (
	"encoding/base64"
	"encoding/binary"
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
