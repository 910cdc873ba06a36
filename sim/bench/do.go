package bench

import (
	"unicode/utf8"

	"crankbay/sim/record"
)

// An act is one kind of action: what it costs and how it is done. The function
// checks first and changes afterwards, so that a refusal leaves no trace.
type act struct {
	kind    string
	minutes float64 // what a shop takes (judgement); what depends on the engine is in cost
	turning bool    // possible while the crank turns or the switch is held
	names   naming
	do      func(b *Bench, a record.Action) error
}

// naming says whether an action names a cylinder of this engine.
type naming int

const (
	none  naming = iota // never
	each                // always
	maybe               // some of its choices do; it looks itself
)

var acts = []act{
	{KindGlasses, 0, true, none, (*Bench).doGlasses},
	{KindGear, 0, false, none, (*Bench).doGear},
	{KindBrake, 0, false, none, (*Bench).doBrake},
	{KindChocks, 1, false, none, (*Bench).doChocks},
	{KindBelts, 1, false, none, (*Bench).doBelts},
	{KindFluids, 1, false, none, (*Bench).doFluids},
	{KindSpec, 2, false, none, (*Bench).doSpec},
	{KindWarmUp, 0, false, none, (*Bench).doWarmUp},
	{KindCoolDown, 0, false, none, (*Bench).doCoolDown},
	{KindFuel, 3, false, none, (*Bench).doFuel},
	{KindIgnition, 2, false, none, (*Bench).doIgnition},
	{KindCharger, 1, false, none, (*Bench).doCharger},
	{KindWells, 2, false, none, (*Bench).doWells},
	{KindPlugOut, 1, false, each, (*Bench).doPlugOut},
	{KindPlugIn, 1, false, each, (*Bench).doPlugIn},
	{KindPlugTorque, 2, false, none, (*Bench).doPlugTorque},
	{KindPlugLook, 1, false, each, (*Bench).doPlugLook},
	{KindAdapter, 1, false, none, (*Bench).doAdapter},
	{KindGauge, 0, false, none, (*Bench).doGauge},
	{KindProve, 1, false, none, (*Bench).doProve},
	{KindHoseOn, 1, false, each, (*Bench).doHoseOn},
	{KindHoseOff, 1, false, none, (*Bench).doHoseOff},
	{KindRelease, 0, true, none, (*Bench).doRelease},
	{KindThrottle, 0, true, none, (*Bench).doThrottle},
	{KindSwitch, 1, false, none, (*Bench).doSwitch},
	{KindVoltmeter, 1, false, none, (*Bench).doVoltmeter},
	{KindTachometer, 1, false, none, (*Bench).doTachometer},
	{KindStarter, 0, true, none, (*Bench).doStarter},
	{KindTurn, 0, false, each, (*Bench).doTurn},
	{KindOil, 0, false, each, (*Bench).doOil},
	{KindWait, 0, false, none, (*Bench).doWait},
	{KindNeedleWords, 0, true, none, (*Bench).doNeedleWords},
	{KindHint, 0, true, none, (*Bench).doNothing},
	{KindSection, 0, true, none, (*Bench).doNothing},
	{KindLeads, 2, false, none, (*Bench).doLeads},
	{KindEngineStart, 2, false, none, (*Bench).doEngineStart},
	{KindCodesClear, 2, false, none, (*Bench).doCodesClear},
	{KindTesterOn, 0, false, each, (*Bench).doTesterOn},
	{KindTesterOff, 1, false, none, (*Bench).doTesterOff},
	{KindAir, 0, false, none, (*Bench).doAir},
	{KindWrench, 0, false, none, (*Bench).doWrench},
	{KindClamp, 1, false, none, (*Bench).doClamp},
	{KindVacuumGauge, 1, false, none, (*Bench).doVacuumGauge},
	{KindDisableOne, 1, false, each, (*Bench).doDisableOne},
	{KindEngineRun, 0, true, none, (*Bench).doEngineRun},
	{KindSnap, 0, true, none, (*Bench).doSnap},
	{KindLash, 0, false, each, (*Bench).doLash},
	{KindSetLash, 0, false, each, (*Bench).doSetLash},
	{KindTiming, 0, false, none, (*Bench).doTiming},
	{KindBorescope, 0, false, each, (*Bench).doBorescope},
	{KindCoolingPressure, 0, false, none, (*Bench).doCoolingPressure},
	{KindCoolantWatch, 1, false, none, (*Bench).doCoolantWatch},
	{KindPowerBalance, 0, false, none, (*Bench).doPowerBalance},
	{KindListen, 1, false, maybe, (*Bench).doListen},
}

// find returns the act of a kind. The list is short; a map would not be faster.
func find(kind string) *act {
	for i := range acts {
		if acts[i].kind == kind {
			return &acts[i]
		}
	}
	return nil
}

// Kinds lists every kind of action the bench knows.
func Kinds() []string {
	out := make([]string, len(acts))
	for i := range acts {
		out[i] = acts[i].kind
	}
	return out
}

