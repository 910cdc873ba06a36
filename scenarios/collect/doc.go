// Package collect takes in what students hand in, plays every attempt again, grades
// it and holds it against the roster.
//
// What is wrong with a hand-in is named for what it is: a file that was damaged, an
// attempt whose replay differs and from which tick on, one made under another version
// of the program, one made on another student's variant. None of these words says
// why: that is for whoever knows the students. And a hand-in that holds proves that
// log, variant and grade fit together; it does not prove who sat there.
package collect
