package reason

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
)

const mostPriorBytes = 64 << 10

// ReadPriors reads priors that somebody wrote down:
//
//	{"list": [{"family": "gasket_between", "one": 20, "several": 0}, …]}
//
// Families that are not named keep their default. The error is one sentence with the
// place in the list; whose file it is says the caller.
func ReadPriors(data []byte) (Priors, error) {
	var p Priors
	if len(data) > mostPriorBytes {
		return p, fmt.Errorf("longer than %d bytes", mostPriorBytes)
	}
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	if err := d.Decode(&p); err != nil {
		return Priors{}, err
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return Priors{}, errors.New("something stands after the list")
	}
	for i, q := range p.List {
		known := false
		for _, f := range Families() {
			known = known || f.Name == q.Family
		}
		switch {
		case !known:
			return Priors{}, fmt.Errorf("list[%d].family = %.40q, which is no family", i, q.Family)
		case !(q.One >= 0 && q.One <= mostPrior && q.Several >= 0 && q.Several <= mostPrior):
			return Priors{}, fmt.Errorf("list[%d] has %g and %g, want inside [0, %g]", i, q.One, q.Several, mostPrior)
		}
		for k := range i {
			if p.List[k].Family == q.Family {
				return Priors{}, fmt.Errorf("list[%d].family = %q stands there twice", i, q.Family)
			}
		}
	}
	return p, nil
}

// mostPrior bounds a prior; only their proportions count.
const mostPrior = 1e6
