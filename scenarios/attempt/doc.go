// Package attempt is one student's attempt at a scenario: the bench and the job
// sheet under one log, the file it is handed in as, and its verification.
//
// Everything done and everything written is an action. Bench actions go to
// package bench; those of the job sheet are judged here. The sheet at any moment
// is what the log up to then makes of it, so nothing in a file is believed:
// [Verify] plays the log again, compares every mark, reads again and grades again.
// That proves that log, scenario and grade fit together, not who sat there.
//
// FORMAT.md is the specification of the file.
package attempt
