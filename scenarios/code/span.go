package code

import "strings"

// Span returns how much of a text that follows Prefix belongs to the code: as many
// letters as its length asks for, with whatever mail put between them. When fewer are
// there, it ends where something else begins.
func Span(text string) int { return spanOf(text, 2) }

// SpanSealed is Span for what follows Sealed.
func SpanSealed(text string) int { return spanOf(text, 4) }

// spanOf reads a length of so many bytes from the first letters.
func spanOf(text string, lengthBytes int) int {
	var head []byte
	want, have := -1, 0
	first := (lengthBytes*8 + 5) / 6
	ended := false // a line ended since the last letter
	blank := 0     // until where blanks were looked at
	for i, r := range text {
		if i < blank {
			continue
		}
		if r >= 0x80 || letter(byte(r)) < 0 {
			if blank = i + blanks(text[i:]); !isGap(text, i, blank, r) || ended && r == '\n' {
				return beforePrefix(text[:i], r)
			}
			ended = ended || r == '\n'
			continue
		}
		ended = false
		if have++; have <= first {
			head = append(head, byte(r))
		}
		if have == first {
			want = ((lengthBytes+number(head, lengthBytes))*8 + 5) / 6
		}
		if have == want {
			return i + 1
		}
	}
	return len(text)
}

// number reads a whole number, high byte first, from base64url.
func number(head []byte, n int) (v int) {
	body, _ := letters(string(head))
	for _, b := range body[:n] {
		v = v<<8 | int(b)
	}
	return v
}

// beforePrefix is the end of what was read, less the beginning of another code: a
// code that was cut short must not swallow its neighbour.
func beforePrefix(read string, stop rune) int {
	for _, p := range []string{Prefix, PrefixQR, Sealed} {
		if word := p[:len(p)-1]; rune(p[len(p)-1]) == stop && strings.HasSuffix(read, word) {
			return len(read) - len(word)
		}
	}
	return len(read)
}

// blanks returns how many blanks a text begins with.
func blanks(text string) int { return len(text) - len(strings.TrimLeft(text, " \t")) }

// isGap tells whether a character may stand within a code: the end of a line, blanks
// around it (the first of them at i, what follows at end), the mark of a quoted mail, one
// that can't be seen.
func isGap(text string, i, end int, r rune) bool {
	switch r {
	case '\n', '\r', '>', '\u00a0', '\u200b', '\u00ad', '\ufeff':
		return true
	case ' ', '\t':
		return i == 0 || end == len(text) || strings.ContainsAny(text[i-1:i], "\n>") || strings.ContainsAny(text[end:end+1], "\r\n")
	}
	return false
}

// SpanQR is Span for what follows PrefixQR. Nothing stands within such a code that is none
// of its signs, and one that was cut short, or says it is longer than it is, must not
// swallow its neighbour.
func SpanQR(text string) int {
	if len(text) < 3 {
		return len(text)
	}
	head, err := UnBase45(text[:3])
	if err != nil || len(head) < 2 {
		return 3
	}
	bytes := int(head[0])<<8 | int(head[1]) + 2
	signs := min(bytes/2*3+bytes%2*2+len(endQR), len(text))
	for i := range signs {
		if digit45(text[i]) < 0 {
			signs = i
			break
		}
	}
	if text = text[:signs]; !strings.HasSuffix(text, endQR) {
		for _, p := range []string{Prefix, PrefixQR, Sealed} {
			if at := strings.Index(text, p); at >= 0 {
				text = text[:at]
			}
		}
	}
	return len(text)
}
