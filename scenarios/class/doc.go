// Package class gives every student of a class a variant of one scenario: the same
// lesson on another copy of the engine, with another cylinder, another severity and
// another seed.
//
// A variant is a function of the class's secret and the student, so that it can be
// made again wherever the class file is, and nobody without the secret can tell
// what another student has. Each is tried by the book before it is given out: it has
// to show the pattern that the lesson is about.
//
// What that is worth: two students can't use each other's readings, and an attempt
// that was handed on is recognised, because it was made on somebody else's engine. It
// doesn't prove who sat there.
package class
