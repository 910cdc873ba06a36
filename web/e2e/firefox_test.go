//go:build !js

package e2e

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// The whole assessed test with the keyboard alone in another browser, without
// WebGL there: the same grade comes from the command line.
func TestWholeWithKeyboardInFirefox(t *testing.T) {
	t.Parallel()
	p := openFox(t, "lang=en")
	w := studentAt(t, p, keyboard{p})
	keysOnly := p.keysOnly()
	w.begin("grade")
	wholeTest(t, w)
	keysOnly()
	assert.Empty(t, p.fox.complaints(), "the console")
}
