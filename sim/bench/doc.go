// Package bench is an engine on the stand with the tools beside it: what hands
// can do to it, what that does to the engine, and what could be seen.
//
// Everything goes through two calls. [Bench.Do] applies one action now and logs
// it; [Bench.Advance] lets ticks pass, and only while something moves. Live play
// and replay use the same two, so a log rebuilds the same state bit for bit.
//
// An action that is impossible gives a *[Refusal] and leaves no trace. One that
// is dangerous is done, has its consequence in the engine, and leaves an event of
// kind "caution" or "hazard" in the record.
//
// Thinking costs no time: bench minutes pass by the stated minutes of an action,
// as one standing jump of the engine's slow states, and by the ticks of cranking.
// The key is on whenever the engine is cranked, because the throttle is held open
// by the pedal; fuel that is not disabled is injected.
//
// Hose, gauge, plugs and release are separate acts: nothing unscrews itself.
package bench
