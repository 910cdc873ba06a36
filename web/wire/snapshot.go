package wire

import (
	"fmt"
	"math"
)

// A Snapshot is what one moment of the bench looks like to a reader, as a plain
// struct: units as at the slots. Encode and Decode carry it through the flat
// array; a NaN in an instrument's field means that it shows nothing.
type Snapshot struct {
	Tick       int64
	CrankAngle float64
	Speed      float64
	Starter    bool
	Current    float64 // NaN when no clamp shows it
	Volts      float64 // NaN when the voltmeter is off
	RPM        float64 // NaN when the tachometer is off
	Throttle   float64
	Needle     float64
	Gauged     int
	Minutes    float64
	Release    bool
	FullScale  float64
	Section    bool
	Selected   int
	Hiss       float64
	Leaks      Leaks
	Tests      Tests
	Cylinders  []Cylinder // index 0 is cylinder 1
}

// Leaks are the flows out of the selected cylinder, kg/s, 0 where the section
// view is not allowed.
type Leaks struct{ Rings, Intake, Exhaust, Gasket float64 }

// Tests is where the tools of the confirming tests stand and what they show.
type Tests struct {
	Tester  int     // cylinder, 0 none
	Supply  float64 // Pa gauge
	Held    float64 // Pa gauge
	Vacuum  float64 // Pa below ambient, NaN when the gauge is off
	Clamp   bool
	Wrench  bool
	Running bool
	Neck    bool
	Bubbles float64 // kg/s
}

// A Cylinder is one cylinder of a Snapshot.
type Cylinder struct {
	Travel      float64
	IntakeLift  float64
	ExhaustLift float64
	Pressure    float64 // NaN where the section view is not allowed
	Plug        int
	Angle       float64
	Oil         float64
	Bank        int
}

// Encode writes s into dst and returns the number of slots used,
// Size(len(s.Cylinders)). It returns 0 and writes nothing when dst is shorter
// or there are no cylinders or more than MaxCylinders. It allocates nothing.
func (s *Snapshot) Encode(dst []float64) int {
	n := len(s.Cylinders)
	if n < 1 || n > MaxCylinders || len(dst) < Size(n) {
		return 0
	}
	s.head(dst)
	for i, c := range s.Cylinders {
		at := dst[At(i+1, 0):At(i+2, 0)]
		at[SlotTravel] = c.Travel
		at[SlotIntakeLift] = c.IntakeLift
		at[SlotExhaustLift] = c.ExhaustLift
		at[SlotPressure] = c.Pressure
		at[SlotPlug] = float64(c.Plug)
		at[SlotAngle] = c.Angle
		at[SlotOil] = c.Oil
		at[SlotBank] = float64(c.Bank)
	}
	return Size(n)
}

func (s *Snapshot) head(dst []float64) {
	clear(dst[:Head])
	dst[SlotVersion] = Version
	dst[SlotTick] = float64(s.Tick)
	dst[SlotCrankAngle] = s.CrankAngle
	dst[SlotSpeed] = s.Speed
	dst[SlotStarter] = bit(s.Starter)
	dst[SlotCurrent] = s.Current
	dst[SlotVolts] = s.Volts
	dst[SlotRPM] = s.RPM
	dst[SlotThrottle] = s.Throttle
	dst[SlotNeedle] = s.Needle
	dst[SlotGauged] = float64(s.Gauged)
	dst[SlotMinutes] = s.Minutes
	dst[SlotRelease] = bit(s.Release)
	dst[SlotCylinders] = float64(len(s.Cylinders))
	dst[SlotFullScale] = s.FullScale
	dst[SlotSection] = bit(s.Section)
	dst[SlotSelected] = float64(s.Selected)
	dst[SlotHiss] = s.Hiss
	dst[SlotLeakRings] = s.Leaks.Rings
	dst[SlotLeakIntake] = s.Leaks.Intake
	dst[SlotLeakExhaust] = s.Leaks.Exhaust
	dst[SlotLeakGasket] = s.Leaks.Gasket
	s.Tests.encode(dst)
}

