// Package wire fixes the layout of the snapshot that the core writes and the
// page and the drawing read: one flat array of float64, first a head of 32
// slots for the whole engine, then 8 slots per cylinder. It holds no code that
// knows JavaScript, so both sides and the tests share it.
package wire

import "math"

// Version is what slot 0 carries; a reader that finds another one must not draw.
const Version = 1

// Slots of the head. Pressures are in Pa, angles in rad, speeds in rad/s
// unless the name says otherwise.
const (
	SlotVersion    = 0
	SlotTick       = 1  // ticks of cranking (1/1200 s)
	SlotCrankAngle = 2  // [0, 4π), 0 is compression TDC of cylinder 1
	SlotSpeed      = 3  // rad/s, signed
	SlotStarter    = 4  // 0 off, 1 on
	SlotCurrent    = 5  // starter cable, A; NaN when no clamp shows it
	SlotVolts      = 6  // what the voltmeter shows, V; NaN when it is off
	SlotRPM        = 7  // what the tachometer shows; NaN when it is off
	SlotThrottle   = 8  // 0 shut, 1 wide open
	SlotNeedle     = 9  // where the needle points, Pa gauge, unrounded
	SlotGauged     = 10 // cylinder with the hose, 0 none
	SlotMinutes    = 11 // bench minutes
	SlotRelease    = 12 // 0 or 1
	SlotCylinders  = 13
	SlotFullScale  = 14 // of the gauge, Pa
	SlotSection    = 15 // 1 when the section view is allowed
	SlotSelected   = 16 // cylinder in the section view, 0 none
	SlotHiss       = 17 // flow out of all open plug holes, kg/s
	// Flows out of the selected cylinder, kg/s; 0 where the section is not allowed.
	SlotLeakRings   = 18
	SlotLeakIntake  = 19
	SlotLeakExhaust = 20
	SlotLeakGasket  = 21
	// Tools of the confirming tests.
	SlotTester  = 22 // cylinder with the leakage tester, 0 none
	SlotSupply  = 23 // air at it, Pa gauge; 0 shut off
	SlotHeld    = 24 // what it shows the cylinder holds, Pa gauge
	SlotVacuum  = 25 // where the vacuum gauge points, Pa below ambient; NaN when it is off
	SlotClamp   = 26 // 1 with the meter round the starter cable
	SlotWrench  = 27 // 1 with a wrench on the crank bolt
	SlotRunning = 28 // 1 while the engine runs by itself
	SlotNeck    = 29 // 1 while the coolant neck is watched
	SlotBubbles = 30 // what rises there, kg/s
	Head        = 32 // slot 31 is reserved and 0
)

// Slots of one cylinder, counted from Head + Stride·(cylinder − 1).
const (
	SlotTravel      = 0 // 0 at TDC, 1 at BDC
	SlotIntakeLift  = 1 // m
	SlotExhaustLift = 2 // m
	SlotPressure    = 3 // Pa absolute; NaN where the section is not allowed
	SlotPlug        = 4 // PlugIn, PlugOut, PlugGauge, PlugTester
	SlotAngle       = 5 // rad after this cylinder's compression TDC
	SlotOil         = 6 // oil on the piston, ml
	SlotBank        = 7 // from 1
	Stride          = 8
)

// Values of SlotPlug.
const (
	PlugIn     = 0
	PlugOut    = 1
	PlugGauge  = 2
	PlugTester = 3
)

// TicksPerSecond is the rate of the ticks in SlotTick.
const TicksPerSecond = 1200

// MaxCylinders bounds a snapshot; Size(MaxCylinders) slots are always enough.
const MaxCylinders = 16

// Size returns the number of slots of a snapshot of n cylinders.
func Size(n int) int { return Head + Stride*n }

// At returns the index of a slot of one cylinder, counted from 1.
func At(cylinder, slot int) int { return Head + Stride*(cylinder-1) + slot }

// A View reads a snapshot by name. The zero View answers 0 everywhere.
type View []float64

// Valid reports whether v is a whole snapshot of this version.
func (v View) Valid() bool {
	return len(v) >= Head && v[SlotVersion] == Version && len(v) >= Size(v.Cylinders())
}

// Cylinders returns the number of cylinders, 0 when v is too short or the slot
// holds no number in 1..MaxCylinders.
func (v View) Cylinders() int {
	n := v.Get(SlotCylinders)
	if !(n >= 1 && n <= MaxCylinders) {
		return 0
	}
	return int(n)
}

// Get returns a slot of the head, 0 when v is too short.
func (v View) Get(slot int) float64 {
	if slot < 0 || slot >= len(v) {
		return 0
	}
	return v[slot]
}

// Cyl returns a slot of one cylinder, 0 when v is too short.
func (v View) Cyl(cylinder, slot int) float64 { return v.Get(At(cylinder, slot)) }

// Shown returns a slot that an instrument may leave empty, and whether it shows
// anything.
func (v View) Shown(slot int) (float64, bool) {
	x := v.Get(slot)
	return x, !math.IsNaN(x)
}
