package code_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"crankbay/scenarios/code"
)

// The examples of RFC 9285 (Faltstrom2022), sections 4.3 and 4.4, and what its section 6 refuses.
func TestBase45Published(t *testing.T) {
	for plain, coded := range map[string]string{
		"AB": "BB8", "Hello!!": "%69 VD92EX0", "base-45": "UJCLQE7W581", "ietf!": "QED8WEX0", "": "", "\xff\xff": "FGW",
	} {
		assert.Equal(t, coded, code.Base45([]byte(plain)))
		back, err := code.UnBase45(coded)
		assert.NoError(t, err)
		assert.Equal(t, plain, string(back))
	}
	for bad, want := range map[string]string{
		"GGW":  "code: damaged: characters 1 to 3 stand for no bytes",
		":::":  "code: damaged: characters 1 to 3 stand for no bytes",
		"BB8A": "code: cut short: base45 never has one character left over",
		"::":   "code: damaged: characters 1 to 2 stand for no bytes",
		"BBa":  "code: character 3 is none of base45",
	} {
		_, err := code.UnBase45(bad)
		assert.EqualError(t, err, want, bad)
	}
}

func FuzzBase45(f *testing.F) {
	f.Add("QED8WEX0", []byte{0, 255, 3})
	f.Fuzz(func(t *testing.T, text string, data []byte) {
		if back, err := code.UnBase45(text); err == nil {
			assert.Equal(t, text, code.Base45(back))
		}
		back, err := code.UnBase45(code.Base45(data))
		assert.NoError(t, err)
		assert.Equal(t, string(data), string(back))
	})
}
