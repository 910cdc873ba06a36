package reason

import "crankbay/diagnose/library"

// A Speaks is a reading that speaks for an explanation or against it.
type Speaks struct {
	Reading  string  `json:"reading"`  // one of Readings
	Cylinder int     `json:"cylinder"` // 0 for the whole engine
	Value    float64 `json:"value"`    // in the unit of the evidence; 0 where it is no number
	Bits     float64 `json:"bits"`     // by how much it raised (or lowered) the odds [bits]
}

// speak is filled in below.
func (o *Opinion) speak(*library.Library, Evidence, Priors) {}
