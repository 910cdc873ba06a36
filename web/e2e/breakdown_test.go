//go:build !js

package e2e

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// breaks makes the next call of the core fail as a crashed program does.
const breaks = `(crankbay.act = () => { throw new Error('broken on purpose'); }, true)`

// A core that breaks down is rebuilt from the last saved moment, and the student
// is told. If even that breaks, the page goes back to the Yard and works there.
func TestBreakdownOfTheCore(t *testing.T) {
	t.Parallel()
	p := open(t, look{noWebGL: true}, "")
	w := studentAt(t, p, mouse{p})
	w.begin("grade")
	w.act("glasses")
	w.act("brake")
	before := p.facts()

	eval[bool](p, breaks)
	w.act("chocks")
	p.waitFor(`document.body.innerText.includes('broke')`, "the student to be told")
	assert.Equal(t, before, p.facts(), "the last saved moment")
	w.act("chocks")
	assert.Equal(t, true, eval[bool](p, `JSON.parse(crankbay.view()).state.chocks`), "work goes on")

	// Now the fresh core can't take the attempt up either.
	eval[bool](p, `(() => {
		const run = Go.prototype.run;
		Go.prototype.run = function (instance) {
			const done = run.call(this, instance);
			crankbay.resume = () => { throw new Error('broken for good'); };
			return done;
		};
		return `+breaks+`;
	})()`)
	w.act("chocks")
	p.waitFor(`!!document.querySelector('main.yard [data-act="open"]')`, "the Yard")
	p.waitFor(`document.body.innerText.includes('broke down')`, "a word about it")
	w.begin("alone")
	w.act("glasses")
	assert.Equal(t, "alone", eval[string](p, `JSON.parse(crankbay.view()).mode`), "another job can be opened")
}
