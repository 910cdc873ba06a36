package intake

import (
	"slices"
	"strconv"
	"strings"
)

// placeWords puts a value of words where it belongs.
func (p *parser) placeWords(r *Readings, x raw) *Error {
	switch x.f.kind {
	case kindWords:
		heard, err := heardOf(x)
		if err != nil {
			return err
		}
		r.Cylinders[x.cyl-1].Heard = heard
	case kindBank:
		bank, ok := bankOf(x.text)
		if !ok {
			return trouble(x.at, ErrBanks, x.text)
		}
		r.Cylinders[x.cyl-1].Bank = bank
	case kindBore:
		c := &r.Cylinders[x.cyl-1]
		return pick(x, boreWords, &c.Bore)
	case kindDead:
		c := &r.Cylinders[x.cyl-1]
		return pick(x, deadWords, &c.Dead)
	case kindLayout:
		return r.layout(x)
	case kindAnswer:
		return r.answer(x)
	case kindHistory:
		return r.history(x)
	}
	return nil
}

// heardOf reads places: "exhaust", "tailpipe and oil filler".
func heardOf(x raw) ([]string, *Error) {
	var out []string
	text := strings.NewReplacer(",", "|", ";", "|", "+", "|", "/", "|", "&", "|").Replace(x.text)
	text = strings.ReplaceAll(strings.ReplaceAll(" "+plain(text)+" ", " and ", "|"), " y ", "|")
	for _, w := range strings.Split(text, "|") {
		w = strings.TrimSpace(w)
		if w == "" || w == "-" || w == "?" {
			continue
		}
		places := placesOf(w)
		if places == nil {
			return nil, trouble(x.at, ErrHeard, w)
		}
		for _, place := range places {
			if !slices.Contains(out, place) {
				out = append(out, place)
			}
		}
	}
	return out, nil
}

// placesOf reads places that stand one behind the other, the longest name first; nil when
// a word is left over.
func placesOf(text string) []string {
	all := strings.Fields(text)
	var out []string
	for i := 0; i < len(all); {
		k := len(all)
		place := ""
		for ; k > i; k-- {
			if place = placeOf(strings.Join(all[i:k], " ")); place != "" {
				break
			}
		}
		if place == "" {
			return nil
		}
		out = append(out, place)
		i = k
	}
	return out
}

// placeOf returns the place of a name, empty for none.
func placeOf(w string) string {
	bare := strings.TrimPrefix(strings.TrimPrefix(w, "at "), "the ")
	for _, row := range places() {
		if w == row.place || w == strings.ReplaceAll(row.place, "_", " ") || slices.Contains(strings.Split(row.names, "|"), bare) {
			return row.place
		}
	}
	return ""
}

// bankOf reads the name of a bank: a number, a letter, a side.
func bankOf(text string) (int, bool) {
	switch s := plain(text); s {
	case "a", "l", "left", "izquierda", "izquierdo", "port", "babor", "bank 1", "b1":
		return 1, true
	case "b", "r", "right", "derecha", "derecho", "d", "starboard", "estribor", "bank 2", "b2":
		return 2, true
	default:
		n, err := strconv.Atoi(s)
		return n, err == nil && n >= 1 && n <= MaxCylinders
	}
}

func (r *Readings) layout(x raw) *Error {
	s := strings.TrimSpace(strings.TrimRight(plain(x.text), "0123456789")) // a V8 is a V
	for _, w := range []string{" single", " twin", " three", " four", " five", " six", " eight", " engine"} {
		s = strings.TrimSuffix(s, w)
	}
	for _, l := range []struct{ value, said string }{
		{"inline", "inline|in line|i|l|r|straight|row|linea|en linea|single"}, {"v", "v|en v|vee"}, {"flat", "flat|boxer|opposed|horizontally opposed|horizontal|h|f|b|opuesto|opuestos|plano"},
	} {
		if slices.Contains(strings.Split(l.said, "|"), s) {
			r.Engine.Layout = l.value
			return nil
		}
	}
	return trouble(x.at, ErrValue, x.text)
}

// A choice is a word for a value and the words it is said by.
type choice struct{ value, said string }

