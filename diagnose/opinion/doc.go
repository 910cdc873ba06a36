// Package opinion puts together what there is to say about readings of a real engine:
// what was understood, what every limit rule says, which explanations there are and what
// speaks for and against each, what to check about the method, what to test next, what
// to beware of. The command line and the page show the same; keys and numbers leave this
// package, sentences are theirs.
//
// It reasons by package reason and knows readings by package intake; of its own it has
// only what a colleague would ask first.
package opinion
