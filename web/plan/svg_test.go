package plan_test

import (
	"bytes"
	"encoding/xml"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/web/plan"
)

func TestSVGIsWholeAndSaysTheSame(t *testing.T) {
	s := spec(t, engines["V6"], "")
	p := plan.New(s, 820, 560)
	p.Update(encode(snapshot(6, 2, true)), plan.Phase{})
	var out bytes.Buffer
	require.NoError(t, plan.SVG(&out, 820, 560, &plan.Light, &p.Still, &p.Moving, &p.Over))
	n := 0
	for d := xml.NewDecoder(&out); ; {
		tok, err := d.Token()
		if tok == nil {
			break
		}
		require.NoError(t, err)
		if e, ok := tok.(xml.StartElement); ok && (e.Name.Local == "path" || e.Name.Local == "circle") {
			n++
		}
	}
	assert.Equal(t, len(p.Still.Shapes)+len(p.Moving.Shapes)+len(p.Over.Shapes), n)
}
