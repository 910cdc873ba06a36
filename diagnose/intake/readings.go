package intake

// MaxBytes is the longest text that is read [bytes]; no job sheet comes near it.
const MaxBytes = 1 << 20

// MaxCylinders is the highest number of cylinders.
const MaxCylinders = 16

// Readings are what was understood. A nil pointer is a value that nobody gave,
// which is not zero. Pressures are gauge pressures in Pa.
type Readings struct {
	Cylinders []Cylinder `json:"cylinders"` // one per cylinder of the engine, in order
	Engine    Engine     `json:"engine"`
	Unit      string     `json:"unit"`         // of the pressures that carry none of their own, one of Units; empty: there are none
	Guessed   bool       `json:"unit_guessed"` // the unit was guessed from how high the readings are
	Notes     []Note     `json:"notes"`        // what was guessed or decided, in order
}

// A Cylinder is what was written down about one cylinder.
type Cylinder struct {
	Number   int       `json:"cylinder"`
	Bank     int       `json:"bank,omitempty"` // from 1; 0: not said
	Dry      *float64  `json:"dry_pa,omitempty"`
	First    *float64  `json:"first_pa,omitempty"`   // after the first full stroke of the dry test
	Strokes  []float64 `json:"strokes_pa,omitempty"` // after each stroke of the dry test, as far as they were written
	Wet      *float64  `json:"wet_pa,omitempty"`
	WetFirst *float64  `json:"wet_first_pa,omitempty"`
	Count    *float64  `json:"strokes,omitempty"` // full strokes of the dry test
	Repeats  []float64 `json:"repeats_pa,omitempty"`
	Second   *float64  `json:"second_pa,omitempty"` // dry, by a second gauge
	Refit    *float64  `json:"refit_pa,omitempty"`  // dry, with a neighbour's plug back in
	Leakage  *float64  `json:"leakage_percent,omitempty"`
	Heard    []string  `json:"heard,omitempty"` // where the air was heard, one of the places of diagnose
	Hump     *float64  `json:"hump_percent,omitempty"`
	Idle     *float64  `json:"idle_pa,omitempty"` // running compression
	Snap     *float64  `json:"snap_pa,omitempty"`
	LashIn   *float64  `json:"lash_intake_mm,omitempty"`
	LashEx   *float64  `json:"lash_exhaust_mm,omitempty"`
	SpeedRPM *float64  `json:"rpm,omitempty"`
	BatteryV *float64  `json:"volts,omitempty"`
	Bore     string    `json:"bore,omitempty"` // clean, hole, scored, liquid or carbon, by borescope
	Dead     string    `json:"dead,omitempty"` // yes: it doesn't pull its share when the engine runs
}

// An Engine is what was said about the whole of it.
type Engine struct {
	Layout      string   `json:"layout,omitempty"` // inline, v, flat; empty: not said
	FiringOrder []int    `json:"firing_order,omitempty"`
	Ratio       *float64 `json:"ratio,omitempty"`
	AltitudeM   *float64 `json:"altitude_m,omitempty"`
	Standard    *float64 `json:"standard_pa,omitempty"`
	Minimum     *float64 `json:"minimum_pa,omitempty"`
	Difference  *float64 `json:"difference_pa,omitempty"`
	SpeedRPM    *float64 `json:"rpm,omitempty"`
	BatteryV    *float64 `json:"volts,omitempty"`
	CoolantC    *float64 `json:"coolant_c,omitempty"`
	OilML       *float64 `json:"oil_ml,omitempty"`
	Vacuum      *float64 `json:"vacuum_pa,omitempty"` // below ambient
	LashInSpec  *float64 `json:"lash_intake_spec_mm,omitempty"`
	LashExSpec  *float64 `json:"lash_exhaust_spec_mm,omitempty"`
	TimingDeg   *float64 `json:"timing_deg,omitempty"` // late, negative early
	Throttle    string   `json:"throttle,omitempty"`   // each: yes as it should be, no, or empty: not known
	Warm        string   `json:"warm,omitempty"`
	Plugs       string   `json:"plugs,omitempty"`
	Equal       string   `json:"equal_strokes,omitempty"`
	Cooling     string   `json:"cooling,omitempty"` // yes: the pumped-up cooling system falls
	TwoStroke   string   `json:"two_stroke,omitempty"`
	History     []string `json:"history,omitempty"`
}

// A Note tells what was guessed or decided and why. Line is 0 where it is about
// the whole.
type Note struct {
	Key   string  `json:"key"`
	Line  int     `json:"line,omitempty"`
	Text  string  `json:"text,omitempty"`  // what it is about, as written
	Unit  string  `json:"unit,omitempty"`  // one of Units
	Value float64 `json:"value,omitempty"` // a number it rests on
}

// Keys of notes.
const (
	NoteUnitGuessed  = "unit_guessed"  // Unit, from the highest reading Value
	NoteUnitMeant    = "unit_meant"    // Text, as written, was taken for Unit
	NoteDecimalComma = "decimal_comma" // commas were read as decimal commas
	NoteCommasPart   = "commas_part"   // commas were read as parting readings
	NoteThousands    = "thousands"     // a mark before three digits was read as thousands
	NoteInOrder      = "in_order"      // no cylinder was named: numbered 1 to Value as they stand
	NotePairs        = "pairs"         // each first number was read as a cylinder's
	NoteAsDry        = "as_dry"        // readings without a name were read as dry, last stroke
	NoteMiddle       = "middle"        // a range, Text: its middle was taken
	NoteAbout        = "about"         // Text says it is not exact; the number was taken
	NoteRepeats      = "repeats"       // several numbers in one cell were read as repeats
	NoteNotUsed      = "not_used"      // Text can't be used and was left out
	NoteBanksGuessed = "banks_guessed" // odd numbers one bank, even ones the other
	NoteCharacters   = "characters"    // the text wasn't UTF-8 and was read as Latin-1
)

// Notes lists every key of a note.
func Notes() []string {
	return []string{
		NoteUnitGuessed, NoteUnitMeant, NoteDecimalComma, NoteCommasPart, NoteThousands, NoteInOrder, NotePairs, NoteAsDry,
		NoteMiddle, NoteAbout, NoteRepeats, NoteNotUsed, NoteBanksGuessed, NoteCharacters,
	}
}

// An Answer to whether a condition was as it should be.
const (
	Yes     = "yes"
	No      = "no"
	Unknown = ""
)

// A Said is one thing said beside the text: a flag of a command line, a field of a
// form. Names and values are those of `name: value` lines.
type Said struct {
	Name, Value string
	As          string // what whoever said it calls the name, for errors; empty: Name
}
