package library

import "math"

// A Feature is one number of an example. The file stores it in 65,535 steps between
// Low and High.
type Feature struct {
	Name      string
	Low, High float64
}

// What is stored of one cylinder, in this order. "Healthy" is the mean of the healthy
// cylinders of the same engine, in the same test.
const (
	Dry       = iota // dry reading ÷ healthy
	First            // first ÷ last stroke, less healthy
	Wet              // reading with oil ÷ healthy with the same oil
	Leakage          // leakage less healthy [share of the supply]
	Throttle         // share of the air that goes to the intake
	Tailpipe         // to the exhaust
	Filler           // to the crankcase
	Neighbour        // to the cylinder beside it
	Neck             // into the coolant
	Edge             // along the gasket
	Hump             // height of the current hump ÷ healthy
	Idle             // running, at idle ÷ healthy
	Snap             // running, snapped ÷ healthy
	LashIn           // intake clearance less specification [mm]
	LashEx           // exhaust clearance less specification [mm]
	Bore             // what a borescope finds, one of the Bore codes
	Cooling          // 1 when a cooling-system test falls
	Pull             // work of the cylinder when running ÷ healthy
	roleFeatures
)

// What is stored of a whole engine. "Design" is the sound engine of the same design
// at sea level, tested by the book.
const (
	Level       = iota // natural logarithm of the healthy dry reading ÷ design
	FirstShare         // first ÷ last stroke
	Gain               // wet ÷ dry, less 1
	Loss               // leakage [share of the supply]
	IdleShare          // running, at idle ÷ dry
	SnapShare          // running, snapped ÷ dry
	Vacuum             // cranking vacuum ÷ ambient pressure
	Speed              // cranking speed ÷ design
	Volts              // lowest battery voltage while cranking [V]
	Ambient            // pressure of the day ÷ standard atmosphere
	Late               // cam timing, late positive [degrees of crank]
	Second             // reading of a second gauge ÷ that of the first
	Uneven             // standard deviation of the dry readings ÷ their mean
	UnevenWet          // standard deviation of the wet readings ÷ their mean, beside what follows from the dry ones
	WetFollows         // how far a wet reading follows its dry one: the slope, each beside its mean
	UnevenLoss         // standard deviation of the leakage
	UnevenFirst        // standard deviation of first ÷ last stroke
	AllThrottle        // share of the air to the intake, as above, of the mean cylinder
	AllTailpipe        // to the exhaust
	AllFiller          // to the crankcase
	AllLashIn          // intake clearance less specification [mm]
	AllLashEx          // exhaust clearance less specification [mm]
	AllBore            // what a borescope finds in most cylinders
	engineFeatures
)

// What a borescope finds.
const (
	BoreClean  = 0
	BoreHole   = 1
	BoreScored = 2
	BoreLiquid = 3
	BoreCarbon = 4
)

var roleTable = [roleFeatures]Feature{
	{"dry", 0, 2}, {"first", -1, 1}, {"wet", 0, 2.5}, {"leakage", -0.5, 1},
	{"throttle", 0, 1}, {"tailpipe", 0, 1}, {"filler", 0, 1}, {"neighbour", 0, 1}, {"neck", 0, 1}, {"edge", 0, 1},
	{"hump", -1, 3}, {"idle", 0, 6}, {"snap", 0, 3}, {"lash_in", -2, 5}, {"lash_ex", -2, 5},
	{"bore", 0, 4}, {"cooling", 0, 1}, {"pull", 0, 2},
}

var engineTable = [engineFeatures]Feature{
	{"level", -4, 1}, {"first_share", 0, 1.2}, {"gain", -0.5, 4}, {"loss", 0, 1}, {"idle_share", 0, 3}, {"snap_share", 0, 3},
	{"vacuum", -0.1, 1}, {"speed", 0, 2}, {"volts", 0, 16}, {"ambient", 0.4, 1.2}, {"late", -120, 120}, {"second", 0, 8},
	{"uneven", 0, 1}, {"uneven_wet", 0, 1}, {"wet_follows", -1, 3}, {"uneven_loss", 0, 1}, {"uneven_first", 0, 1}, {"all_throttle", 0, 1}, {"all_tailpipe", 0, 1}, {"all_filler", 0, 1}, {"all_lash_in", -2, 5}, {"all_lash_ex", -2, 5},
	{"all_bore", 0, 4},
}

// RoleFeatures lists what is stored of one cylinder.
func RoleFeatures() []Feature { return append([]Feature(nil), roleTable[:]...) }

// EngineFeatures lists what is stored of a whole engine.
func EngineFeatures() []Feature { return append([]Feature(nil), engineTable[:]...) }

// Scope says what the examples of a family are about.
type Scope uint8

// The scopes.
const (
	OfCylinder Scope = iota // one cylinder
	OfPair                  // two neighbours in one bank, the worse first
	OfBank                  // all cylinders of one bank, alike
	OfEngine                // the whole engine
)

// Width returns how many numbers an example of the scope has.
func (s Scope) Width() int {
	switch s {
	case OfPair:
		return 2 * int(roleFeatures)
	case OfEngine:
		return int(engineFeatures)
	}
	return int(roleFeatures)
}

// table returns the features of an example of the scope.
func (s Scope) table() []Feature {
	switch s {
	case OfPair:
		return append(append([]Feature(nil), roleTable[:]...), roleTable[:]...)
	case OfEngine:
		return engineTable[:]
	}
	return roleTable[:]
}

// scale is a checksum of all features, by FNV-1a: a file whose numbers lie between other
// ends would be misread.
func scale() uint32 {
	h := uint32(2166136261)
	byteIn := func(b byte) { h = (h ^ uint32(b)) * 16777619 }
	for _, table := range [][]Feature{roleTable[:], engineTable[:]} {
		for _, f := range table {
			for _, c := range []byte(f.Name) {
				byteIn(c)
			}
			for _, v := range []float64{f.Low, f.High} {
				for b := math.Float64bits(v); b > 0; b >>= 8 {
					byteIn(byte(b))
				}
			}
			byteIn(0)
		}
		byteIn(1)
	}
	return h
}
