package intake

import (
	"strconv"
	"strings"
)

// A number is one as written. Where a mark before exactly three digits can also be
// the one of thousands, alt holds that reading, else it is 0.
type number struct {
	v, alt float64
	whole  bool // written without decimals
	text   string
}

// mostDigits bounds what is taken for a number at all.
const mostDigits = 15

// numberOf reads digits with at most one decimal mark and thousands in groups of
// three; a sign may stand before them.
func numberOf(text string) (number, bool) {
	s, sign := text, 1.0
	if rest, ok := strings.CutPrefix(s, "-"); ok {
		s, sign = rest, -1
	} else {
		s = strings.TrimPrefix(s, "+")
	}
	if s == "" || len(s) > mostDigits || strings.Trim(s, "0123456789.,") != "" || !strings.ContainsAny(s, "0123456789") {
		return number{}, false
	}
	whole, fraction, ok := marks(s)
	if !ok {
		return number{}, false
	}
	n := number{v: sign * decimal(whole, fraction), whole: fraction == "", text: text}
	if len(fraction) == 3 && len(whole) >= 1 && len(whole) <= 3 && whole[0] != '0' {
		n.alt = sign * decimal(whole+fraction, "")
	}
	return n, true
}

// marks parts a number at its decimal mark and takes thousands marks out.
func marks(s string) (whole, fraction string, ok bool) {
	dots, commas := strings.Count(s, "."), strings.Count(s, ",")
	switch {
	case dots+commas == 0:
		return s, "", true
	case dots+commas == 1:
		at := strings.IndexAny(s, ".,")
		return s[:at], s[at+1:], at+1 < len(s) || s[at] == '.'
	case dots == 0 || commas == 0:
		return groups(s)
	}
	at := strings.LastIndexAny(s, ".,")
	if strings.Count(s, s[at:at+1]) > 1 {
		return "", "", false
	}
	whole, _, ok = groups(s[:at])
	return whole, s[at+1:], ok && at+1 < len(s)
}

// groups reads whole thousands: one to three digits and then three after each mark.
func groups(s string) (whole, fraction string, ok bool) {
	parts := strings.FieldsFunc(s, func(r rune) bool { return r == '.' || r == ',' })
	if len(parts) != strings.Count(s, ".")+strings.Count(s, ",")+1 {
		return "", "", false
	}
	for i, p := range parts {
		if i > 0 && len(p) != 3 || len(p) > 3 || parts[0][0] == '0' {
			return "", "", false
		}
	}
	return strings.Join(parts, ""), "", true
}

// decimal is exact for what marks lets through: it holds digits alone.
func decimal(whole, fraction string) float64 {
	v, err := strconv.ParseFloat("0"+whole+"."+fraction+"0", 64)
	if err != nil {
		panic("intake: digits that are no number: " + whole + "." + fraction)
	}
	return v
}

// A commaRule says what commas inside numbers of one line mean.
type commaRule int

const (
	noCommas    commaRule = iota
	commasPart            // and it had to be decided
	commasPlain           // they part readings, what else
	commasDecimal
	commasDoubtful
)

// A run is digits, commas and points in a row, as they stand in a line.
type run struct {
	text  string
	named bool // a colon or equals sign follows: its last number names a cylinder
}

// commas decides what commas inside the runs of one line mean: see the package's
// comment for the rules.
func commas(runs []run) commaRule {
	var inner []string
	alone := len(runs) == 1
	for _, r := range runs {
		s := strings.Trim(r.text, ",")
		switch {
		case !strings.Contains(s, ","):
			continue
		case r.named:
			return commasPart
		case strings.Contains(s, "."):
			return pointed(s)
		case strings.Count(s, ",") > 1:
			return several(s)
		}
		inner = append(inner, s)
	}
	if len(inner) == 0 {
		return noCommas
	}
	fits := 0
	for _, s := range inner {
		if fractional(s) {
			fits++
		}
	}
	switch {
	case fits == 0:
		return commasPart
	case fits < len(inner):
		return commasDoubtful
	case alone && !thousandsOnly(inner[0]):
		return commasDoubtful
	}
	return commasDecimal
}

// several decides about a row with more than one comma. "10,5,10,4" can be two
// readings with decimal commas.
func several(s string) commaRule {
	parts := strings.Split(s, ",")
	if strings.Trim(s, "0,") == "" || len(parts)%2 == 1 {
		return commasPlain
	}
	for i := 1; i < len(parts); i += 2 {
		if len(parts[i]) != 1 {
			return commasPlain
		}
	}
	return commasDoubtful
}

// pointed decides about a row with points too: they are the decimal marks, unless
// thousands can be meant, as in "1.034,5".
func pointed(s string) commaRule {
	parts := strings.Split(s, ",")
	for i, part := range parts[:len(parts)-1] {
		at := strings.Index(part, ".")
		if at > 0 && at <= 3 && len(part) == at+4 && len(parts[i+1]) <= 2 {
			return commasDoubtful
		}
	}
	return commasPlain
}

// fractional reports whether a number with one comma reads well with a decimal
// comma: tenths of anything, hundredths of what can be bar, thousandths of what can
// be MPa.
func fractional(s string) bool {
	whole, fraction, _ := strings.Cut(s, ",")
	switch len(fraction) {
	case 1:
		return len(whole) >= 1
	case 2:
		return len(whole) >= 1 && len(whole) <= 2 && decimal(whole, "") <= 27
	case 3:
		return len(whole) == 1
	}
	return false
}

// thousandsOnly reports whether the comma stands for thousands or thousandths: 1,034
// kPa are 1.034 MPa.
func thousandsOnly(s string) bool {
	whole, fraction, _ := strings.Cut(s, ",")
	return len(fraction) == 3 && len(whole) == 1 && whole != "0"
}
