package seal

import (
	"bytes"
	"compress/flate"
	"crypto/ecdh"
	"crypto/hpke"
	"crypto/sha256"
	"encoding/base64"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"strings"
)

// What sealed hand-ins and keys begin with. The digit is the version.
const (
	Prefix        = "CBS1." // a sealed hand-in; package code knows it too
	PublicPrefix  = "CBP1." // travels in links
	PrivatePrefix = "CBK1." // stays with the instructor
)

// MaxOpened is the longest hand-in that is sealed or opened [bytes].
const MaxOpened = 4 << 20

// info binds a seal to its purpose: what was sealed for something else doesn't open.
var info = []byte("crankbay hand-in 1")

const (
	keyBytes  = 32
	sumBytes  = 2 // of a key as text, against slips of the pen
	nameBytes = 4 // of the public key, so that another key is called one
)

func kem() hpke.KEM { return hpke.DHKEM(ecdh.X25519()) }

// A Key opens what was sealed to its public half.
type Key struct {
	private hpke.PrivateKey
	bytes   []byte // as they were made
}

// NewKey makes a pair of keys by chance.
func NewKey() (*Key, error) {
	p, err := kem().GenerateKey()
	if err != nil {
		return nil, fmt.Errorf("seal: %w", err)
	}
	b, err := p.Bytes()
	if err != nil {
		return nil, fmt.Errorf("seal: %w", err)
	}
	return &Key{p, b}, nil
}

// ParseKey reads a private key as Private writes it, with blanks around it.
func ParseKey(text string) (*Key, error) {
	b, err := parse(text, PrivatePrefix, "private")
	if err != nil {
		return nil, err
	}
	p, err := kem().NewPrivateKey(b)
	if err != nil {
		return nil, errors.New("seal: key: it is no private key")
	}
	return &Key{p, b}, nil
}

// Private returns the private key as text: whoever has it can open every hand-in.
func (k *Key) Private() string { return spell(PrivatePrefix, k.bytes) }

// Public returns the public key as text.
func (k *Key) Public() string { return spell(PublicPrefix, k.private.PublicKey().Bytes()) }

func spell(prefix string, b []byte) string {
	sum := sha256.Sum256(append([]byte(prefix), b...))
	return prefix + base64.RawURLEncoding.EncodeToString(append(b[:len(b):len(b)], sum[:sumBytes]...))
}

func parse(text, prefix, what string) ([]byte, error) {
	rest, ok := strings.CutPrefix(strings.TrimSpace(text), prefix)
	if !ok {
		return nil, fmt.Errorf("seal: key: a %s key begins with %s", what, prefix)
	}
	b, err := base64.RawURLEncoding.Strict().DecodeString(rest)
	if err != nil || len(b) != keyBytes+sumBytes {
		return nil, fmt.Errorf("seal: key: cut short or damaged, a %s key has %d characters", what, len(prefix)+(keyBytes+sumBytes)*8/6+1)
	}
	if spell(prefix, b[:keyBytes]) != prefix+rest {
		return nil, errors.New("seal: key: its checksum does not fit, a character was changed")
	}
	return b[:keyBytes], nil
}

// CheckPublic says what is wrong with a public key.
func CheckPublic(text string) error {
	_, err := public(text)
	return err
}

func public(text string) (hpke.PublicKey, error) {
	b, err := parse(text, PublicPrefix, "public")
	if err != nil {
		return nil, err
	}
	p, err := kem().NewPublicKey(b)
	if err != nil {
		return nil, errors.New("seal: key: it is no public key")
	}
	return p, nil
}

// name tells keys apart.
func name(p hpke.PublicKey) []byte {
	sum := sha256.Sum256(p.Bytes())
	return sum[:nameBytes]
}

// Seal closes a hand-in, a file or a short code, to a public key. The result is text:
// CBS1. and base64url of length, name of the key, and the sealed bytes.
func Seal(publicKey string, data []byte) (string, error) {
	p, err := public(publicKey)
	if err != nil {
		return "", err
	}
	if len(data) > MaxOpened {
		return "", fmt.Errorf("seal: %d bytes, at most %d", len(data), MaxOpened)
	}
	packed, err := deflate(data)
	if err != nil {
		return "", fmt.Errorf("seal: %w", err)
	}
	closed, err := hpke.Seal(p, hpke.HKDFSHA256(), hpke.ChaCha20Poly1305(), info, packed)
	if err != nil {
		return "", fmt.Errorf("seal: %w", err)
	}
	body := append(name(p), closed...)
	body = append(binary.BigEndian.AppendUint32(nil, uint32(len(body))), body...)
	return Prefix + base64.RawURLEncoding.EncodeToString(body), nil
}

// Open opens what was sealed to this key. Line breaks, blanks and marks of a quoted
// mail are passed over.
func (k *Key) Open(text string) ([]byte, error) {
	body, err := bodyOf(text)
	if err != nil {
		return nil, err
	}
	if !bytes.Equal(body[:nameBytes], name(k.private.PublicKey())) {
		return nil, errors.New("seal: it was sealed to another key")
	}
	packed, err := hpke.Open(k.private, hpke.HKDFSHA256(), hpke.ChaCha20Poly1305(), info, body[nameBytes:])
	if err != nil {
		return nil, errors.New("seal: it does not open: something was changed or damaged")
	}
	data, err := io.ReadAll(io.LimitReader(flate.NewReader(bytes.NewReader(packed)), MaxOpened+1))
	if err != nil || len(data) > MaxOpened {
		return nil, errors.New("seal: what was sealed is no hand-in")
	}
	return data, nil
}

func bodyOf(text string) ([]byte, error) {
	if len(text) > 2*MaxOpened {
		return nil, fmt.Errorf("seal: %d bytes, at most %d", len(text), 2*MaxOpened)
	}
	text = strings.Map(func(r rune) rune {
		switch r {
		case ' ', '\t', '\r', '\n', '>', '\u00a0', '\u200b', '\u00ad', '\ufeff':
			return -1
		}
		return r
	}, text)
	rest, ok := strings.CutPrefix(text, Prefix)
	if !ok {
		return nil, fmt.Errorf("seal: a sealed hand-in begins with %s", Prefix)
	}
	if len(rest)%4 == 1 {
		rest = rest[:len(rest)-1] // cut within a group
	}
	body, err := base64.RawURLEncoding.DecodeString(rest)
	if at, bad := err.(base64.CorruptInputError); bad {
		return nil, fmt.Errorf("seal: character %d behind %s is none of a code", int(at)+1, Prefix)
	}
	if len(body) < 4 {
		return nil, fmt.Errorf("seal: cut short: hardly anything follows %s", Prefix)
	}
	n := int64(binary.BigEndian.Uint32(body))
	switch body = body[4:]; {
	case int64(len(body)) < n:
		return nil, fmt.Errorf("seal: cut short: %d of %d bytes arrived", len(body), n)
	case int64(len(body)) > n:
		return nil, fmt.Errorf("seal: %d bytes too many follow its end", int64(len(body))-n)
	case n < nameBytes:
		return nil, fmt.Errorf("seal: %d bytes are no hand-in", n)
	}
	return body, nil
}

func deflate(data []byte) ([]byte, error) {
	var b bytes.Buffer
	w, err := flate.NewWriter(&b, flate.BestCompression)
	if err != nil {
		return nil, err
	}
	if _, err := w.Write(data); err != nil {
		return nil, err
	}
	err = w.Close()
	return b.Bytes(), err
}
