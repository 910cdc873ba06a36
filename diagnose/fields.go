package diagnose

// Fields that can be written on the job sheet, with their unit.
const (
	FieldSpecStandard   = "spec_standard"   // [Pa gauge]
	FieldSpecMinimum    = "spec_minimum"    // [Pa gauge]
	FieldSpecDifference = "spec_difference" // [Pa]
	FieldDryFirst       = "dry_first"       // [Pa gauge], per cylinder
	FieldDryLast        = "dry_last"        // [Pa gauge], per cylinder
	FieldWetFirst       = "wet_first"       // [Pa gauge], per cylinder
	FieldWetLast        = "wet_last"        // [Pa gauge], per cylinder
	FieldStrokes        = "strokes"         // count, per cylinder
	FieldWetStrokes     = "wet_strokes"     // count, per cylinder
	FieldRPM            = "rpm"             // [rpm]
	FieldBatteryV       = "battery_v"       // lowest seen [V]
	FieldCoolantC       = "coolant_c"       // [°C]
	FieldThrottle       = "throttle"        // 1 open, 0 shut
	FieldOilML          = "oil_ml"          // [ml], per cylinder

	FieldLeakage       = "leakage_percent" // read off the leakage tester [%], per cylinder
	FieldLeakageSupply = "leakage_supply"  // at the tester [Pa gauge]
	FieldHump          = "hump_percent"    // height of the current hump, of the mean of all [%], per cylinder
	FieldRunningIdle   = "running_idle"    // [Pa gauge], per cylinder
	FieldRunningSnap   = "running_snap"    // [Pa gauge], per cylinder
	FieldVacuum        = "vacuum"          // while cranking, below ambient [Pa]
	FieldLashIntake    = "lash_intake"     // [mm], per cylinder
	FieldLashExhaust   = "lash_exhaust"    // [mm], per cylinder
	FieldTiming        = "timing_deg"      // late, negative early [degrees of crank], per bank
	FieldCoolingDrop   = "cooling_drop"    // of the pumped-up cooling system [Pa per minute]
	FieldRefitLast     = "refit_last"      // dry, with a neighbour's plug refitted [Pa gauge], per cylinder
	FieldRepeatLast    = "repeat_last"     // dry, taken again [Pa gauge], per cylinder
	FieldSecondLast    = "second_last"     // dry, by a second gauge [Pa gauge], per cylinder

	FieldRatio  = "ratio_percent"    // the student's sum: lowest of highest [%]
	FieldSpread = "spread"           // the student's sum: highest less lowest [Pa]
	FieldGain   = "wet_gain_percent" // the student's sum: wet over dry [%], per cylinder
)

// What the number beside a field on the sheet names.
const (
	Whole  = iota // nothing: the field is about the whole engine, the number is 0
	Each          // a cylinder
	Either        // a cylinder, or 0 for all of them
	Bank          // a bank, or 0 for all of them
)

// A FieldSpec is what a field can hold.
type FieldSpec struct {
	Name      string
	Unit      string  // as facts name it
	Of        int     // Whole, Each, Either or Bank
	Low, High float64 // what a slip of the unit would leave; whether it was read is for the grader
}

// anything bounds a field that takes every number a log can hold.
const anything = 1e9

// fieldTable lists every field in the order of the sheet. A leakage tester's dial
// ends at 100 %, a shop's air at 10 bar; no feeler gauge is thicker than 5 mm.
func fieldTable() []FieldSpec {
	return []FieldSpec{
		{FieldSpecStandard, "Pa", Whole, -anything, anything},
		{FieldSpecMinimum, "Pa", Whole, -anything, anything},
		{FieldSpecDifference, "Pa", Whole, -anything, anything},
		{FieldDryFirst, "Pa", Each, -anything, anything},
		{FieldDryLast, "Pa", Each, -anything, anything},
		{FieldWetFirst, "Pa", Each, -anything, anything},
		{FieldWetLast, "Pa", Each, -anything, anything},
		{FieldStrokes, "", Either, -anything, anything},
		{FieldWetStrokes, "", Either, -anything, anything},
		{FieldRPM, "rpm", Either, -anything, anything},
		{FieldBatteryV, "V", Either, -anything, anything},
		{FieldCoolantC, "°C", Either, -anything, anything},
		{FieldThrottle, "", Either, 0, 1},
		{FieldOilML, "ml", Either, -anything, anything},
		{FieldLeakage, "%", Each, 0, 100},
		{FieldLeakageSupply, "Pa", Whole, 0, 2e6},
		{FieldHump, "%", Each, 0, 1000},
		{FieldRunningIdle, "Pa", Each, -1e5, 1e7},
		{FieldRunningSnap, "Pa", Each, -1e5, 1e7},
		{FieldVacuum, "Pa", Whole, -1e5, 1.1e5},
		{FieldLashIntake, "mm", Each, 0, 5},
		{FieldLashExhaust, "mm", Each, 0, 5},
		{FieldTiming, "°", Bank, -360, 360},
		{FieldCoolingDrop, "Pa/min", Whole, 0, 1e6},
		{FieldRefitLast, "Pa", Each, -1e5, 1e7},
		{FieldRepeatLast, "Pa", Each, -1e5, 1e7},
		{FieldSecondLast, "Pa", Each, -1e5, 1e7},
		{FieldRatio, "%", Whole, 0, 1000},
		{FieldSpread, "Pa", Whole, 0, 1e7},
		{FieldGain, "%", Each, -100, 1e5},
	}
}

// Fields lists every field a number can be written in.
func Fields() []string {
	var out []string
	for _, f := range fieldTable() {
		out = append(out, f.Name)
	}
	return out
}

// FieldOf returns what a field can hold; false for a name that is no field.
func FieldOf(name string) (FieldSpec, bool) {
	for _, f := range fieldTable() {
		if f.Name == name {
			return f, true
		}
	}
	return FieldSpec{}, false
}

// fieldUnit returns the unit of a field as facts name it.
func fieldUnit(field string) string {
	f, _ := FieldOf(field)
	return f.Unit
}
