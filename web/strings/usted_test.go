package strings

import (
	"encoding/json"
	"io/fs"
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// familiar finds what only somebody addressed as tú is told.
var familiar = regexp.MustCompile(`(?i)(^|[^\pL])(tú|tu|tus|contigo|haz|elige|escoge tu|pídel[oa]|ábrel[oa]|cópial[oa]|entrégal[oa]|mándal[oa])($|[^\pL])`)

// The Spanish of the page, of the guide and of the page about the model says usted,
// everywhere.
func TestSpanishSaysUsted(t *testing.T) {
	read := func(files fs.FS, name string) {
		data, err := fs.ReadFile(files, name)
		require.NoError(t, err)
		var table map[string]any
		require.NoError(t, json.Unmarshal(data, &table))
		for key, text := range table {
			said, err := json.Marshal(text)
			require.NoError(t, err)
			assert.NotRegexp(t, familiar, Unbroken(string(said)), "%s %s", name, key)
		}
	}
	read(Files, "es.json")
	read(Guide, "guide/es.json")
	read(Model, "model/es.json")
	assert.Regexp(t, familiar, "Escriba tu nombre")
	assert.NotRegexp(t, familiar, "La altitud; Haga el actual estudio")
}

func TestUnbroken(t *testing.T) {
	assert.Equal(t, "carreras", Unbroken("ca\u00adrre\u00adras"))
}