// Knows tells whether kind is a bench action.
func Knows(kind string) bool { return find(kind) != nil }

// Do applies an action now and logs it; a.Tick is ignored and stamped. The error
// is a *Refusal when the action is impossible, and then nothing has changed but
// that a needle on its way may have come to rest.
func (b *Bench) Do(a record.Action) error {
	k := find(a.Kind)
	if k == nil {
		return refuse("unknown_kind", 0)
	}
	if err := b.admit(k, a); err != nil {
		return err
	}
	if !k.turning || (a.Kind == KindStarter || a.Kind == KindEngineRun) && b.still() {
		// Nobody reaches for a tool or the switch with a thumb still on the release
		// or the needle on its way.
		b.Settle()
	}
	a.Tick = b.rec.Tick
	if a.Number == 0 {
		a.Number = 0 // -0 and 0 are one number
	}
	before := len(b.rec.Events)
	b.event(a.Kind, a.Choice, a.Cylinder, a.Number)
	if err := k.do(b, a); err != nil {
		b.rec.Events = b.rec.Events[:before]
		return err
	}
	if minutes := b.cost(k, a); minutes > 0 {
		b.stand(minutes)
	}
	b.commit(a)
	return nil
}

// admit says whether an action of this kind can be tried at all now.
func (b *Bench) admit(k *act, a record.Action) error {
	switch {
	case b.rec.Tick >= MaxTicks:
		return refuse("time_up", 0)
	case len(b.log) >= MaxActions-1:
		return refuse("too_many_actions", 0)
	case !(a.Number >= -maxNumber && a.Number <= maxNumber):
		return refuseNumber(maxNumber)
	case len(a.Choice) > maxChoice || a.Text != "":
		return refuse("unknown_choice", 0)
	case a.Cylinder < 0 || a.Cylinder > len(b.cyl), k.names == each && a.Cylinder == 0, k.names == none && a.Cylinder != 0:
		return refuse("cylinder", 0)
	case b.tests.pump.on && !whileRunning(a.Kind):
		return refuse("engine_running", 0)
	case k.turning:
		return nil
	case b.hands.starter:
		return refuse("starter_on", 0)
	case !b.still():
		return refuse("engine_turning", 0)
	}
	return nil
}

// Note logs an action that is not the bench's own, such as an entry on a job
// sheet, with tick, event and mark. Whoever calls it has judged it. The caps hold
// here too; the last place in the log is kept for final ones.
func (b *Bench) Note(a record.Action, final bool) error {
	most := MaxActions - 1
	if final {
		most = MaxActions
	}
	switch {
	case len(b.log) >= most:
		return refuse("too_many_actions", 0)
	case !(a.Number >= -maxNumber && a.Number <= maxNumber):
		return refuseNumber(maxNumber)
	case len(a.Choice) > maxChoice, utf8.RuneCountInString(a.Text) > maxText:
		return refuse("unknown_choice", 0)
	case a.Cylinder < 0 || a.Cylinder > len(b.cyl):
		return refuse("cylinder", 0)
	}
	a.Tick = b.rec.Tick
	if a.Number == 0 {
		a.Number = 0
	}
	b.event(a.Kind, a.Choice, a.Cylinder, a.Number)
	b.commit(a)
	return nil
}

// commit logs an accepted action and marks the state.
func (b *Bench) commit(a record.Action) {
	b.log = append(b.log, a)
	b.logHash = hash(b.logHash).action(a).sum()
	b.mark()
}

// mark pins the state. In a replay it is compared with what was recorded.
func (b *Bench) mark() {
	m := record.Mark{Tick: b.rec.Tick, Digest: b.Digest()}
	b.marks = append(b.marks, m)
	b.expect.compare(len(b.marks)-1, m)
}

// stand lets stated minutes pass with everything at rest.
func (b *Bench) stand(minutes float64) {
	b.stated += minutes
	b.engine.Stand(minutes * 60)
	b.heat = max(0, b.heat-float64(coolPerSecond*minutes*60))
	if b.heat < heatFirst {
		b.told = 0
	}
	b.follow()
	b.meters.reset(b.engine)
	b.blowAgain()
}

// follow brings the needle to rest on what the hose now holds.
func (b *Bench) follow() {
	for range 2 * record.TicksPerSecond {
		b.needle.Step(b.hosePressure())
		if b.needle.AtRest() {
			break
		}
	}
}

// onOff reads a choice of on or off.
func onOff(a record.Action) (bool, error) { return either(a, "on", "off") }

// either reads a choice of two; the first is true.
func either(a record.Action, yes, no string) (bool, error) {
	switch a.Choice {
	case yes:
		return true, nil
	case no:
		return false, nil
	}
	return false, refuse("unknown_choice", a.Cylinder)
}

// plain refuses a choice where none is wanted.
func plain(a record.Action) error {
	if a.Choice != "" {
		return refuse("unknown_choice", a.Cylinder)
	}
	return nil
}
