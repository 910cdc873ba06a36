// Package desk answers what takes thought and no hands: the grade, the debrief. The
// page runs it beside the core, in a program of its own that it fetches when one of
// these places opens, so that the core stays small and no answer keeps the page
// waiting. It knows no browser; web/jsapi/desk is the thin layer that hands it to
// one. How it is asked: package answer.
package desk

import "crankbay/web/answer"

// Progress is told how long work goes on, see answer.Progress.
type Progress = answer.Progress

// commands lists what can be asked, by name. Each is in a file of its own.
var commands = answer.Table{
	{Name: "debrief", Run: debriefCommand},
	{Name: "inside", Run: insideCommand},
	{Name: "mistakes", Run: mistakesCommand},
	{Name: "plan", Run: planCommand},
	{Name: "faults", Run: faultsCommand},
	{Name: "engines", Run: enginesCommand},
	{Name: "begin", Run: beginCommand},
	{Name: "look", Run: lookCommand},
	{Name: "link", Run: linkCommand},
	{Name: "square", Run: squareCommand},
	{Name: "code", Run: codeCommand},
	{Name: "unpack", Run: unpackCommand},
	{Name: "roster", Run: rosterCommand},
	{Name: "class", Run: classCommand},
	{Name: "find", Run: findCommand},
	{Name: "collect", Run: collectCommand},
	{Name: "table", Run: tableCommand},
	{Name: "report", Run: reportCommand},
}

// MaxRequest is the longest request [bytes].
const MaxRequest = answer.MaxRequest

// Commands lists the names of all commands.
func Commands() []string { return commands.Names() }

// Answer answers one request. The same request gets the same answer, byte by
// byte. It never panics.
func Answer(request []byte) []byte { return Work(request, nil) }

// Work is Answer with news of its progress; tell may be nil.
func Work(request []byte, tell Progress) []byte { return commands.Work(request, tell) }

func decode(request []byte, v any) error { return answer.Decode(request, v) }
