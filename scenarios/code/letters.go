package code

// joined leaves out what mail and chat put between the characters of a code or an
// address: blanks, line breaks, marks of quoting, invisible ones.
func joined(s string) string {
	var out []byte
	for _, r := range s {
		switch r {
		case ' ', '\t', '\r', '\n', '>', '<', '\u00a0', '\u200b', '\u00ad', '\ufeff':
		default:
			if r > 0x7e {
				r = '?' // none of any code
			}
			out = append(out, byte(r))
		}
	}
	return string(out)
}

// letters reads base64url, also when its end is missing: then a last group that is
// no whole byte is left out. at is the place of the first character that is none,
// counted from 1, else 0. The standard decoder says where a text is broken, but not
// how much of a broken one arrived.
func letters(text string) (body []byte, at int) {
	bits, have := uint32(0), 0
	for i := range len(text) {
		v := letter(text[i])
		if v < 0 {
			return nil, i + 1
		}
		bits, have = bits<<6|uint32(v), have+6
		if have >= 8 {
			have -= 8
			body = append(body, byte(bits>>have))
		}
	}
	if bits&(1<<have-1) != 0 || have == 6 {
		body = append(body, 0) // what no writer leaves over: one byte too many
	}
	return body, 0
}

// letter returns what a character of base64url stands for, or -1.
func letter(b byte) int {
	switch {
	case b >= 'A' && b <= 'Z':
		return int(b - 'A')
	case b >= 'a' && b <= 'z':
		return int(b-'a') + 26
	case b >= '0' && b <= '9':
		return int(b-'0') + 52
	case b == '-':
		return 62
	case b == '_':
		return 63
	}
	return -1
}
