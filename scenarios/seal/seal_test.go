package seal_test

import (
	"bytes"
	"crypto/ecdh"
	"crypto/hpke"
	"encoding/hex"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/scenarios/code"
	"crankbay/scenarios/seal"
)

// What is sealed by the suite this package uses opens as the standard prints it.
// Source: Barnes2022, appendix A.2.1 (DHKEM(X25519, HKDF-SHA256), HKDF-SHA256,
// ChaCha20Poly1305, base mode), first encryption.
func TestSuitePublished(t *testing.T) {
	unhex := func(s string) []byte {
		b, err := hex.DecodeString(s)
		require.NoError(t, err)
		return b
	}
	suite := hpke.DHKEM(ecdh.X25519())
	k, err := suite.NewPrivateKey(unhex("8057991eef8f1f1af18f4a9491d16a1ce333f695d4db8e38da75975c4478e0fb"))
	require.NoError(t, err)
	assert.Equal(t, "4310ee97d88cc1f088a5576c77ab0cf5c3ac797f3d95139c6c84b5429c59662a", hex.EncodeToString(k.PublicKey().Bytes()))
	r, err := hpke.NewRecipient(unhex("1afa08d3dec047a643885163f1180476fa7ddb54c6a8029ea33f95796bf2ac4a"), k,
		hpke.HKDFSHA256(), hpke.ChaCha20Poly1305(), unhex("4f6465206f6e2061204772656369616e2055726e"))
	require.NoError(t, err)
	plain, err := r.Open(unhex("436f756e742d30"), unhex("1c5250d8034ec2b784ba2cfd69dbdb8af406cfe3ff938e131f0def8c8b60b4db21993c62ce81883d2dd1b51a28"))
	require.NoError(t, err)
	assert.Equal(t, "Beauty is truth, truth beauty", string(plain))
}

func TestBothPackagesMeanTheSamePrefix(t *testing.T) { assert.Equal(t, code.Sealed, seal.Prefix) }

func keys(t testing.TB) *seal.Key {
	t.Helper()
	k, err := seal.NewKey()
	require.NoError(t, err)
	return k
}

func TestOnlyTheKeyOpens(t *testing.T) {
	k, other := keys(t), keys(t)
	for _, text := range []string{"", "CB1.AAAA", strings.Repeat("{\"attempt\": 1}\n", 20000)} {
		closed, err := seal.Seal(k.Public(), []byte(text))
		require.NoError(t, err)
		assert.NotContains(t, closed, "attempt")
		assert.Less(t, len(closed), 1000, "repetition is packed before it is sealed")
		assert.Equal(t, len(closed)-len(code.Sealed), code.SpanSealed(closed[len(code.Sealed):]))
		wrapped := "> " + closed[:20] + "\r\n> " + closed[20:] + "\n"
		for _, form := range []string{closed, wrapped} {
			got, err := k.Open(form)
			require.NoError(t, err)
			assert.Equal(t, text, string(got))
		}
		_, err = other.Open(closed)
		assert.EqualError(t, err, "seal: it was sealed to another key")
		again, err := seal.Seal(k.Public(), []byte(text))
		require.NoError(t, err)
		assert.NotEqual(t, closed, again, "equal hand-ins don't look equal")
	}
	_, err := seal.Seal(k.Public(), make([]byte, seal.MaxOpened+1))
	assert.ErrorContains(t, err, "at most")
}

