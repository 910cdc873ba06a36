package cli

import (
	"bufio"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/signal"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"syscall"

	"github.com/spf13/cobra"

	"crankbay/scenarios/attempt"
	"crankbay/scenarios/collect"
)

// handed is one hand-in worked off.
type handed struct {
	File  string `json:"file"`
	OK    bool   `json:"ok"`
	Error string `json:"error,omitempty"`
	collect.Row
	Debrief *debriefed `json:"debrief,omitempty"`
}

// sourcesOf lists the files that names and folders stand for; folder tells whether
// there was one.
func sourcesOf(names []string) (files []string, folder bool, err error) {
	for _, name := range names {
		st, err := os.Stat(name)
		if err != nil || !st.IsDir() {
			files = append(files, name) // what is wrong with it is said in its turn
			continue
		}
		folder = true
		err = filepath.WalkDir(name, func(path string, d fs.DirEntry, err error) error {
			switch {
			case err != nil:
				return err
			case path != name && strings.HasPrefix(d.Name(), "."):
				if d.IsDir() {
					return filepath.SkipDir
				}
			case d.Type().IsRegular(), d.Type()&fs.ModeSymlink != 0: // where a link leads is seen when it is read
				files = append(files, path)
			}
			return nil
		})
		if err != nil {
			return nil, false, fmt.Errorf("%s: %w", name, cause(err))
		}
	}
	return files, folder, nil
}

// file works off what one file holds, mostly one hand-in.
func (o *verifying) file(name string) []handed {
	data, err := readFile(name, attemptBytesMax)
	if err == nil && classFile.Match(data) {
		err = fmt.Errorf("%s: a class file, no hand-in", name)
	}
	if err != nil {
		return []handed{{File: name, Error: err.Error(), Row: collect.Row{
			Source: name, Form: collect.FormNone, Status: collect.StatusUnreadable, Text: err.Error(),
		}}}
	}
	var out []handed
	for _, in := range collect.Find(collect.Source{Name: name, Data: data}) {
		r, report := o.collector.Verified(in)
		out = append(out, o.finished(r, report))
	}
	return out
}

// classFile begins a class file, which lies among hand-ins now and then.
var classFile = regexp.MustCompile(`^\s*\{\s*"kind"\s*:\s*"class"`)

// finished says in a sentence what is wrong with a hand-in, if anything is.
func (o *verifying) finished(r collect.Row, report *attempt.Report) handed {
	h := handed{File: r.Source, OK: collect.Fits(r.Status), Row: r}
	if !h.OK {
		h.Error = fmt.Sprintf("%s: %s", r.Source, said(r))
	}
	if o.full && report != nil {
		var err error
		if h.Debrief, err = debriefOf(*report); err != nil {
			h.OK, h.Error = false, fmt.Sprintf("%s: %s", r.Source, plain(err))
		}
	}
	return h
}

// said is what is wrong with a hand-in.
func said(r collect.Row) string {
	switch r.Status {
	case collect.StatusSealed:
		if r.Text == "" {
			return "sealed: it opens with the key it was sealed to (--key)"
		}
		return strings.TrimPrefix(r.Text, "seal: ")
	case collect.StatusWrongVariant:
		return fmt.Sprintf("wrong variant: it holds, but %q is no engine of this class", r.Scenario)
	case collect.StatusWrongMode:
		return fmt.Sprintf("wrong mode: it holds, but was worked in mode %s, asked for was %s", r.Then, r.Now)
	case collect.StatusOther:
		return fmt.Sprintf("other student: it holds, but it is the engine of %s, under the name of %s", r.Owner, r.Student)
	case collect.StatusNotOnRoster:
		return fmt.Sprintf("not on the roster: it holds, on the engine of %s, but nobody is called %q", r.Owner, r.Who)
	case collect.StatusVersion, collect.StatusChanged:
		return r.Text + "; another version, no forgery"
	}
	if r.Status == collect.StatusUnknown && strings.Contains(r.Text, `"job-`) {
		return r.Text + ": an engine of a class set needs its class file (--class)"
	}
	return r.Text
}

