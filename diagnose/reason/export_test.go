package reason

import "crankbay/diagnose/library"

// Weights returns how often examples of a family of cylinders are met that read such shares
// of their healthy neighbours.
func Weights(family string, shares ...float64) []float64 {
	k := kind{Family: Family{Name: family, Scope: ScopeCylinder}}
	for _, s := range shares {
		row := make([]float64, 64)
		row[library.Dry] = s
		k.rows = append(k.rows, row)
	}
	return weightsOf(&k, true)
}
