// Package population draws engines with known faults, tests them by the book, and
// turns what the tests show into the examples of a likelihood library. Everything
// about a case follows from a seed and its number.
package population
