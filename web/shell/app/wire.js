// Slots of the snapshot; the same layout as web/wire, held equal by a test.

export const VERSION = 1;
export const HEAD = 32;
export const STRIDE = 8;
export const MAX = HEAD + STRIDE * 16;

export const Slot = {
  Version: 0, Tick: 1, CrankAngle: 2, Speed: 3, Starter: 4, Current: 5, Volts: 6, RPM: 7, Throttle: 8,
  Needle: 9, Gauged: 10, Minutes: 11, Release: 12, Cylinders: 13, FullScale: 14, Section: 15,
  Selected: 16, Hiss: 17, LeakRings: 18, LeakIntake: 19, LeakExhaust: 20, LeakGasket: 21,
  Tester: 22, Supply: 23, Held: 24, Vacuum: 25, Clamp: 26, Wrench: 27, Running: 28, Neck: 29, Bubbles: 30,
};

export const Cyl = {
  Travel: 0, IntakeLift: 1, ExhaustLift: 2, Pressure: 3, Plug: 4, Angle: 5, Oil: 6, Bank: 7,
};

/** Index of a cylinder's slot; cylinders count from 1. */
export function at(cylinder, slot) {
  return HEAD + STRIDE * (cylinder - 1) + slot;
}
