package desk

import "crankbay/web/answer"

// Guarded is what keeps a panic inside, for the tests of what becomes of one.
var Guarded = answer.Guarded
