//go:build !js

// Package policy holds the rules of this tree that no compiler checks: who may
// import whom, what must not get into the simulation, how long a function may
// be. Its tests apply each rule to the tree, and to a small piece of bad code that
// the rule has to catch.
//
// The tables state intent. Do not widen one to make a build pass; if the intent
// has changed, say why in DEVELOPERS.md.
package policy