func (t *Tests) encode(dst []float64) {
	dst[SlotTester] = float64(t.Tester)
	dst[SlotSupply] = t.Supply
	dst[SlotHeld] = t.Held
	dst[SlotVacuum] = t.Vacuum
	dst[SlotClamp] = bit(t.Clamp)
	dst[SlotWrench] = bit(t.Wrench)
	dst[SlotRunning] = bit(t.Running)
	dst[SlotNeck] = bit(t.Neck)
	dst[SlotBubbles] = t.Bubbles
}

// Decode reads a snapshot. It reports a wrong version, an impossible number of
// cylinders, an array that is too short, and a whole-number slot that holds
// something else.
func Decode(src []float64) (Snapshot, error) {
	v := View(src)
	if len(src) < Head {
		return Snapshot{}, fmt.Errorf("wire: %d slots, want at least %d", len(src), Head)
	}
	if src[SlotVersion] != Version {
		return Snapshot{}, fmt.Errorf("wire: slot 0 = %v, want version %d", src[SlotVersion], Version)
	}
	n := v.Cylinders()
	if n == 0 || len(src) < Size(n) {
		return Snapshot{}, fmt.Errorf("wire: %v cylinders in %d slots", src[SlotCylinders], len(src))
	}
	for _, slot := range []int{SlotTick, SlotGauged, SlotSelected, SlotTester} {
		if !whole(src[slot]) {
			return Snapshot{}, fmt.Errorf("wire: slot %d = %v, want a whole number", slot, src[slot])
		}
	}
	s := v.decodeHead()
	s.Cylinders = make([]Cylinder, n)
	for i := range s.Cylinders {
		plug, bank := v.Cyl(i+1, SlotPlug), v.Cyl(i+1, SlotBank)
		if !whole(plug) || !whole(bank) {
			return Snapshot{}, fmt.Errorf("wire: cylinder %d: plug %v, bank %v, want whole numbers", i+1, plug, bank)
		}
		s.Cylinders[i] = Cylinder{
			Travel: v.Cyl(i+1, SlotTravel), IntakeLift: v.Cyl(i+1, SlotIntakeLift), ExhaustLift: v.Cyl(i+1, SlotExhaustLift),
			Pressure: v.Cyl(i+1, SlotPressure), Plug: int(plug), Angle: v.Cyl(i+1, SlotAngle), Oil: v.Cyl(i+1, SlotOil), Bank: int(bank),
		}
	}
	return s, nil
}

func (v View) decodeHead() Snapshot {
	return Snapshot{
		Tick:       int64(v[SlotTick]),
		CrankAngle: v[SlotCrankAngle],
		Speed:      v[SlotSpeed],
		Starter:    v[SlotStarter] != 0,
		Current:    v[SlotCurrent],
		Volts:      v[SlotVolts],
		RPM:        v[SlotRPM],
		Throttle:   v[SlotThrottle],
		Needle:     v[SlotNeedle],
		Gauged:     int(v[SlotGauged]),
		Minutes:    v[SlotMinutes],
		Release:    v[SlotRelease] != 0,
		FullScale:  v[SlotFullScale],
		Section:    v[SlotSection] != 0,
		Selected:   int(v[SlotSelected]),
		Hiss:       v[SlotHiss],
		Leaks:      Leaks{v[SlotLeakRings], v[SlotLeakIntake], v[SlotLeakExhaust], v[SlotLeakGasket]},
		Tests: Tests{
			Tester: int(v[SlotTester]), Supply: v[SlotSupply], Held: v[SlotHeld], Vacuum: v[SlotVacuum], Clamp: v[SlotClamp] != 0,
			Wrench: v[SlotWrench] != 0, Running: v[SlotRunning] != 0, Neck: v[SlotNeck] != 0, Bubbles: v[SlotBubbles],
		},
	}
}

// whole reports whether x is an integer that a float64 and an int64 both hold.
func whole(x float64) bool { return x == math.Trunc(x) && math.Abs(x) < 1<<53 }

func bit(b bool) float64 {
	if b {
		return 1
	}
	return 0
}
