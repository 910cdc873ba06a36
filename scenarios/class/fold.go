package class

import (
	"strings"
	"unicode"
)

// Fold makes names that a person takes for the same equal: case, accents, blanks and
// the order of combining marks don't count. It serves to recognise a name that was
// typed, never to change one.
func Fold(name string) string {
	var b strings.Builder
	gap := false
	for _, r := range name {
		switch {
		case unicode.Is(unicode.Mn, r) || r == '\'' || r == '’' || r == '`' || r == '.':
			continue // a combining accent, an apostrophe
		case !unicode.IsLetter(r) && !unicode.IsDigit(r):
			gap = b.Len() > 0
			continue
		}
		if gap {
			b.WriteByte(' ')
			gap = false
		}
		b.WriteString(plain(unicode.ToLower(r)))
	}
	return b.String()
}

// plain takes the accent off a small letter of the Latin alphabets.
func plain(r rune) string {
	if r < 0x80 {
		return string(r)
	}
	for _, row := range accents {
		for _, a := range row.with {
			if a == r {
				return row.without
			}
		}
	}
	return string(r)
}

var accents = [...]struct{ without, with string }{
	{"a", "áàâäãåāăą"}, {"c", "çćčċĉ"}, {"d", "ďđð"}, {"e", "éèêëēĕėęě"}, {"g", "ğģġĝ"}, {"h", "ħĥ"}, {"i", "íìîïĩīĭįı"},
	{"j", "ĵ"}, {"k", "ķ"}, {"l", "łļľĺ"}, {"n", "ñńňņ"}, {"o", "óòôöõøōŏő"}, {"r", "řŕŗ"}, {"s", "śšşșŝ"}, {"t", "ťţțŧ"},
	{"u", "úùûüũūŭůűų"}, {"w", "ŵẁẃẅ"}, {"y", "ýÿŷ"}, {"z", "žźż"}, {"ss", "ß"}, {"ae", "æ"}, {"oe", "œ"}, {"th", "þ"},
}
