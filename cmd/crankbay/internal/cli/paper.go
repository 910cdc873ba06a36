package cli

import (
	"fmt"
	"html"
	"io"
	"strings"

	"crankbay/scenarios"
	"crankbay/scenarios/book"
	"crankbay/scenarios/class"
	"crankbay/scenarios/code/qr"
	"crankbay/sim/unit"
	"crankbay/web/strings/words"
)

// A page writes sheets for a printer: one file of HTML, black on white, that needs
// nothing else.
type page struct {
	words             words.Words
	lang, paper, base string
	unit              string // psi, kPa or bar
}

const sheetStyle = `
@page { size: %s portrait; margin: 12mm }
* { box-sizing: border-box }
body { margin: 0; color: #000; background: #fff; font: 10pt/1.35 system-ui, "Liberation Sans", Arial, sans-serif }
h1 { font-size: 15pt; margin: 0 0 2mm } h2 { font-size: 13pt; margin: 0 0 1mm } p { margin: 0 0 1.5mm }
.slips { display: grid; grid-template-columns: 1fr 1fr; gap: 0 }
.slip { border: 0.3mm dashed #000; padding: 4mm 5mm; height: 125mm; break-inside: avoid; overflow: hidden }
.slip svg { display: block; width: 58mm; height: 58mm; margin: 0 auto 1mm }
.slip p { font-size: 9.5pt; line-height: 1.25 } .small, .slip p.small { font-size: 8.5pt; font-weight: normal }
table { border-collapse: collapse; width: 100%% } th, td { border: 0.2mm solid #000; padding: 1mm 1.5mm; text-align: left; vertical-align: top }
thead { display: table-header-group } tr { break-inside: avoid } .n { text-align: right; white-space: nowrap }
`

func (p page) say(key string, params ...any) string {
	return html.EscapeString(p.words.Say(key, params...))
}

func (p page) open(w io.Writer, title string) error {
	size := map[string]string{"letter": "letter", "a4": "A4"}[p.paper]
	_, err := fmt.Fprintf(w, "<!doctype html>\n<html lang=%q><head><meta charset=\"utf-8\"><title>%s</title><style>%s</style></head><body>\n",
		p.lang, title, fmt.Sprintf(sheetStyle, size))
	return err
}

// slips are cut apart and given out: one to a student, four to a page.
func (p page) slips(w io.Writer, g *class.Class, answers []class.Answer) error {
	if err := p.open(w, p.say("paper.slips", "class", g.Name)); err != nil {
		return err
	}
	fmt.Fprintln(w, `<main class="slips">`)
	for _, a := range answers {
		square, err := qr.Draw(p.base + "#" + a.Link)
		if err != nil {
			return err
		}
		fmt.Fprintf(w, "<section class=\"slip\"><h2>%s</h2>\n", html.EscapeString(a.Who))
		fmt.Fprintf(w, "<p>%s</p>\n", html.EscapeString(strings.Trim(g.Name+" · "+p.text(g.Scenario.Title), " ·")))
		if a.Minutes > 0 {
			fmt.Fprintf(w, "<p>%s</p>\n", p.say("paper.minutes", "n", a.Minutes))
		}
		fmt.Fprintln(w, square.SVG(p.words.Say("paper.square", "who", a.Who)))
		fmt.Fprintf(w, "<p>%s</p>\n<p class=\"small\">%s</p>\n<p class=\"small\">%s</p></section>\n",
			p.say("paper.how"), p.say("paper.handin"), p.say("paper.simulated"))
	}
	_, err := fmt.Fprintln(w, "</main></body></html>")
	return err
}

