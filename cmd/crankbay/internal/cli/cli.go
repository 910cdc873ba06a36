// Package cli holds the commands of crankbay.
//
// Rules of this terminal: results go to standard output, everything else to
// standard error. No colour: output reads the same in a terminal, in a file and
// through a screen reader. The one thing that moves is a progress bar over many
// files, on standard error and only when that is a terminal. Bad input is answered
// with one sentence that names the file and the place. --json prints one JSON
// document and nothing else.
//
// Exit status: 0 all is well; 1 an attempt does not hold or a file cannot be
// used; 2 the command itself was not understood; 130 somebody interrupted it: lines
// that were printed by then are whole, and a table isn't printed in part.
package cli

import (
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode"

	"github.com/spf13/cobra"

	"crankbay/scenarios/class"
)

// Exit statuses of the command.
const (
	exitOK    = 0
	exitFail  = 1
	exitUsage = 2
	exitBreak = 130 // as shells have it
)

// errFailed ends a command with exitFail after it has said everything itself.
var errFailed = errors.New("failed")

// errInterrupted ends a command that somebody interrupted.
var errInterrupted = errors.New("interrupted: what was begun is finished, the rest is not looked at")

// usageError marks a command line that was not understood.
type usageError struct{ err error }

func (e usageError) Error() string { return e.err.Error() }
func (e usageError) Unwrap() error { return e.err }

func usagef(format string, args ...any) error { return usageError{fmt.Errorf(format, args...)} }

// Run executes one command line (without the program's name) and returns the
// exit status.
func Run(args []string, stdout, stderr io.Writer) int {
	root := newRoot()
	root.SetArgs(args)
	root.SetOut(stdout)
	root.SetErr(stderr)
	c, err := root.ExecuteC()
	switch {
	case err == nil:
		return exitOK
	case errors.Is(err, errFailed):
		return exitFail
	}
	fmt.Fprintf(stderr, "crankbay: %s\n", oneLine(err.Error()))
	if errors.As(err, new(usageError)) || strings.HasPrefix(err.Error(), "unknown command") {
		fmt.Fprintf(stderr, "Try '%s --help'.\n", c.CommandPath())
		return exitUsage
	}
	if errors.Is(err, errInterrupted) {
		return exitBreak
	}
	return exitFail
}

// oneLine keeps an error to one line of at most 400 bytes, whatever a file put
// into it, and makes control characters visible.
func oneLine(s string) string {
	s = strings.Map(func(r rune) rune {
		switch {
		case r == '\n' || r == '\t':
			return ' '
		case unicode.IsControl(r) || class.Turns(r):
			return '?'
		}
		return r
	}, s)
	const most = 400
	if len(s) > most {
		s = strings.ToValidUTF8(s[:most], "") + " …"
	}
	return s
}

func newRoot() *cobra.Command {
	root := &cobra.Command{
		Use:   "crankbay",
		Short: "Compression tests on simulated engines, run by the book and checked by replay",
		Long: `Compression tests on simulated engines, run by the book and checked by replay.

A scenario is an engine with or without a fault; name it by its id (see
'crankbay list') or by a file. An attempt is what a student hands in: a log of
actions, which 'crankbay verify' plays again and grades again.

The results are simulated. They replace neither practice on a real engine nor
its service information.`,
		Example: `  crankbay list
  crankbay test burnt-exhaust-inline-four --kind wet
  crankbay verify handed-in/*.json
  crankbay serve`,
		SilenceUsage:  true,
		SilenceErrors: true,
		Args:          cobra.NoArgs,
		RunE:          func(c *cobra.Command, _ []string) error { return c.Help() },
	}
	root.CompletionOptions.HiddenDefaultCmd = true
	root.SetFlagErrorFunc(func(_ *cobra.Command, err error) error {
		said, why, ok := strings.Cut(err.Error(), " flag: strconv.")
		switch {
		case !ok:
			return usageError{err}
		case strings.HasPrefix(why, "ParseBool"):
			return usagef("%s, want true or false", said)
		}
		return usagef("%s, want a number", said)
	})
	root.AddCommand(newList(), newTest(), newOpinion(), newCompose(), newClass(), newVerify(), newOpen(), newPack(), newDigest())
	addPlatform(root)
	return root
}

// args allows from least to most arguments, most < 0 for any number, and says
// what the command wants when there are others.
func args(least, most int, wants string) cobra.PositionalArgs {
	return func(c *cobra.Command, a []string) error {
		switch {
		case len(a) < least:
			return usagef("%s: nothing was named; it takes %s", c.Name(), wants)
		case most >= 0 && len(a) > most:
			return usagef("%s: %q is too much; it takes %s", c.Name(), a[most], wants)
		}
		return nil
	}
}
