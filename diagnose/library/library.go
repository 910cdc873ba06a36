package library

import (
	"encoding/binary"
	"encoding/hex"
	"errors"
	"fmt"
	"math"

	"crankbay/sim/num"
)

// Format is the version of the file.
const Format = 1

// A Family is one way an engine can be, with examples.
type Family struct {
	Name     string
	Scope    Scope
	Count    int
	Values   []float64 // Count rows of Scope.Width() numbers; NaN where the test can't be done
	EngineOf []uint8   // of each row, its place in Library.Engines
	Widths   []float64 // of each number, how far its example speaks for others: see spread
}

// Row returns one example.
func (f *Family) Row(i int) []float64 {
	w := f.Scope.Width()
	return f.Values[i*w : (i+1)*w]
}

// A Library is what one run of the generator found.
type Library struct {
	Model    int      // version of the simulation it was made with
	Seed     uint64   // of the generator
	Engines  []string // the designs the examples come from
	Families []Family
	Digest   string // hex, of the file
}

// Family returns a family by its name, nil when the library has none of it.
func (l *Library) Family(name string) *Family {
	for i := range l.Families {
		if l.Families[i].Name == name {
			return &l.Families[i]
		}
	}
	return nil
}

// Bounds on what a file may hold.
const (
	mostFamilies = 200
	mostEngines  = 200
	mostExamples = 20000
	mostName     = 64
	digestBytes  = 32
	missing      = 0xffff
	steps        = 0xfffe
	magic        = "CBLK"
	digestShown  = 8 // bytes of the digest that are shown
)

// Encode writes the library and sets its digest.
//
//	"CBLK", format, model (16 bit each), seed (64), checksum of the features (32), engines (8),
//	names; families (8), each: name, scope (8), examples (16), engine of each (8), numbers (16);
//	SHA-256 of all before. Little endian; a name is its length (8) and its bytes.
//
// A number is its step between the feature's Low and High; 65,535 is none.
func (l *Library) Encode() ([]byte, error) {
	if err := l.check(); err != nil {
		return nil, err
	}
	b := []byte(magic)
	b = binary.LittleEndian.AppendUint16(b, Format)
	b = binary.LittleEndian.AppendUint16(b, uint16(l.Model))
	b = binary.LittleEndian.AppendUint64(b, l.Seed)
	b = binary.LittleEndian.AppendUint32(b, scale())
	b = append(b, byte(len(l.Engines)))
	for _, e := range l.Engines {
		b = appendName(b, e)
	}
	b = append(b, byte(len(l.Families)))
	for i := range l.Families {
		f := &l.Families[i]
		b = appendName(b, f.Name)
		b = append(b, byte(f.Scope))
		b = binary.LittleEndian.AppendUint16(b, uint16(f.Count))
		b = append(b, f.EngineOf...)
		table := f.Scope.table()
		for k, v := range f.Values {
			b = binary.LittleEndian.AppendUint16(b, table[k%len(table)].step(v))
		}
	}
	sum := num.SHA256(b)
	l.Digest = hex.EncodeToString(sum[:digestShown])
	return append(b, sum[:]...), nil
}

func (l *Library) check() error {
	switch {
	case l.Model < 0 || l.Model > math.MaxUint16:
		return fmt.Errorf("library: model version %d is out of range", l.Model)
	case len(l.Engines) > mostEngines || len(l.Families) > mostFamilies:
		return errors.New("library: too many engines or families")
	}
	for _, e := range l.Engines {
		if len(e) > mostName {
			return fmt.Errorf("library: engine name %.20q… is too long", e)
		}
	}
	for i := range l.Families {
		f := &l.Families[i]
		if len(f.Name) > mostName || f.Scope > OfEngine || f.Count < 1 || f.Count > mostExamples ||
			len(f.EngineOf) != f.Count || len(f.Values) != f.Count*f.Scope.Width() {
			return fmt.Errorf("library: family %.20q does not hang together", f.Name)
		}
	}
	return nil
}

func appendName(b []byte, s string) []byte { return append(append(b, byte(len(s))), s...) }

