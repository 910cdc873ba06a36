package qr_test

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/scenarios/code/qr"
)

// Another program, jsqr, reads what is drawn here.
func TestReadByAnotherProgram(t *testing.T) {
	texts := []string{
		"A", "HELLO WORLD", "CB1:A20NXMCQ4X/KXQH07WC*0W5FX0.", strings.Repeat("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:", 40),
		"https://school.example/bay/#job1." + strings.Repeat("aZ9-_x", 150), "ñandú", strings.Repeat("QR", 900),
	}
	var rows [][]string
	for _, text := range texts {
		s, err := qr.Draw(text)
		require.NoError(t, err)
		assert.Equal(t, 17+4*s.Version, s.Size)
		rows = append(rows, s.Rows())
	}
	if _, err := os.Stat("../../../testdata/npm/node_modules/jsqr"); err != nil {
		missing(t, "jsqr is not installed (npm ci in testdata/npm)")
	}
	node, err := exec.LookPath("node")
	if err != nil {
		missing(t, "Node is not installed")
	}
	in, err := json.Marshal(rows)
	require.NoError(t, err)
	cmd := exec.Command(node, "testdata/read.mjs")
	cmd.Stdin = bytes.NewReader(in)
	var said bytes.Buffer
	cmd.Stderr = &said
	out, err := cmd.Output()
	require.NoError(t, err, said.String())
	var found []*struct {
		Text    string
		Version int
	}
	require.NoError(t, json.Unmarshal(out, &found))
	require.Len(t, found, len(texts))
	for i, f := range found {
		if assert.NotNil(t, f, "%.40q was not found", texts[i]) {
			assert.Equal(t, texts[i], f.Text)
		}
	}
}

func missing(t *testing.T, what string) {
	t.Helper()
	if os.Getenv("CI") != "" {
		t.Fatal(what)
	}
	t.Skip(what + ": nobody else has read the codes")
}

func TestCapitalsTakeLessRoom(t *testing.T) {
	small, err := qr.Draw(strings.Repeat("AB", 400))
	require.NoError(t, err)
	big, err := qr.Draw(strings.Repeat("ab", 400))
	require.NoError(t, err)
	assert.Less(t, small.Version, big.Version)
	longest, err := qr.Draw(strings.Repeat("A", 1800))
	require.NoError(t, err)
	assert.LessOrEqual(t, longest.Version, 25, "the longest code of ours is 117 modules wide at most")
	_, err = qr.Draw(strings.Repeat("a", 3000))
	assert.EqualError(t, err, "qr: 3000 characters are more than a QR code holds")
}

func TestThePicture(t *testing.T) {
	s, err := qr.Draw("CB1:AB.")
	require.NoError(t, err)
	svg := s.SVG(`Ana <"&`)
	assert.Contains(t, svg, "<title>Ana &lt;\"&amp;</title>")
	assert.Contains(t, svg, `viewBox="0 0 29 29"`)
	dark := 0
	for _, row := range s.Rows() {
		dark += strings.Count(row, "1")
	}
	drawn := 0
	for _, part := range strings.Split(svg, "h")[1:] {
		n := 0
		for _, c := range part {
			if c < '0' || c > '9' {
				break
			}
			n = 10*n + int(c-'0')
		}
		drawn += n
	}
	assert.Equal(t, dark, drawn, "every dark module, once")
	for _, bad := range []string{"style", "script", "class"} {
		assert.NotContains(t, svg, bad)
	}
}

func FuzzDraw(f *testing.F) {
	f.Add("CB1:AB.")
	f.Add("")
	f.Fuzz(func(t *testing.T, text string) {
		s, err := qr.Draw(text)
		if err == nil {
			require.NotEmpty(t, s.SVG(text))
		}
	})
}
