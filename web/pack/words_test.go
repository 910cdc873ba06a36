package pack_test

import (
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var (
	wordHere  = regexp.MustCompile(`<dt>([^<]+)</dt>`)
	wordThere = regexp.MustCompile(`<dd lang="en">([^<]+)</dd>`)
	wordBold  = regexp.MustCompile(`<b lang="es">([^<]+)</b>`)
)

// The two pages of shop words pair the same words, and the Spanish ones are those the
// page itself uses.
func TestPagesOfShopWords(t *testing.T) {
	page := func(lang string) string {
		data, err := os.ReadFile("../shell/words." + lang + ".html")
		require.NoError(t, err)
		return string(data)
	}
	all := func(re *regexp.Regexp, text string) (out []string) {
		for _, m := range re.FindAllStringSubmatch(text, -1) {
			out = append(out, m[1])
		}
		return out
	}
	en, es := page("en"), page("es")
	assert.ElementsMatch(t, all(wordHere, en), all(wordThere, es), "English words")
	assert.ElementsMatch(t, all(wordBold, en), all(wordHere, es), "Spanish words")

	data, err := os.ReadFile("../strings/es.json")
	require.NoError(t, err)
	used := strings.ToLower(string(data))
	for _, word := range []string{"empaque de cabeza", "anillos", "bancada", "laina", "holgura de válvulas", "múltiple", "mariposa", "orificio de bujía", "boca de aceite", "cuello del refrigerante",
		"motor de arranque", "dar arranque", "ralentí", "acelerón", "carátula", "manómetro", "probador de fugas", "pinza amperimétrica", "vacuómetro", "cruce de válvulas"} {
		assert.Contains(t, es, word)
		assert.Contains(t, used, word, "the page says so too")
	}
	for _, other := range []string{"culata", "junta de", "segmentos", "galga", "bujes de", "mínimo de ralentí", "compresómetro"} {
		assert.NotContains(t, used, other, "one thing, one word")
	}
}
