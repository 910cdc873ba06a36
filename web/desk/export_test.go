package desk

import "crankbay/scenarios/collect"

import "crankbay/web/answer"

// Guarded is what keeps a panic inside, for the tests of what becomes of one.
var Guarded = answer.Guarded

// CollectorFor returns what hand-ins are held against.
func CollectorFor(class string, scenarios ...string) (*collect.Collector, error) {
	return (&collectRequest{Class: class, Scenarios: scenarios}).collector()
}
