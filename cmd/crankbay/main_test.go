//go:build !js

package main

import (
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"crankbay/cmd/crankbay/internal/cli"
	"crankbay/scenarios"
	"crankbay/scenarios/attempt"
	"crankbay/scenarios/attempt/script"
	"crankbay/scenarios/class"
	"crankbay/scenarios/seal"
)

// TestMain lets the scripts run the command itself under its own name.
func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"crankbay": func() { os.Exit(cli.Run(os.Args[1:], os.Stdout, os.Stderr)) },
	})
}

// TestScripts runs testdata/script/*.txtar: type this, expect that.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir: "testdata/script",
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"onesentence": oneSentence,
			"repeat":      repeatText,
			"scenario":    scenarioFile,
			"change":      changeText,
			"samedigest":  sameDigest,
			"attempt":     attemptFile,
			"reseal":      reseal,
			"variant":     variantAttempt,
			"mail":        mailText,
			"sealed":      sealedFile,
		},
	})
}

// oneSentence checks that the last command complained in one line, named what
// it was given as the first argument, and did not panic.
func oneSentence(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: onesentence NAME")
	}
	said := ts.ReadFile("stderr")
	line := strings.TrimSuffix(said, "\n")
	switch {
	case line == "" || strings.Contains(line, "\n"):
		ts.Fatalf("want one line on stderr, got %q", said)
	case len(line) > 600:
		ts.Fatalf("want a sentence, got %d bytes", len(line))
	case !strings.Contains(line, args[0]):
		ts.Fatalf("want %q named, got %q", args[0], line)
	case strings.Contains(line, "panic") || strings.Contains(line, "goroutine"):
		ts.Fatalf("a panic: %q", line)
	}
}

// repeatText writes a file made of one text many times: repeat FILE COUNT TEXT.
func repeatText(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 3 {
		ts.Fatalf("usage: repeat FILE COUNT TEXT")
	}
	n := 0
	for _, c := range args[1] {
		n = n*10 + int(c-'0')
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(strings.Repeat(args[2], n)), 0o644))
}

// scenarioFile writes a scenario of the catalogue to a file: scenario FILE ID.
func scenarioFile(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: scenario FILE ID")
	}
	s := scenarios.Find(args[1])
	if s == nil {
		ts.Fatalf("no scenario %q", args[1])
	}
	data, err := s.Encode()
	ts.Check(err)
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), data, 0o644))
}

// changeText copies a file with one place changed, which must be there exactly
// once: change OLDFILE NEWFILE REGEXP REPLACEMENT.
func changeText(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 4 {
		ts.Fatalf("usage: change OLDFILE NEWFILE REGEXP REPLACEMENT")
	}
	re := regexp.MustCompile(args[2])
	text := ts.ReadFile(args[0])
	if n := len(re.FindAllString(text, -1)); n != 1 {
		ts.Fatalf("%s: %d places match %s, want 1", args[0], n, args[2])
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[1]), []byte(re.ReplaceAllString(text, args[3])), 0o644))
}

// sameDigest checks that all lines of the last output end in one digest.
func sameDigest(ts *testscript.TestScript, neg bool, args []string) {
	seen := map[string]bool{}
	lines := strings.Split(strings.TrimSpace(ts.ReadFile("stdout")), "\n")
	for _, line := range lines {
		_, digest, _ := strings.Cut(line, " ")
		seen[digest] = true
	}
	if len(lines) < 2 || (len(seen) == 1) == neg {
		ts.Fatalf("%d lines, %d digests", len(lines), len(seen))
	}
}

// attemptFile makes an attempt out of a script of intent: attempt FILE SCRIPT.
func attemptFile(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: attempt FILE SCRIPT")
	}
	a, err := script.Compile(ts.ReadFile(args[1]), scenarios.Find)
	ts.Check(err)
	data, err := a.Encode()
	ts.Check(err)
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), data, 0o644))
}

// fitting finds the digest that a reader says a changed file should have.
var fitting = regexp.MustCompile(`digest: ([0-9a-f]{32}) does not fit the contents, which give ([0-9a-f]{32})`)

// reseal gives a changed file the digest that fits it, as a forger would: reseal FILE.
func reseal(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: reseal FILE")
	}
	text := ts.ReadFile(args[0])
	_, err := attempt.Decode([]byte(text))
	if err == nil {
		ts.Fatalf("%s fits already", args[0])
	}
	m := fitting.FindStringSubmatch(err.Error())
	if m == nil {
		ts.Fatalf("%s: %v", args[0], err)
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(strings.Replace(text, m[1], m[2], 1)), 0o644))
}

// variantAttempt works the variant of one student of a class: variant FILE CLASS
// NUMBER SCRIPT, the script without its first three lines.
func variantAttempt(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 4 {
		ts.Fatalf("usage: variant FILE CLASS NUMBER SCRIPT")
	}
	g, err := class.Decode([]byte(ts.ReadFile(args[1])))
	ts.Check(err)
	set, err := g.Again()
	ts.Check(err)
	v := set[int(args[2][0]-'1')]
	head := "scenario " + v.Scenario.ID + "\nmode grade\nwho " + v.Student.Label() + "\n"
	a, err := script.Compile(head+ts.ReadFile(args[3]), func(string) *scenarios.Scenario { return v.Scenario })
	ts.Check(err)
	data, err := a.Encode()
	ts.Check(err)
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), data, 0o644))
}

// mailText quotes a text the way a mail does: mail FILE QUOTED.
func mailText(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: mail FILE QUOTED")
	}
	text := strings.TrimSpace(ts.ReadFile(args[0]))
	var b strings.Builder
	b.WriteString("On Monday somebody wrote:\r\n")
	for len(text) > 0 {
		n := min(len(text), 68)
		b.WriteString("> " + text[:n] + "\r\n")
		text = text[n:]
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[1]), []byte(b.String()), 0o644))
}

// sealedFile seals a file to a key: sealed KEY FILE SEALED.
func sealedFile(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 3 {
		ts.Fatalf("usage: sealed KEY FILE SEALED")
	}
	k, err := seal.ParseKey(ts.ReadFile(args[0]))
	ts.Check(err)
	text, err := seal.Seal(k.Public(), []byte(ts.ReadFile(args[1])))
	ts.Check(err)
	ts.Check(os.WriteFile(ts.MkAbs(args[2]), []byte(text+"\n"), 0o644))
}
