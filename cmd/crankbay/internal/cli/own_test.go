//go:build !js

package cli

import (
	"bufio"
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/diagnose/opinion"
)

// An ownCase is readings as somebody may type them, with what an old hand would make of
// them.
type ownCase struct {
	Name      string   `json:"name"`
	Text      string   `json:"text"`
	Args      []string `json:"args"`
	First     []string `json:"first"`     // one of these groups comes first
	Three     []string `json:"three"`     // all of these are among the first three
	NotFirst  []string `json:"not_first"` // none of these comes first
	Cylinders []int    `json:"cylinders"` // and the first cause is on these
	Tells     *bool    `json:"tells"`
	Why       string   `json:"why"`
	Settled   string   `json:"settled"` // what was changed after the first run, and by which argument
}

func ownCases(t *testing.T) []ownCase {
	data, err := os.ReadFile("../../../../testdata/field/own.jsonl")
	require.NoError(t, err)
	var out []ownCase
	s := bufio.NewScanner(bytes.NewReader(data))
	for s.Scan() {
		d := json.NewDecoder(bytes.NewReader(s.Bytes()))
		d.DisallowUnknownFields()
		var c ownCase
		require.NoError(t, d.Decode(&c), s.Text())
		out = append(out, c)
	}
	require.NoError(t, s.Err())
	return out
}

// opine runs the command on a text in a file.
func opine(t *testing.T, text string, args ...string) opinion.Opinion {
	t.Helper()
	name := filepath.Join(t.TempDir(), "readings.csv")
	require.NoError(t, os.WriteFile(name, []byte(text), 0o600))
	var out bytes.Buffer
	c := newOpinion()
	c.SetOut(&out)
	c.SetArgs(append([]string{name, "--json"}, args...))
	require.NoError(t, c.Execute())
	var o opinion.Opinion
	require.NoError(t, json.Unmarshal(out.Bytes(), &o))
	return o
}

// What an old hand would say of made-up readings (common practice, no source). The cases
// and what they ask for were written down before any of them was run.
func TestOwnCases(t *testing.T) {
	for _, c := range ownCases(t) {
		t.Run(c.Name, func(t *testing.T) {
			o := opine(t, c.Text, c.Args...)
			var groups []string
			for _, g := range o.Groups {
				groups = append(groups, g.Group)
			}
			require.GreaterOrEqual(t, len(groups), 3)
			said := o.Groups[:4]
			if c.First != nil {
				assert.Contains(t, c.First, groups[0], "%v; %s", said, c.Why)
			}
			for _, g := range c.Three {
				assert.Contains(t, groups[:3], g, "%v; %s", said, c.Why)
			}
			for _, g := range c.NotFirst {
				assert.NotEqual(t, g, groups[0], "%v; %s", said, c.Why)
			}
			if c.Cylinders != nil {
				at := slices.IndexFunc(o.Causes, func(x opinion.Cause) bool { return x.Group == groups[0] })
				require.GreaterOrEqual(t, at, 0)
				assert.Equal(t, c.Cylinders, o.Causes[at].Cylinders, "%v; %s", said, c.Why)
			}
			if c.Tells != nil {
				assert.Equal(t, *c.Tells, o.Tells, "%v; %s", said, c.Why)
			}
		})
	}
}
