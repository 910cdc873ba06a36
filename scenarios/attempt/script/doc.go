// Package script turns lines of intent ("six strokes on 2") into an attempt. A
// tick log breaks with every change of the model; what someone meant to do does
// not, so recorded attempts are kept as scripts and compiled to logs.
//
// A script is a text of lines; # begins a comment. It opens with
//
//	scenario ID
//	mode grade                     reasons, alone or grade
//	who A Student                  may be left out
//
// and goes on with any of
//
//	prepare                        everything the card asks for before the first hose
//	prepare without fuel glasses   less some of it: see Parts
//	6 strokes on 2                 hose on, turned to BDC, cranked, stopped, released, hose off
//	6 strokes on 2 as parked       from where the crank happens to stand
//	6 strokes on 2 and stay        the hose stays on, its pressure unreleased
//	10 ml in 3                     oil
//	leakage on 3                   tester on, cranked for a moment, turned to the top of its compression, wrench
//	                               off, air on, an ear everywhere (the cap of a warm engine stays on), air off,
//	                               tester off
//	leakage on 3 at overlap        one turn out; "as parked" without turning it at all
//	leakage on 3 wrench left       the wrench stays on the crank bolt
//	leakage on 3 by ear tailpipe   listened there alone
//	plugs in / plugs in but 2      all plugs, or all but some; plugs out
//	connect / disconnect           fuel and ignition
//	current for 5 s                the clamp round the starter cable while cranking
//	vacuum for 5 s                 likewise the vacuum gauge
//	running on 2                   the engine run with the gauge on 2: idle and snap
//	write dry 2 / write wet 2      first and last reading and strokes of the last run on it
//	write speed / voltage / temperature / throttle / spec / oil 3
//	write leakage 3                percent and supply of the last leakage test, and what was heard in it
//	write humps                    every cylinder's, from the last trace of the starter current
//	write running 3 / write vacuum / write repeat 3 / write second 3 / write refit 3
//	write timing_deg 18            of the whole engine; write timing_deg 2 18 of bank 2
//	heard throttle 3               where air was heard, written without having listened
//	write dry_last 2 1030000       any field, by its own unit
//	tick all / tick glasses fuel
//	conclude valve_leak 3          a family, and cylinders
//	sure likely
//	because dry wet first_stroke   evidence
//	next leakage
//	remark Cylinder 3 is low.
//	put back                       plugs, leads, fuel, ignition; start; codes
//	hand in
//	crank 2.5 s                    the switch held, whatever is fitted
//	do set-lash exhaust on 3 number 0.3   a valve set by feeler, after lash-check has the covers off
//	do plug-out loose on 2         any action: kind, choice, "on" cylinder, "number" n
//	refused plug_still_in: do hose-on on 2
//
// where the last one asserts that the line after the colon is refused so.
package script
