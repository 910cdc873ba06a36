package book_test

import (
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"crankbay/scenarios"
	"crankbay/scenarios/book"
)

// wild changes some numbers of a scenario file at random, by factors of up to
// ten, keeping it JSON.
func wild(data string, r *rand.Rand) string {
	var out strings.Builder
	for len(data) > 0 {
		at := strings.IndexAny(data, "-0123456789")
		if at < 0 {
			break
		}
		end := at
		for end < len(data) && strings.ContainsRune("-0123456789.", rune(data[end])) {
			end++
		}
		word, before := data[at:end], byte(' ')
		if at > 0 {
			before = data[at-1]
		}
		out.WriteString(data[:at])
		v, err := strconv.ParseFloat(word, 64)
		if err == nil && strings.ContainsRune(" [", rune(before)) && r.IntN(60) == 0 {
			word = strconv.FormatFloat(v*[]float64{0.1, 0.3, 0.7, 1.5, 3, 10, 0, -1}[r.IntN(8)], 'f', -1, 64)
		}
		out.WriteString(word)
		data = data[end:]
	}
	out.WriteString(data)
	return out.String()
}

// Whatever file the decoder takes can be tested: the engine it describes may be
// absurd, but it turns or it does not, and nothing breaks.
func TestWhateverIsTakenCanBeTested(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 7))
	taken := 0
	for _, s := range scenarios.Catalogue() {
		data, err := s.Encode()
		assert.NoError(t, err)
		changed := wild(string(data), r)
		w, err := scenarios.Decode([]byte(changed))
		if err != nil {
			continue
		}
		taken++
		assert.NotPanics(t, func() {
			_, err := book.Run(w, book.Options{Kind: book.Wet})
			if err != nil && !strings.Contains(err.Error(), "refusal.") {
				assert.ErrorIs(t, err, book.ErrNoWetTest)
			}
		}, "%s:\n%s", s.ID, changed)
	}
	assert.Greater(t, taken, 2)
}