// answers are for the instructor.
func (p page) answers(w io.Writer, g *class.Class, answers []class.Answer) error {
	if err := p.open(w, p.say("paper.answers", "class", g.Name)); err != nil {
		return err
	}
	fmt.Fprintf(w, "<main><h1>%s</h1>\n<p>%s</p>\n<p>%s</p>\n", p.say("paper.answers", "class", g.Name),
		html.EscapeString(p.text(g.Scenario.Title)+" · "+p.text(g.Scenario.Engine.Name)), p.say("paper.private"))
	if len(g.Tags) > 0 {
		fmt.Fprintf(w, "<p>%s</p>\n", p.say("paper.tags", "list", strings.Join(g.Tags, "; ")))
	}
	fmt.Fprint(w, "<table><thead><tr>")
	for _, key := range []string{"paper.student", "paper.inside", "paper.answer", "paper.dry", "paper.wet"} {
		fmt.Fprintf(w, "<th scope=\"col\">%s</th>", p.say(key))
	}
	fmt.Fprintln(w, "</tr></thead><tbody>")
	for _, a := range answers {
		fmt.Fprintf(w, "<tr><th scope=\"row\">%s<br><span class=\"small\">%s%s</span></th><td>%s</td><td>%s</td><td class=\"n\">%s</td><td class=\"n\">%s</td></tr>\n",
			html.EscapeString(a.Who), a.Variant, p.time(a), p.faults(a.Faults), p.answer(a), p.dial(a.Dry), p.dial(a.Wet))
	}
	_, err := fmt.Fprintf(w, "</tbody></table><p class=\"small\">%s</p></main></body></html>\n", p.say("paper.unit", "unit", p.unit))
	return err
}

// text is a scenario's own text in the language of the page, or in the other one.
func (p page) text(t scenarios.Text) string {
	if p.lang == "es" && t.ES != "" || t.EN == "" {
		return t.ES
	}
	return t.EN
}

func (p page) faults(list []scenarios.Fault) string {
	return strings.ReplaceAll(html.EscapeString(strings.Join(p.faultTexts(list), "\n")), "\n", "<br>")
}

// faultTexts says what is wrong, each with its numbers.
func (p page) faultTexts(list []scenarios.Fault) []string {
	if len(list) == 0 {
		return []string{p.words.Say("fault.none")}
	}
	var out []string
	for _, f := range list {
		s := ""
		if f.Kind == scenarios.CamTiming {
			which, n := "late", f.TeethLate
			if n < 0 {
				which, n = "early", -n
			}
			s = p.words.Say("fault.cam_timing."+which, "n", n, "cam", p.words.Say("cam."+f.Cam))
		} else {
			s = p.words.Say("fault." + f.Kind)
		}
		at := f.Cylinders
		if f.Cylinder > 0 {
			at = []int{f.Cylinder}
		}
		if len(at) > 0 {
			s += " (" + p.cylinders(at) + ")"
		}
		if k := scenarios.KindOf(f.Kind); k != nil && f.Kind != scenarios.CamTiming {
			for _, n := range k.Numbers {
				s += fmt.Sprintf(", %g %s", n.Of(f), n.Unit)
			}
		}
		out = append(out, strings.TrimSpace(s))
	}
	return out
}

func (p page) cylinders(list []int) string {
	return p.words.Say("paper.cylinders", "n", len(list), "list", strings.ReplaceAll(numbers(list), " ", ", "))
}

func (p page) answer(a class.Answer) string {
	s := p.words.Say("family." + a.Key.Family)
	if len(a.Key.Cylinders) > 0 {
		s += " (" + p.cylinders(a.Key.Cylinders) + ")"
	}
	return html.EscapeString(s)
}

// time is how long a student has where that is another time than the others'.
func (p page) time(a class.Answer) string {
	switch {
	case a.Extra == 0:
		return ""
	case a.Minutes == 0:
		return "<br>" + p.say("paper.extra", "n", a.Extra)
	}
	return "<br>" + p.say("paper.extra", "n", a.Extra) + ", " + p.say("paper.minutes", "n", a.Minutes)
}

func (p page) dial(list []book.Reading) string {
	var out []string
	for _, r := range list {
		out = append(out, fmt.Sprintf("%d: %s", r.Cylinder, p.pressure(r.FinalPSI)))
	}
	return strings.Join(out, "<br>")
}

// pressure writes a reading in the unit of the page.
func (p page) pressure(psi float64) string {
	g := unit.PSI(psi)
	switch p.unit {
	case "kPa":
		return fmt.Sprintf("%.0f", float64(g)/1000)
	case "bar":
		return fmt.Sprintf("%.2f", g.Bar())
	}
	return fmt.Sprintf("%.1f", psi)
}
