// Package library holds what simulated engines with known faults read: the
// likelihoods behind every explanation that package reason gives.
//
// A library is a list of families. A family is one way an engine can be, and its
// examples are what simulated engines of that kind read, normalised so that they
// serve engines nobody has simulated: a faulty cylinder beside the healthy ones of
// its own engine, an engine beside what its design promises. The list of features
// says how.
//
// The file is written by cmd/libgen and read by whoever has its bytes; this
// package embeds none.
package library
