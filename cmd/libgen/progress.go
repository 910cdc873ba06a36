package main

import (
	"fmt"
	"os"
	"strings"
	"time"
)

// A progress is a bar on a terminal, and a plain line now and then elsewhere.
type progress struct {
	what     string
	n, total int
	start    time.Time
	shown    time.Time
	terminal bool
}

func newProgress(what string, total int) *progress {
	info, err := os.Stderr.Stat()
	return &progress{what: what, total: total, start: time.Now(), terminal: err == nil && info.Mode()&os.ModeCharDevice != 0}
}

func (p *progress) step() {
	p.n++
	every := 15 * time.Second
	if p.terminal {
		every = 200 * time.Millisecond
	}
	if time.Since(p.shown) < every {
		return
	}
	p.shown = time.Now()
	p.show()
}

func (p *progress) show() {
	left := time.Duration(0)
	if p.n > 0 {
		left = time.Since(p.start) / time.Duration(p.n) * time.Duration(p.total-p.n)
	}
	if !p.terminal {
		fmt.Fprintf(os.Stderr, "%d of %d %s, %v left\n", p.n, p.total, p.what, left.Round(time.Second))
		return
	}
	const width = 30
	full := width * p.n / max(p.total, 1)
	fmt.Fprintf(os.Stderr, "\r[%s%s] %d/%d %s, %v left   ", strings.Repeat("=", full), strings.Repeat(" ", width-full), p.n, p.total, p.what, left.Round(time.Second))
}

func (p *progress) done() {
	p.show()
	if p.terminal {
		fmt.Fprintln(os.Stderr)
	}
}
