package class

import (
	"strings"
	"unicode"
)

// Fold makes names that a person takes for the same equal: case, accents, blanks and
// the order of combining marks don't count. It serves to recognise a name that was
// typed, never to change one. Which letters are one with and without marks:
// Source: Unicode2021.
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

// plain takes the accent off a small letter of the Latin, Greek and Cyrillic alphabets,
// and a syllable of Hangul into its letters, as Unicode decomposes it.
func plain(r rune) string {
	const first, last, vowels, ends = 0xac00, 0xd7a3, 21, 28
	switch {
	case r < 0x80:
		return string(r)
	case r >= first && r <= last:
		n := r - first
		out := []rune{0x1100 + n/(vowels*ends), 0x1161 + n/ends%vowels}
		if n%ends > 0 {
			out = append(out, 0x11a7+n%ends)
		}
		return string(out)
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
	{"a", "áàâäãåāăąǎǟǡǻȁȃȧḁạảấầẩẫậắằẳẵặ"}, {"ae", "æǣǽ"}, {"b", "ḃḅḇ"}, {"c", "çćčċĉḉ"}, {"d", "ďđðḋḍḏḑḓ"},
	{"e", "éèêëēĕėęěȅȇȩḕḗḙḛḝẹẻẽếềểễệ"}, {"f", "ḟ"}, {"g", "ğģġĝǧǵḡ"}, {"h", "ħĥȟḣḥḧḩḫẖ"}, {"i", "íìîïĩīĭįıǐȉȋḭḯỉị"},
	{"j", "ĵǰ"}, {"k", "ķǩḱḳḵ"}, {"l", "łļľĺḷḹḻḽ"}, {"m", "ḿṁṃ"}, {"n", "ñńňņǹṅṇṉṋ"},
	{"o", "óòôöõøōŏőơǒǫǭǿȍȏȫȭȯȱṍṏṑṓọỏốồổỗộớờởỡợ"}, {"oe", "œ"}, {"p", "ṕṗ"}, {"r", "řŕŗȑȓṙṛṝṟ"}, {"s", "śšşșŝṡṣṥṧṩẛſ"},
	{"ss", "ß"}, {"t", "ťţțŧṫṭṯṱẗ"}, {"th", "þ"}, {"u", "úùûüũūŭůűųưǔǖǘǚǜȕȗṳṵṷṹṻụủứừửữự"}, {"v", "ṽṿ"}, {"w", "ŵẁẃẅẇẉẘ"},
	{"x", "ẋẍ"}, {"y", "ýÿŷȳẏẙỳỵỷỹ"}, {"z", "žźżẑẓẕ"},
	{"ʒ", "ǯ"}, {"ι", "ΐίϊ"}, {"α", "ά"}, {"ε", "έ"}, {"η", "ή"}, {"υ", "ΰϋύ"}, {"ο", "ό"}, {"ω", "ώ"}, {"ϒ", "ϓϔ"},
	{"и", "йѝӣӥ"}, {"е", "ѐёӗ"}, {"г", "ѓ"}, {"і", "ї"}, {"к", "ќ"}, {"у", "ўӯӱӳ"}, {"ѵ", "ѷ"}, {"ж", "ӂӝ"}, {"а", "ӑӓ"},
	{"ә", "ӛ"}, {"з", "ӟ"}, {"о", "ӧ"}, {"ө", "ӫ"}, {"э", "ӭ"}, {"ч", "ӵ"}, {"ы", "ӹ"},
}
