//go:build !js

package e2e

import (
	"encoding/json"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A page that is reloaded in the middle, with the starter held, takes the
// attempt up where it was: nothing written is lost, and the starter is off.
func TestReloadResumes(t *testing.T) {
	t.Parallel()
	p := open(t, look{}, "")
	w := studentAt(t, p, mouse{p})
	w.begin("grade")
	w.prepare()
	w.test(1, "dry")
	w.onCylinder("hose-on", "plug", 2)
	w.act("stroke")
	w.act("stroke")
	before := p.facts()
	require.True(t, before.Starter)

	p.do("reload", chromedp.Reload())
	p.waitFor(`!!document.querySelector('[data-act="resume"]')`, "the unfinished attempt in the Yard")
	w.act("resume")
	p.waitFor(`!!document.querySelector('main.bay')`, "the Bay")
	w.rest()
	after := p.facts()
	assert.False(t, after.Starter, "the starter is off")
	assert.Equal(t, before.Sheet, after.Sheet)
	assert.Equal(t, before.Plugs, after.Plugs)
	assert.Equal(t, before.Page, after.Page)
	assert.Equal(t, before.HoseOn, after.HoseOn)
	assert.InDelta(t, before.Minutes, after.Minutes, 0.2)
	assert.Equal(t, "Browser test", after.Who)
	assert.Equal(t, "197.5", eval[string](p, `document.querySelector('`+css("field", "dry_last", "cylinder", 1)+`').value`))
	assert.Positive(t, p.snapshot().Needle, "the gauge holds what it held")
	quiet(t, p)
}

// facts are the parts of a view that a reload must not change.
type facts struct {
	Starter bool
	HoseOn  int
	Page    string
	Plugs   json.RawMessage
	Sheet   json.RawMessage
	Minutes float64
	Who     string
}

func (p *page) facts() facts {
	p.t.Helper()
	var v struct {
		Who   string          `json:"who"`
		Sheet json.RawMessage `json:"sheet"`
		State struct {
			Starter bool            `json:"starter"`
			HoseOn  int             `json:"hose_on"`
			Page    string          `json:"page"`
			Plugs   json.RawMessage `json:"plugs"`
			Minutes float64         `json:"minutes"`
		} `json:"state"`
	}
	p.core(`view()`, &v)
	s := v.State
	return facts{s.Starter, s.HoseOn, s.Page, s.Plugs, v.Sheet, s.Minutes, v.Who}
}
