package desk

// Guarded is guarded, for the tests of what becomes of a panic.
var Guarded = guarded