// each works off files, several at once, and hands the results on in order. next may stop
// it all with an error; when ctx is done, what was begun is finished and handed on, and
// no more is begun.
func (o *verifying) each(ctx context.Context, files <-chan string, next func([]handed) error) error {
	type job struct {
		name string
		done chan []handed
	}
	queue, order := make(chan job), make(chan job, 4*o.jobs)
	stop := make(chan struct{})
	var workers sync.WaitGroup
	for range o.jobs {
		workers.Add(1)
		go func() {
			defer workers.Done()
			for j := range queue {
				j.done <- o.file(j.name)
			}
		}()
	}
	go func() {
		defer close(order)
		defer close(queue)
		for {
			var j job
			select {
			case name, more := <-files:
				if !more {
					return
				}
				j = job{name, make(chan []handed, 1)}
			case <-stop:
				return
			case <-ctx.Done():
				return
			}
			select {
			case order <- j:
			case <-stop:
				return
			}
			select {
			case queue <- j:
			case <-stop:
				return
			}
		}
	}()
	var err error
	for j := range order {
		if err = next(<-j.done); err != nil {
			break
		}
	}
	close(stop)
	workers.Wait()
	if err == nil && ctx.Err() != nil {
		return errInterrupted
	}
	return err
}

// interruptible is a context that ends when somebody interrupts the command, who then
// may do so again to have it gone at once.
func interruptible(c *cobra.Command) (context.Context, context.CancelFunc) {
	ctx, stop := signal.NotifyContext(c.Context(), os.Interrupt, syscall.SIGTERM)
	context.AfterFunc(ctx, stop)
	return ctx, stop
}

// fromList feeds names.
func fromList(names []string) <-chan string {
	c := make(chan string)
	go func() {
		defer close(c)
		for _, n := range names {
			c <- n
		}
	}()
	return c
}

// nameBytesMax is more than any name of a file has [bytes].
const nameBytesMax = 1 << 16

// lines answers names from standard input with lines of JSON.
func (o *verifying) lines(c *cobra.Command) error {
	names := make(chan string)
	var readErr error
	go func() {
		defer close(names)
		in := bufio.NewScanner(c.InOrStdin())
		in.Buffer(nil, nameBytesMax)
		for in.Scan() {
			if name := in.Text(); strings.TrimSpace(name) != "" { // blanks at its ends are part of a name
				names <- name
			}
		}
		readErr = in.Err()
	}()
	out := json.NewEncoder(c.OutOrStdout())
	out.SetEscapeHTML(false)
	bar := progress{w: c.ErrOrStderr(), show: terminal(c.ErrOrStderr())}
	bad := 0
	ctx, stop := interruptible(c)
	defer stop()
	err := o.each(ctx, names, func(list []handed) error {
		for _, h := range list {
			if !h.OK {
				bad++
			}
			if err := out.Encode(h); err != nil {
				return fmt.Errorf("standard output: %w", cause(err))
			}
		}
		bar.step()
		return nil
	})
	bar.end()
	switch {
	case err != nil:
		return err
	case errors.Is(readErr, bufio.ErrTooLong):
		return fmt.Errorf("standard input: a line of more than %d bytes, no name of a file is so long", nameBytesMax)
	case readErr != nil:
		return fmt.Errorf("standard input: %w", cause(readErr))
	case bad > 0:
		return errFailed
	}
	return nil
}

// all works off a list and prints it as asked for.
func (o *verifying) all(c *cobra.Command, files []string) error {
	bar := progress{w: c.ErrOrStderr(), of: len(files), show: len(files) > 8 && terminal(c.ErrOrStderr())}
	var rows []handed
	ctx, stop := interruptible(c)
	defer stop()
	err := o.each(ctx, fromList(files), func(list []handed) error {
		rows = append(rows, list...)
		bar.step()
		return nil
	})
	bar.end()
	if err != nil {
		return err
	}
	o.finish(rows)
	if err := o.print(c, rows); err != nil {
		return err
	}
	for _, h := range rows {
		if !h.OK {
			return errFailed
		}
	}
	return nil
}

// finish holds the rows against each other.
func (o *verifying) finish(rows []handed) {
	plain := rowsOf(rows)
	o.collector.Finish(plain)
	for i := range rows {
		rows[i].Row = plain[i]
	}
}

// progress is one line on a terminal that is written over; elsewhere it is silent.
type progress struct {
	w        io.Writer
	done, of int
	show     bool
}

func (p *progress) step() {
	p.done++
	if !p.show {
		return
	}
	if p.of == 0 {
		fmt.Fprintf(p.w, "\r%d done ", p.done)
		return
	}
	const wide = 30
	full := wide * p.done / p.of
	fmt.Fprintf(p.w, "\r[%s%s] %d of %d ", strings.Repeat("=", full), strings.Repeat(" ", wide-full), p.done, p.of)
}

func (p *progress) end() {
	if p.show && p.done > 0 {
		fmt.Fprintf(p.w, "\r%s\r", strings.Repeat(" ", 60))
	}
}
