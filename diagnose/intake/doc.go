// Package intake reads what a technician wrote down about a real engine: a CSV
// file, a table pasted out of a mail, four numbers in one line. It understands
// readings, it doesn't judge them.
//
// [Parse] takes the text and what was said beside it (flags of a command line,
// fields of a form) and returns [Readings]. Whatever isn't in the text stays
// missing. Whatever had to be guessed or decided, a unit above all, is told in
// [Readings.Notes] with the reason; what can't be decided is refused by an [Error]
// that says where. A value no engine gives is refused, never clipped. Facts leave
// this package by key and number; sentences belong to whoever shows them.
//
// # What it reads
//
// A table with a header, its columns parted by commas, semicolons, tabs, bars or
// blanks; `name: value` lines, before, after or without a table; lists ("dry 150
// 151 65 149"); cylinders by name ("cyl 1: 150, cyl 2: 151", "n. 1 = 150 lb").
// Names are English or Spanish. Lines that begin with # and no number are remarks.
//
// # How doubtful numbers are read
//
// A comma inside a number is a decimal comma where columns are parted by something
// else. In a bare line it parts readings when more than one stands in a row
// ("150,151,65,149") or when what follows can't be a fraction ("150,151"); it is a
// decimal comma when every number of the line reads well so ("10,5 10,4 4,5
// 10,3"). A single "10,5", and "10,5,10,4", can be read both ways and are refused.
// Three digits after a comma or point are thousands where the unit is kPa, or a
// speed or a height is meant.
package intake
