package num_test

import (
	"crypto/sha256"
	"encoding/hex"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"crankbay/sim/num"
)

// Source: SecureHash2015, the examples of its authors.
func TestSHA256Published(t *testing.T) {
	for text, want := range map[string]string{
		"":    "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855",
		"abc": "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad",
		"abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq": "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1",
		strings.Repeat("a", 1000000):                               "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0",
	} {
		sum := num.SHA256([]byte(text))
		assert.Equal(t, want, hex.EncodeToString(sum[:]), "%.20q", text)
	}
}

// Every length about the end of a block, against the standard library's.
func TestSHA256IsTheStandardLibrarys(t *testing.T) {
	data := make([]byte, 300)
	for i := range data {
		data[i] = byte(i*i + 7)
	}
	for n := range data {
		assert.Equal(t, sha256.Sum256(data[:n]), num.SHA256(data[:n]), n)
	}
}