var (
	yesNo     = []choice{{Yes, "yes|y|true|ok|1|si|s"}, {No, "no|n|false|0"}, {Unknown, "unknown|not known|desconocido|no se"}}
	boreWords = []choice{
		{"clean", "clean|good|ok|limpio|bien"}, {"hole", "hole|holed|agujero|perforado"}, {"scored", "scored|scoring|scratched|rayado|rayada"},
		{"liquid", "liquid|wet|coolant|oil|liquido|mojado"}, {"carbon", "carbon|deposits|carbonilla"},
	}
	deadWords = append([]choice{{Yes, "dead|weak|no drop|muerto|debil|no cae"}, {No, "pulls|good|drops|jala|cae"}}, yesNo...)
)

// answers are the words for a condition of the engine: as it should be, otherwise.
var answers = []struct {
	name string
	said []choice
	to   func(*Engine) *string
}{
	{"throttle", []choice{{Yes, "open|held open|wide open|wot|abierto|abierta|todo abierto|a fondo"}, {No, "closed|shut|not open|cerrado|cerrada"}}, func(e *Engine) *string { return &e.Throttle }},
	{"warm", []choice{{Yes, "hot|warm|caliente|at temperature"}, {No, "cold|frio|fria"}}, func(e *Engine) *string { return &e.Warm }},
	{"plugs", []choice{{Yes, "out|all out|removed|fuera|quitadas|todas fuera"}, {No, "in|left in|puestas|other plugs in"}}, func(e *Engine) *string { return &e.Plugs }},
	{"equal", []choice{{Yes, "equal|same|iguales|los mismos"}, {No, "unequal|different|distintos|desiguales"}}, func(e *Engine) *string { return &e.Equal }},
	{"cooling", []choice{{Yes, "falls|drops|leaks|baja|cae|pierde"}, {No, "holds|tight|aguanta|mantiene"}}, func(e *Engine) *string { return &e.Cooling }},
	{"two-stroke", []choice{{Yes, "two|2"}, {No, "four|4"}}, func(e *Engine) *string { return &e.TwoStroke }},
}

func (r *Readings) answer(x raw) *Error {
	for _, a := range answers {
		if a.name == x.f.name {
			return pick(x, append(a.said, yesNo...), a.to(&r.Engine))
		}
	}
	return trouble(x.at, ErrValue, x.text)
}

// pick finds what was said among the choices.
func pick(x raw, choices []choice, to *string) *Error {
	s := plain(x.text)
	for _, c := range choices {
		if slices.Contains(strings.Split(c.said, "|"), s) {
			*to = c.value
			return nil
		}
	}
	return trouble(x.at, ErrValue, x.text)
}

func (r *Readings) history(x raw) *Error {
	for _, w := range strings.FieldsFunc(x.text, func(c rune) bool { return c == ',' || c == ';' || c == '|' }) {
		s := plain(w)
		if s == "" {
			continue
		}
		key := historyOf(s)
		if key == "" {
			return trouble(x.at, ErrHistory, w)
		}
		if !slices.Contains(r.Engine.History, key) {
			r.Engine.History = append(r.Engine.History, key)
		}
	}
	return nil
}

// histories lists what can be said about an engine's past and its complaint, and in
// which other words.
var histories = []struct{ word, also string }{
	{"misfire", "misfires|misfiring|miss|missing|rough|rough idle|falla|fallas"},
	{"misfire_under_load", "misfires under load|power loss|falla con carga"},
	{"no_complaint", "check only|sin queja"},
	{"no_start", "wont start|won't start|no start|does not start|no arranca"},
	{"sudden", "suddenly|de golpe|de repente"},
	{"stood_long", "stood|sat|sat long|long storage|parked long|stored|estuvo parado|parado"},
	{"fuel_washed", "flooded|fuel in oil|gas in oil|gasoline in oil|ahogado|inundado|gasolina en el aceite"},
	{"overheated", "hot|overheating|ran hot|sobrecalentado|se calento"},
	{"coolant_lost", "coolant loss|losing coolant|loses coolant|pierde refrigerante"},
	{"burns_oil", "oil used|uses oil|burning oil|oil burnt|smokes blue|gasta aceite|quema aceite"},
	{"crankcase_blows", "blow by|blowby|sopla el carter"},
	{"valve_noise", "ticking|noise|ruido de valvulas"},
	{"valve_work", "valves adjusted|valve job|head work|trabajo de valvulas"},
	{"timing_work", "belt changed|new belt|new timing belt|chain changed|cambio de banda|banda cambiada"},
	{"cranks_slow", "slow cranking|gira lento"},
	{"boosted", "turbo|supercharged"},
	{"lash_checked", "lash ok|holguras revisadas"},
	{"oil_helped", "wet helped|el aceite ayudo"},
	{"oil_no_change", "wet no change|el aceite no cambio nada"},
	{"water_in", "flooded by water|water|entro agua"},
	{"new_rings", "rebuilt|fresh rebuild|anillos nuevos"},
}

