package compose

import (
	"strings"

	"crankbay/diagnose"
	"crankbay/scenarios"
	"crankbay/scenarios/book"
)

// audible is how much air a person with an ear to the place notices [g/s], as the
// bench takes it.
const audible = 0.1

// heardAt are the places of the ways that air goes.
var heardAt = map[string]string{
	book.AirIntake: diagnose.HeardThrottle, book.AirExhaust: diagnose.HeardTailpipe, book.AirCrankcase: diagnose.HeardFiller,
	book.AirNeighbour: diagnose.HeardNeighbour, book.AirCoolant: diagnose.HeardNeck, book.AirOutside: diagnose.HeardEdge,
}

// heard lists where the air of one leakage test would be heard.
func heard(k book.Leak) []string {
	out := []string{}
	for _, a := range k.Air {
		if place := heardAt[a.Path]; place != "" && a.GramsPerS >= audible {
			out = append(out, place)
		}
	}
	if len(out) == 0 {
		out = append(out, diagnose.HeardNowhere)
	}
	return out
}

// plain notes what needs no thought.
func (l *Look) plain(s *scenarios.Scenario) {
	scale := s.Tools.Gauges[0].RangePSI
	for _, r := range append(append([]book.Reading{}, l.Dry...), l.Wet...) {
		switch {
		case r.FinalPSI >= scale:
			l.warn(Warning{Key: WarnOffScale, Cylinder: r.Cylinder, Value: r.FinalPSI, Limit: scale})
		case r.Strokes == 0:
			l.warn(Warning{Key: WarnNothing, Cylinder: r.Cylinder})
		}
	}
	for _, t := range []scenarios.Text{s.Title, s.Complaint, s.History} {
		if (t.EN == "") != (t.ES == "") {
			l.warn(Warning{Key: WarnOneLang})
			break
		}
	}
	if s.Key.Family != diagnose.FamilySound && tells(s) {
		l.warn(Warning{Key: WarnTells})
	}
}

// giveaways are words in a story that name what is wrong, by family.
var giveaways = map[string][]string{
	diagnose.FamilyValveLeak:   {"burnt valve", "burned valve", "válvula quemada", "leaking valve"},
	diagnose.FamilyRingOrBore:  {"worn ring", "bad ring", "broken ring", "anillos gastados", "anillo roto"},
	diagnose.FamilyHeadGasket:  {"head gasket", "empaque de cabeza", "junta de cabeza", "junta de culata"},
	diagnose.FamilyValveTiming: {"jumped a tooth", "one tooth off", "brincó un diente", "un diente"},
	diagnose.FamilyTightLash:   {"tight lash", "holgura cerrada"},
}

func tells(s *scenarios.Scenario) bool {
	for _, t := range []scenarios.Text{s.Title, s.Complaint, s.History} {
		text := strings.ToLower(t.EN + "\n" + t.ES)
		for _, word := range giveaways[s.Key.Family] {
			if strings.Contains(text, word) {
				return true
			}
		}
	}
	return false
}
