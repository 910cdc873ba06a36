package code

import "fmt"

// The 45 signs that a QR code packs two into eleven bits.
const signs45 = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:"

// Base45 writes bytes as text: three signs for two bytes, two for a last single
// one. Source: Faltstrom2022.
func Base45(data []byte) string {
	var out []byte
	for i := 0; i < len(data); i += 2 {
		n := int(data[i])
		if i+1 == len(data) {
			return string(append(out, signs45[n%45], signs45[n/45]))
		}
		n = n<<8 | int(data[i+1])
		out = append(out, signs45[n%45], signs45[n/45%45], signs45[n/2025])
	}
	return string(out)
}

// UnBase45 reads what Base45 wrote, and refuses what no writer writes.
// Source: Faltstrom2022.
func UnBase45(text string) ([]byte, error) {
	var out []byte
	for i := 0; i < len(text); i += 3 {
		part := text[i:min(i+3, len(text))]
		n, place := 0, 1
		for k := range len(part) {
			d := digit45(part[k])
			if d < 0 {
				return nil, fmt.Errorf("code: character %d is none of base45", i+k+1)
			}
			n += d * place
			place *= 45
		}
		switch {
		case len(part) == 1:
			return nil, fmt.Errorf("code: cut short: base45 never has one character left over")
		case len(part) == 2 && n > 0xff, n > 0xffff:
			return nil, fmt.Errorf("code: damaged: characters %d to %d stand for no bytes", i+1, i+len(part))
		case len(part) == 2:
			out = append(out, byte(n))
		default:
			out = append(out, byte(n>>8), byte(n))
		}
	}
	return out, nil
}

func digit45(b byte) int {
	for i := range len(signs45) {
		if signs45[i] == b {
			return i
		}
	}
	return -1
}
