// Package seal closes a hand-in so that only the instructor can open it: what a
// student did is then nobody else's to read on the way, in a mailbox or in a form's
// table.
//
// It is HPKE (RFC 9180; Source: Barnes2022) of the standard library, in its base mode: DHKEM(X25519,
// HKDF-SHA256), HKDF-SHA256, ChaCha20-Poly1305. The instructor makes a pair of keys
// and keeps one; the other travels in the assignment link. A sealed hand-in says
// nothing about who sealed it: anybody with the link can.
//
// It is no part of the page's core, which would grow by a fifth: the page fetches
// seal.wasm when there is something to seal or to open.
package seal
