package code

import (
	_ "embed" // its directive only
	"strconv"
	"strings"

	"crankbay/sim/record"
)

// What a packer knows beforehand: two lines of what students write, then two
// typical logs, a line each action: ticks since the last one, kind, choice,
// cylinder, number. It is part of version 1 of the short code: never change it.
//
//go:embed typical-1.txt
var typical string

// prime lets a packer see typical logs, so that the first actions of an attempt
// are foreseen like its later ones.
func (p *packer) prime() {
	en, rest, _ := strings.Cut(typical, "\n")
	es, rest, _ := strings.Cut(rest, "\n")
	p.t.learn(en + "\n" + es + "\n")
	for line := range strings.Lines(rest) {
		p.action(typicalAction(strings.Fields(line), p.prev.Tick))
	}
	p.prev = record.Action{}
	p.kinds = [4]uint32{}
}

// typicalAction reads one line; "-" stands for nothing.
func typicalAction(f []string, from int64) record.Action {
	since, _ := strconv.Atoi(f[0])
	a := record.Action{Tick: from + int64(since), Kind: f[1], Choice: strings.TrimPrefix(f[2], "-")}
	a.Cylinder, _ = strconv.Atoi(f[3])
	form, number := 0, f[4]
	if n, psi := strings.CutSuffix(number, "psi"); psi {
		form, number = 1, n
	} else if n, kPa := strings.CutSuffix(number, "kPa"); kPa {
		form, number = 2, n
	}
	v, err := strconv.ParseFloat(number, 64)
	if err != nil {
		panic("code: typical-1.txt: " + strings.Join(f, " "))
	}
	a.Number = forms[form](v)
	return a
}
