package session

import (
	"errors"

	"crankbay/sim/bench"
	"crankbay/sim/record"
)

// refused is how an impossible action leaves.
type refused struct {
	Key      string  `json:"key"`
	Cylinder int     `json:"cylinder,omitempty"`
	Number   float64 `json:"number,omitempty"`
}

// done is the answer to an action.
type done struct {
	OK      bool     `json:"ok"`
	View    *view    `json:"view,omitempty"`
	Refusal *refused `json:"refusal,omitempty"`
}

// Act does one action and answers {"ok":true,"view"} or {"ok":false,"refusal"}.
func (c *Core) Act(text string) string {
	if c.s == nil {
		return fail(ErrNothingOpen)
	}
	var a record.Action
	if err := decode(text, &a); err != nil {
		return fail(ErrRequest, "text", err.Error())
	}
	return c.answer(c.do(a))
}

func (c *Core) answer(err error) string {
	var r *bench.Refusal
	switch {
	case errors.As(err, &r):
		return encode(done{Refusal: &refused{r.Key, r.Cylinder, r.Number}})
	case err != nil:
		return fail(ErrRequest, "text", err.Error())
	}
	return encode(done{OK: true, View: c.view()})
}

// do does one action and looks at what came of it.
func (c *Core) do(a record.Action) error {
	a.Tick = 0 // the bench stamps it
	err := c.s.Do(a)
	c.look()
	return err
}

// look takes the state of the bench. A frame doesn't: it changes by actions, when
// the release lets go and when everything comes to rest.
func (c *Core) look() { c.state = c.s.Bench().State() }

// Advance lets up to n ticks of bench time pass and returns how many really
// passed: 0 when everything is at rest.
func (c *Core) Advance(n int) int {
	if c.s == nil || n <= 0 || c.broken {
		return 0
	}
	n = min(n, MaxAdvance)
	b := c.s.Bench()
	before := b.Tick()
	c.s.Advance(n)
	ran := int(b.Tick() - before)
	if ran < n || c.state.Release {
		c.look()
	}
	return ran
}

// Stroke turns the engine through one compression stroke of the gauged (or the
// next) cylinder with the starter held, and answers {"ticks"}.
func (c *Core) Stroke() string {
	if c.s == nil {
		return fail(ErrNothingOpen)
	}
	if !c.state.Starter {
		if err := c.do(record.Action{Kind: bench.KindStarter, Choice: "on"}); err != nil {
			return c.answer(err)
		}
	}
	ticks := c.s.StrokeStep()
	c.look()
	return encode(struct {
		Ticks int `json:"ticks"`
	}{ticks})
}

// Needle puts the needle into words' worth of numbers; asking is part of the
// log.
func (c *Core) Needle() string {
	if c.s == nil {
		return fail(ErrNothingOpen)
	}
	if err := c.do(record.Action{Kind: bench.KindNeedleWords}); err != nil {
		return c.answer(err)
	}
	n := c.s.Bench().Needle()
	lo, hi := n.Between()
	return encode(struct {
		Lo    float64 `json:"lo_pa"`
		Hi    float64 `json:"hi_pa"`
		Shown float64 `json:"shown_pa"`
	}{float64(lo), float64(hi), float64(n.Read())})
}