// historyOf returns the word for what was said; empty when there is none.
func historyOf(said string) string {
	for _, h := range histories {
		if said == strings.ReplaceAll(h.word, "_", " ") || slices.Contains(strings.Split(h.also, "|"), said) {
			return h.word
		}
	}
	return ""
}

// Histories lists the words a history can be put in.
func Histories() []string {
	var out []string
	for _, h := range histories {
		out = append(out, h.word)
	}
	return out
}

// firing reads a firing order: "1-3-4-2", "1,3,4,2", "1342".
func (r *Readings) firing(x raw) *Error {
	parts := numbersIn(x.text)
	if len(parts) == 1 && len(r.Cylinders) <= 9 && len(parts[0]) == len(r.Cylinders) {
		parts = strings.Split(parts[0], "")
	}
	order, ok := once(parts, len(r.Cylinders))
	if !ok {
		return trouble(x.at, ErrFiringOrder, x.text)
	}
	r.Engine.FiringOrder = order
	return nil
}

// once reads numbers that name each of n cylinders once.
func once(parts []string, n int) ([]int, bool) {
	var out []int
	for _, s := range parts {
		c, err := strconv.Atoi(s)
		if err != nil || c < 1 || c > n || slices.Contains(out, c) {
			return nil, false
		}
		out = append(out, c)
	}
	return out, len(out) == n
}

// banks reads the banks of all cylinders: "1,1,2,2" gives each its bank in order,
// "1-3-5-7/2-4-6-8" lists the cylinders of each, front to rear.
func (r *Readings) banks(x raw) *Error {
	n := len(r.Cylinders)
	if strings.ContainsAny(x.text, "/|;") {
		var all []string
		rows := strings.FieldsFunc(x.text, func(c rune) bool { return c == '/' || c == '|' || c == ';' })
		for i, row := range rows {
			parts := numbersIn(row)
			all = append(all, parts...)
			for _, s := range parts {
				if c, err := strconv.Atoi(s); err == nil && c >= 1 && c <= n {
					r.Cylinders[c-1].Bank = i + 1
				}
			}
		}
		if _, ok := once(all, n); !ok {
			return trouble(x.at, ErrBanks, x.text)
		}
		return nil
	}
	parts := strings.FieldsFunc(x.text, func(c rune) bool { return c == ',' || c == ' ' || c == '-' })
	if len(parts) != n {
		return trouble(x.at, ErrBanks, x.text)
	}
	for i, s := range parts {
		bank, ok := bankOf(s)
		if !ok {
			return trouble(x.at, ErrBanks, x.text)
		}
		r.Cylinders[i].Bank = bank
	}
	return nil
}

// bankMap checks that all cylinders have a bank or none, and tells when nobody said
// where they stand.
func (p *parser) bankMap(r *Readings) *Error {
	with := 0
	for _, c := range r.Cylinders {
		if c.Bank > 0 {
			with++
		}
	}
	if with > 0 && with < len(r.Cylinders) {
		return trouble(p.lastBank(), ErrBanks, "")
	}
	if with == 0 && len(r.Cylinders) > 2 && (r.Engine.Layout == "v" || r.Engine.Layout == "flat") {
		p.tell(Note{Key: NoteBanksGuessed})
	}
	return nil
}

func (p *parser) lastBank() place {
	var at place
	for _, x := range p.raws {
		if x.f.kind == kindBank {
			at = x.at
		}
	}
	return at
}

// Banks returns the cylinders of each bank, nil when nobody said and more than one
// answer is possible. An inline engine has one bank.
func (r Readings) Banks() [][]int {
	var out [][]int
	for b := 1; b <= MaxCylinders; b++ {
		var bank []int
		for _, c := range r.Cylinders {
			if c.Bank == b || b == 1 && c.Bank == 0 && r.Engine.Layout == "inline" {
				bank = append(bank, c.Number)
			}
		}
		if bank != nil {
			out = append(out, bank)
		}
	}
	return out
}