func TestKeysAsText(t *testing.T) {
	k := keys(t)
	back, err := seal.ParseKey("\n " + k.Private() + "\n")
	require.NoError(t, err)
	assert.Equal(t, k.Public(), back.Public())
	assert.Equal(t, k.Private(), back.Private())
	closed, err := seal.Seal(k.Public(), []byte("x"))
	require.NoError(t, err)
	got, err := back.Open(closed)
	require.NoError(t, err)
	assert.Equal(t, "x", string(got))
	assert.LessOrEqual(t, len(k.Public()), 100, "it goes into a link")
	assert.NoError(t, seal.CheckPublic(k.Public()))

	flip := func(s string, at int) string {
		b := []byte(s)
		b[at] = map[bool]byte{true: 'B', false: 'A'}[b[at] == 'A']
		return string(b)
	}
	for text, want := range map[string]string{
		"":                            "seal: key: a private key begins with CBK1.",
		k.Public():                    "seal: key: a private key begins with CBK1.",
		k.Private()[:20]:              "seal: key: cut short or damaged, a private key has 51 characters",
		flip(k.Private(), 12):         "seal: key: its checksum does not fit, a character was changed",
		k.Private()[:30] + " " + "zz": "seal: key: cut short or damaged, a private key has 51 characters",
	} {
		_, err := seal.ParseKey(text)
		assert.EqualError(t, err, want, text)
	}
	assert.Len(t, k.Private(), 51)
	assert.EqualError(t, seal.CheckPublic(k.Private()), "seal: key: a public key begins with CBP1.")
	_, err = seal.Seal(flip(k.Public(), 9), nil)
	assert.ErrorContains(t, err, "checksum")
}

func TestDamageIsNoticed(t *testing.T) {
	k := keys(t)
	closed, err := seal.Seal(k.Public(), []byte("CB1.something that was handed in"))
	require.NoError(t, err)
	r := rand.New(rand.NewPCG(8, 9))
	for range 200 {
		at := len(code.Sealed) + r.IntN(len(closed)-len(code.Sealed)-1)
		other := closed[len(code.Sealed)+r.IntN(len(closed)-len(code.Sealed))]
		for _, bad := range []string{closed[:at] + string(other) + closed[at+1:], closed[:at] + closed[at+1:], closed[:at], closed + closed[at:]} {
			if bad == closed {
				continue
			}
			_, err := k.Open(bad)
			if assert.Error(t, err) {
				assert.Regexp(t, "^seal: [^\n]+$", err.Error())
			}
		}
	}
	for bad, want := range map[string]string{
		"": "seal: a sealed hand-in begins with CBS1.", "CB1.AAAA": "seal: a sealed hand-in begins with CBS1.",
		"CBS1.": "seal: cut short: hardly anything follows CBS1.", "CBS1.A*": "seal: character 2", "CBS1.AAAAAA": "seal: 0 bytes are no hand-in",
		closed[:60]: "seal: cut short: ",
	} {
		_, err := k.Open(bad)
		assert.ErrorContains(t, err, want, bad)
	}
}

func FuzzOpen(f *testing.F) {
	k := keys(f)
	closed, err := seal.Seal(k.Public(), []byte("CB1.x"))
	require.NoError(f, err)
	f.Add(closed)
	f.Add("CBS1.AAAAAkFC")
	f.Fuzz(func(t *testing.T, text string) {
		if _, err := k.Open(text); err != nil {
			require.True(t, strings.HasPrefix(err.Error(), "seal: ") && !bytes.ContainsRune([]byte(err.Error()), '\n'), err)
		}
	})
}

// A file of a key is read whole or refused in a sentence that repeats nothing of it,
// for it may have been the private one.
func FuzzParseKey(f *testing.F) {
	k := keys(f)
	f.Add(k.Private())
	f.Add(k.Public())
	f.Add(k.Private()[:40])
	f.Add(" " + k.Private() + "\n")
	f.Fuzz(func(t *testing.T, text string) {
		got, err := seal.ParseKey(text)
		if err == nil {
			require.Equal(t, strings.TrimSpace(text), got.Private())
			require.NoError(t, seal.CheckPublic(got.Public()))
			return
		}
		require.True(t, strings.HasPrefix(err.Error(), "seal: key: ") && !strings.ContainsRune(err.Error(), '\n'), err)
		if rest := strings.TrimPrefix(strings.TrimSpace(text), seal.PrivatePrefix); len(rest) >= 40 {
			require.NotContains(t, strings.TrimPrefix(err.Error(), "seal: key: a private key begins with "+seal.PrivatePrefix), rest[:40])
		}
	})
}
