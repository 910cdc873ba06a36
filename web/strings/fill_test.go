package strings

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// vector is one case that the page's filler and this package's must agree on.
type vector struct {
	Text   Text              `json:"text"`
	Params map[string]string `json:"params"`
	Want   string            `json:"want"`
}

func TestFillVectors(t *testing.T) {
	data, err := os.ReadFile(filepath.Join("testdata", "vectors.json"))
	require.NoError(t, err)
	var vectors []vector
	require.NoError(t, json.Unmarshal(data, &vectors))
	require.NotEmpty(t, vectors)
	for _, v := range vectors {
		assert.Equal(t, v.Want, v.Text.Fill(v.Params), "%+v", v)
	}
}

func TestTextRefusesOtherForms(t *testing.T) {
	for _, bad := range []string{`{"one":"a"}`, `{"other":"a"}`, `{"one":"a","other":"b","few":"c"}`, `7`, `["a"]`} {
		var text Text
		assert.Error(t, json.Unmarshal([]byte(bad), &text), bad)
	}
}

func TestTableOfAnUnknownLanguage(t *testing.T) {
	_, err := Table("fr")
	assert.EqualError(t, err, `no texts in "fr"`)
}

// The page's pure modules are tested where they run: in JavaScript.
func TestPageModules(t *testing.T) {
	node, err := exec.LookPath("node")
	if err != nil {
		if os.Getenv("CI") != "" {
			t.Fatal("no Node.js: the page's modules were not tested")
		}
		t.Skip("no Node.js: the page's modules were not tested")
	}
	files, err := filepath.Glob(filepath.Join("testdata", "*.test.mjs"))
	require.NoError(t, err)
	require.NotEmpty(t, files)
	out, err := exec.Command(node, append([]string{"--test"}, files...)...).CombinedOutput()
	assert.NoError(t, err, string(out))
}
