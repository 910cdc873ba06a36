package diagnose

import "crankbay/sim/unit"

// Seen is what the record shows of one cylinder: the readings a person could
// take from the dial, never the gas behind them.
type Seen struct {
	Cylinder   int        `json:"cylinder"`
	Valid      bool       `json:"valid"`     // a dry reading was taken; could not read is not zero
	WetValid   bool       `json:"wet_valid"` // a wet reading was taken
	DryFirst   unit.Gauge `json:"dry_first_pa"`
	DryLast    unit.Gauge `json:"dry_last_pa"`
	WetFirst   unit.Gauge `json:"wet_first_pa"`
	WetLast    unit.Gauge `json:"wet_last_pa"`
	Strokes    int        `json:"strokes"`
	WetStrokes int        `json:"wet_strokes"`
	OilML      float64    `json:"oil_ml"`
	Repeats    int        `json:"repeats"`     // dry tests of this cylinder beyond the first
	WetGain    float64    `json:"wet_gain"`    // (wet − dry)/dry, 0 when not known
	Faults     []string   `json:"faults"`      // method faults of the deciding dry test
	dryRun     int        // index of the deciding dry run, -1 none
	wetRun     int        // index of the deciding wet run, -1 none
	spread     float64    // largest relative difference of its faultless repeats
}

// clean returns v, or 0 where v is not a finite number: nothing unreadable ever
// reaches a result.
func clean(v float64) float64 {
	if v-v != 0 {
		return 0
	}
	return v
}
