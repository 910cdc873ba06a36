// Package sim computes a cranked gasoline engine: cylinders, valves, rings,
// gasket, manifold, battery, starter and the gas of a compression gauge.
//
// An Engine is built from Params and advanced by Step, one tick of 1/1200 s at a
// time. Everything anybody sees is a consequence of the equations beside the
// functions; a fault is a number in Params, never a branch.
//
// # Symbols and signs
//
// SI throughout, without suffixes. Pressures are absolute. Crank angles are in
// rad and grow in the direction of running; 0 is the compression TDC of the
// cylinder whose FiringAngle is 0, one cycle is [0, 4π). Mass and heat flows
// are positive into the volume they are booked to; work is positive when the
// gas pushes the piston.
//
// # Order within a tick
//
// A tick is cut into sub-steps of at most SubStep of crank travel. In each:
// cylinders in order, then plenum, hose and exhaust (to the middle of the sub-step
// to come), crank with starter. After the last:
// cylinders that are open to the air, in one step for the whole tick, then oil
// films and battery. Sums run in index order. Nothing else decides the bits.
//
// # Idealised, and where the ice is thin
//
// A combustion stroke is not modelled: running compression holds the speed that
// the other cylinders' combustion would hold (Inputs.Driven). Liquid that a crack
// lets into a cylinder is not modelled either, only gas that leaves by it.
//
// Gas is one well-mixed mass of dry air per volume with cp(T); flow is
// quasi-steady through every opening, without inertia or waves; walls have the
// coolant's temperature. Ring film, discharge at low lift, friction at 150 to 250
// rpm, ring leak area, tip-valve opening pressure, the armature's inertia and
// inductance and wall heat at cranking speed have no primary figure: they are
// parameters with a stated origin.
package sim
