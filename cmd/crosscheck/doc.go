//go:build !js

// Crosscheck solves the same engine problems with the simulation, with SciPy's
// solve_ivp and with SUNDIALS CVODE, and prints how far they agree and how long
// each of them takes:
//
//	crosscheck            everything, live; needs python3-scipy, libsundials-dev, gcc
//	crosscheck -write     problems.json anew from sim.Params, and SciPy's curves
//	crosscheck NAME...    these problems alone
//
// It is run from the root of the repository. First comes one JSON line per
// problem, then a table of work against precision. What the peers solve is written
// down from the laws in testdata/crosscheck, apart from the Go code; the README
// there says how.
package main
