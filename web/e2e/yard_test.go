//go:build !js

package e2e

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// The list can be narrowed by what a job trains and by how hard it is. Whoever works
// for the grade isn't told what a job trains, and can't ask.
func TestYardIsFiltered(t *testing.T) {
	t.Parallel()
	p := open(t, look{noWebGL: true}, "lang=en")
	jobs := `document.querySelectorAll('.yard-jobs .job').length`
	all := eval[float64](p, jobs)
	assert.Greater(t, all, 40.0)
	choose := func(name, value string) { mouse{p}.choose(`select[name="filter-`+name+`"]`, value) }
	choose("trains", "leakage")
	some := eval[float64](p, jobs)
	assert.Less(t, some, all)
	assert.Positive(t, some)
	assert.Equal(t, some, eval[float64](p, `[...document.querySelectorAll('.yard-jobs .job')].filter((j) => j.textContent.includes('leakage test')).length`))
	choose("level", "1")
	few := eval[float64](p, jobs)
	assert.Less(t, few, some)
	assert.Contains(t, p.text(`[data-out="filtered"]`), " engines")
	mouse{p}.press(`input[name="mode"][value="grade"]`)
	assert.True(t, eval[bool](p, `document.querySelector('[name="filter-trains"]') === null`))
	assert.Greater(t, eval[float64](p, jobs), few, "what it trains no longer chooses")
	mouse{p}.press(`input[name="mode"][value="alone"]`)
	choose("trains", "no_start")
	choose("level", "3")
	assert.Contains(t, p.text(`[data-out="filtered"]`), "No engine here is like that")
	quiet(t, p)
}
