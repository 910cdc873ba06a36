package cli

import (
	"fmt"
	"io"
	"strings"

	"crankbay/scenarios"
)

// faultListed is one kind of fault as `list --faults --json` prints it.
type faultListed struct {
	Kind    string        `json:"kind"`
	Of      string        `json:"of"`              // where it sits
	Which   string        `json:"which,omitempty"` // name of a field that takes one of choice
	Choice  []string      `json:"choice,omitempty"`
	Numbers []faultNumber `json:"numbers"`
	Changes string        `json:"changes"`
}

type faultNumber struct {
	Name string  `json:"name"`
	Unit string  `json:"unit"`
	Lo   float64 `json:"lo"`
	Hi   float64 `json:"hi"`
	Int  bool    `json:"whole,omitempty"`
}

// changes says of each kind what it changes in the engine or the tools.
var changes = map[string]string{
	scenarios.ExhaustSeatLeak: "flow area past the shut exhaust valves of a cylinder",
	scenarios.IntakeSeatLeak:  "flow area past the shut intake valves of a cylinder",
	scenarios.BentValve:       "gap that one valve of a cylinder leaves at its seat",
	scenarios.ExhaustLash:     "clearance of the exhaust valves over specification; far under it they don't shut",
	scenarios.IntakeLash:      "clearance of the intake valves over specification; far under it they don't shut",
	scenarios.WeakSpring:      "spring force of a cylinder's valves, over that of new springs",
	scenarios.IntakeLift:      "share of the intake cam's lift that arrives (worn lobe, collapsed lifter, rocker off)",
	scenarios.ExhaustLift:     "share of the exhaust cam's lift that arrives (worn lobe, collapsed lifter, rocker off)",
	scenarios.CamTiming:       "cam position by teeth of its wheel, late or (negative) early",
	scenarios.StuckPhaser:     "cam position by crank degrees, late or (negative) early",
	scenarios.Interference:    "room between the piston at the top and a shut valve; valves that meet it bend",
	scenarios.ReleaseCam:      "cam that holds the exhaust valve off its seat below a speed, by crank angle after compression TDC",

	scenarios.WornRings:   "flow area past the rings, which oil seals",
	scenarios.StuckRing:   "flow area past a ring stuck in its groove, which oil seals",
	scenarios.BrokenRing:  "flow area between the pieces of a ring, which oil doesn't seal",
	scenarios.BrokenLand:  "flow area past a broken land, which oil doesn't seal",
	scenarios.ScoredBore:  "depth and total width of the scores, which oil doesn't seal",
	scenarios.HoledPiston: "hole in a piston",
	scenarios.DryBore:     "share of the oil film that turning doesn't bring back until oil or a run does",
	scenarios.WashedBore:  "share of the oil film that fuel has washed off, until oil or a run brings it back",

	scenarios.GasketBetween:   "flow area between two neighbours of one bank",
	scenarios.GasketToCoolant: "flow area from a cylinder to the coolant",
	scenarios.GasketToOutside: "flow area from a cylinder to the open air",
	scenarios.CrackedHead:     "flow area of a crack in the head, to the coolant or to the open air",
	scenarios.Carbon:          "volume of carbon in the chamber",
	scenarios.CarbonFlake:     "flow area past an exhaust valve on a flake of carbon, until the engine has run",
	scenarios.Liquid:          "liquid on a piston; enough of it locks the engine",

	scenarios.RestrictedExhaust: "flow area of the way out of the exhaust",
	scenarios.RestrictedIntake:  "flow area of the way into the intake",
	scenarios.VacuumLeak:        "flow area into the manifold behind the throttle",

	scenarios.WeakBattery:       "battery charge, and its resistance over that of a new one",
	scenarios.DischargedBattery: "battery charge",
	scenarios.Cold:              "temperature of the air, the battery and an engine that stood in it",
	scenarios.CableResistance:   "resistance of the live cable over that of a sound one",
	scenarios.GroundResistance:  "resistance of the ground over that of a sound one",
	scenarios.DraggingStarter:   "torque lost in the starter, at its pinion",
	scenarios.TightEngine:       "friction over that of the sound engine, as mean effective pressure",
	scenarios.ThickOil:          "viscosity of the oil at 40 and 100 °C",
	scenarios.Altitude:          "air pressure by height in the standard atmosphere",

	scenarios.TipValveLeak: "flow area back through the shut tip valve of a gauge",
	scenarios.TipValveAway: "valve at the gauge end of the hose: the hose adds to the chamber, this volume is left behind the valve",
	scenarios.ReleaseLeak:  "flow area through the release of a gauge at rest",
	scenarios.MissingORing: "flow area past the thread of an adapter without its O-ring",
	scenarios.WrongReach:   "thread length an adapter really has",
	scenarios.ZeroError:    "where a needle stands without pressure",
	scenarios.SpanError:    "slope error of a gauge",
	scenarios.StickyNeedle: "pressure change that doesn't yet move a needle",
}

// listFaults prints all kinds of fault with their numbers.
func listFaults(w io.Writer, asJSON bool) error {
	var all []faultListed
	for _, k := range scenarios.FaultKinds() {
		f := faultListed{Kind: k.Name, Of: k.Place, Which: k.Which, Choice: k.Choice, Changes: changes[k.Name]}
		for _, n := range k.Numbers {
			f.Numbers = append(f.Numbers, faultNumber{n.Name, n.Unit, n.Lo, n.Hi, n.Whole()})
		}
		all = append(all, f)
	}
	if asJSON {
		return writeJSON(w, all)
	}
	t := table{head: []string{"KIND", "OF", "NUMBERS", "CHANGES"}}
	for _, f := range all {
		var numbers []string
		if f.Which != "" {
			numbers = append(numbers, f.Which+" "+strings.Join(f.Choice, "|"))
		}
		for _, n := range f.Numbers {
			numbers = append(numbers, strings.TrimRight(fmt.Sprintf("%s %g … %g %s", n.Name, n.Lo, n.Hi, n.Unit), " "))
		}
		t.add(f.Kind, f.Of, strings.Join(numbers, ", "), f.Changes)
	}
	return t.write(w)
}
