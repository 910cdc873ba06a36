// Package reason says what readings allow to be said: which explanations there are
// for them, how probable each is, which reading speaks for it and which against,
// and which test would tell most for its minutes.
//
// It is Bayes' rule over a list of families (see [Families]): priors that are stated
// and can be changed ([Priors]), likelihoods from a library of simulated engines
// (package library), and whatever readings there are. What is missing stays missing:
// it is left out of the product, never filled in.
//
// An explanation is two things at once. Something is the matter with some cylinders
// or with none, and the engine as a whole was in some state: sound, at a height,
// turned slowly, read through a leaking gauge. The readings of the healthy cylinders
// say at which level the engine stands; a faulty cylinder is held against them, as
// on the bench. So a fault can lie under a method error, and both are found.
//
// Readings of real engines are rougher than those of simulated ones. [Evidence.Rough]
// says which they are, and how far from its example a reading may lie follows from
// that. The tails are heavy on purpose: one reading that fits nothing must not turn
// the rest round.
//
// Everything here is a pure function of its arguments, to the last bit.
package reason
