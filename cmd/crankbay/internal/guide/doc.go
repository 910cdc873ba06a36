//go:build !js

// Package guide makes the teacher's guide: lesson plans, how the grade is made, how
// far a hand-in can be trusted, what to do when something fails. Sentences are written
// by hand, in web/strings/guide; every number, every engine, every button and every
// command named in them is taken from the program while the page is written, so that
// text and program can't disagree.
package guide
