package num

import "encoding/binary"

// sha256K are the first 32 bits of the fractional parts of the cube roots of the first 64
// primes.
var sha256K = [64]uint32{
	0x428a2f98, 0x71374491, 0xb5c0fbcf, 0xe9b5dba5, 0x3956c25b, 0x59f111f1, 0x923f82a4, 0xab1c5ed5,
	0xd807aa98, 0x12835b01, 0x243185be, 0x550c7dc3, 0x72be5d74, 0x80deb1fe, 0x9bdc06a7, 0xc19bf174,
	0xe49b69c1, 0xefbe4786, 0x0fc19dc6, 0x240ca1cc, 0x2de92c6f, 0x4a7484aa, 0x5cb0a9dc, 0x76f988da,
	0x983e5152, 0xa831c66d, 0xb00327c8, 0xbf597fc7, 0xc6e00bf3, 0xd5a79147, 0x06ca6351, 0x14292967,
	0x27b70a85, 0x2e1b2138, 0x4d2c6dfc, 0x53380d13, 0x650a7354, 0x766a0abb, 0x81c2c92e, 0x92722c85,
	0xa2bfe8a1, 0xa81a664b, 0xc24b8b70, 0xc76c51a3, 0xd192e819, 0xd6990624, 0xf40e3585, 0x106aa070,
	0x19a4c116, 0x1e376c08, 0x2748774c, 0x34b0bcb5, 0x391c0cb3, 0x4ed8aa4a, 0x5b9cca4f, 0x682e6ff3,
	0x748f82ee, 0x78a5636f, 0x84c87814, 0x8cc70208, 0x90befffa, 0xa4506ceb, 0xbef9a3f7, 0xc67178f2,
}

// SHA256 is the hash of that name. The standard library's would bring ciphers and
// self-tests that no program of the page needs, 48 kB on the wire.
// Source: SecureHash2015, section 6.2.
func SHA256(data []byte) (sum [32]byte) {
	h := [8]uint32{0x6a09e667, 0xbb67ae85, 0x3c6ef372, 0xa54ff53a, 0x510e527f, 0x9b05688c, 0x1f83d9ab, 0x5be0cd19}
	n := len(data)
	for ; len(data) >= 64; data = data[64:] {
		sha256Block(&h, data)
	}
	var last [128]byte
	end := 64
	if copy(last[:], data); len(data) > 55 {
		end = 128
	}
	last[len(data)] = 0x80
	binary.BigEndian.PutUint64(last[end-8:], uint64(n)*8)
	for at := 0; at < end; at += 64 {
		sha256Block(&h, last[at:])
	}
	for i, v := range h {
		binary.BigEndian.PutUint32(sum[4*i:], v)
	}
	return sum
}

func turned(x uint32, n uint) uint32 { return x>>n | x<<(32-n) }

// sha256Block takes in the first 64 bytes of p.
func sha256Block(h *[8]uint32, p []byte) {
	var w [64]uint32
	for i := range 16 {
		w[i] = binary.BigEndian.Uint32(p[4*i:])
	}
	for i := 16; i < 64; i++ {
		x, y := w[i-15], w[i-2]
		w[i] = w[i-16] + (turned(x, 7) ^ turned(x, 18) ^ x>>3) + w[i-7] + (turned(y, 17) ^ turned(y, 19) ^ y>>10)
	}
	v := *h
	for i := range 64 {
		a, e := v[0], v[4]
		one := v[7] + (turned(e, 6) ^ turned(e, 11) ^ turned(e, 25)) + (e&v[5] ^ ^e&v[6]) + sha256K[i] + w[i]
		two := (turned(a, 2) ^ turned(a, 13) ^ turned(a, 22)) + (a&v[1] ^ a&v[2] ^ v[1]&v[2])
		v = [8]uint32{one + two, a, v[1], v[2], v[3] + one, e, v[5], v[6]}
	}
	for i := range h {
		h[i] += v[i]
	}
}