// step returns where v lies between Low and High, held inside.
func (f Feature) step(v float64) uint16 {
	if math.IsNaN(v) {
		return missing
	}
	share := max(0, min((v-f.Low)/(f.High-f.Low), 1))
	return uint16(math.Floor(float64(share*steps) + 0.5))
}

// value is the inverse of step.
func (f Feature) value(s uint16) float64 {
	if s == missing {
		return math.NaN()
	}
	return f.Low + float64(float64(s)/steps*(f.High-f.Low))
}

// errShort says that the file ends before what it announces.
var errShort = errors.New("library: the file is cut short")

// Open reads a library. Bytes that are no whole library of this format give one
// sentence.
func Open(data []byte) (*Library, error) {
	if len(data) < len(magic)+digestBytes || string(data[:len(magic)]) != magic {
		return nil, errors.New("library: this is not a likelihood library")
	}
	body, tail := data[:len(data)-digestBytes], data[len(data)-digestBytes:]
	sum := num.SHA256(body)
	r := &reader{rest: body[len(magic):]}
	if v := r.u16(); v != Format {
		return nil, fmt.Errorf("library: format %d, want %d", v, Format)
	}
	if string(sum[:]) != string(tail) {
		return nil, errors.New("library: the file is damaged, its digest does not fit")
	}
	l := &Library{Model: int(r.u16()), Seed: r.u64(), Digest: hex.EncodeToString(sum[:digestShown])}
	if r.u32() != scale() {
		return nil, errors.New("library: it was made for other features than this program reads")
	}
	for range r.u8() {
		l.Engines = append(l.Engines, r.name())
	}
	for range r.u8() {
		f := r.family(len(l.Engines))
		if r.err != nil {
			return nil, r.err
		}
		l.Families = append(l.Families, f)
	}
	if r.err == nil && len(r.rest) > 0 {
		r.err = fmt.Errorf("library: %d bytes too many", len(r.rest))
	}
	if r.err != nil {
		return nil, r.err
	}
	return l, nil
}

// reader takes numbers off the front of a file until it is too short.
type reader struct {
	rest []byte
	err  error
}

func (r *reader) take(n int) []byte {
	if r.err != nil || len(r.rest) < n {
		if r.err == nil {
			r.err = errShort
		}
		return nil
	}
	b := r.rest[:n]
	r.rest = r.rest[n:]
	return b
}

func (r *reader) u8() int {
	if b := r.take(1); b != nil {
		return int(b[0])
	}
	return 0
}

func (r *reader) u16() uint16 {
	if b := r.take(2); b != nil {
		return binary.LittleEndian.Uint16(b)
	}
	return 0
}

func (r *reader) u32() uint32 {
	if b := r.take(4); b != nil {
		return binary.LittleEndian.Uint32(b)
	}
	return 0
}

func (r *reader) u64() uint64 {
	if b := r.take(8); b != nil {
		return binary.LittleEndian.Uint64(b)
	}
	return 0
}

func (r *reader) name() string {
	n := r.u8()
	if n > mostName {
		r.err = fmt.Errorf("library: a name of %d bytes, want at most %d", n, mostName)
	}
	return string(r.take(n))
}

func (r *reader) family(engines int) Family {
	f := Family{Name: r.name(), Scope: Scope(r.u8()), Count: int(r.u16())}
	if r.err != nil {
		return f
	}
	if f.Scope > OfEngine || f.Count < 1 || f.Count > mostExamples {
		r.err = fmt.Errorf("library: family %q has scope %d and %d examples", f.Name, f.Scope, f.Count)
		return f
	}
	f.EngineOf = append([]uint8(nil), r.take(f.Count)...)
	for _, e := range f.EngineOf {
		if int(e) >= engines {
			r.err = fmt.Errorf("library: family %q names engine %d of %d", f.Name, e, engines)
			return f
		}
	}
	table := f.Scope.table()
	raw := r.take(2 * f.Count * len(table))
	if r.err != nil {
		return f
	}
	f.Values = make([]float64, len(raw)/2)
	for i := range f.Values {
		f.Values[i] = table[i%len(table)].value(binary.LittleEndian.Uint16(raw[2*i:]))
	}
	f.spread()
	return f
}
