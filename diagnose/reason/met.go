package reason

// Met returns how often a family is met, when somebody comes to measure it, at readings of
// each of the bands that [BandOf] names; ok is false where all are as good as any other.
func Met(family string) (shares []float64, ok bool) {
	s, ok := severityOf(family)
	return s[:], ok
}

// BandOf returns the band of Met that a reading lies in, as a share of its healthy
// neighbours', or of its design's.
func BandOf(share float64) int {
	b := 0
	for b < len(bandEdges) && share >= bandEdges[b] {
		b++
	}
	return b
}
