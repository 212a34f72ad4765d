package journal

import (
	"encoding/binary"
	"fmt"
	"math"
)

// errOdd means that a record is not laid out as this program would have done it.
var errOdd error = &oddRecord{}

type oddRecord struct{ _ byte } // of a type of its own, so that no start has to make it

func (*oddRecord) Error() string { return errTangled.Error() + ": a record is odd" }
func (*oddRecord) Unwrap() error { return errTangled }

// cborReader reads the few kinds of CBOR that a state is made of. After anything
// odd, bad is set, and what it gives is of no meaning; it never goes beyond the end.
type cborReader struct {
	b   []byte
	bad bool
	in  *scratch // where what is read goes, and then texts are not copied; nil for the heap
}

// head reads the head of an item.
func (r *cborReader) head() (major byte, n uint64) {
	if len(r.b) == 0 {
		r.bad = true
		return 0, 0
	}
	first := r.b[0]
	r.b = r.b[1:]
	major, n = first>>5, uint64(first&31)
	if n < 24 {
		return major, n
	}
	size := 1 << (n - 24)
	if n > 27 || len(r.b) < size {
		r.bad = true
		return 0, 0
	}
	switch size {
	case 1:
		n = uint64(r.b[0])
	case 2:
		n = uint64(binary.BigEndian.Uint16(r.b))
	case 4:
		n = uint64(binary.BigEndian.Uint32(r.b))
	default:
		n = binary.BigEndian.Uint64(r.b)
	}
	r.b = r.b[size:]
	return major, n
}

func (r *cborReader) integer() int64 {
	major, n := r.head()
	if major > 1 || n > math.MaxInt64-1 {
		r.bad = true
		return 0
	}
	if major == 1 {
		return -int64(n) - 1
	}
	return int64(n)
}

// bytes reads an item that is a string of bytes (2) or of text (3).
func (r *cborReader) bytes(want byte) []byte {
	major, n := r.head()
	if r.bad || major != want || n > uint64(len(r.b)) {
		r.bad = true
		return nil
	}
	out := r.b[:n:n]
	r.b = r.b[n:]
	return out
}

func (r *cborReader) state() State {
	states := [...]State{Planned, Reviewed, Dipped, Logged, Withdrawn}
	n := r.integer()
	if n < 0 || int(n) >= len(states) {
		r.bad = true
		return Planned
	}
	return states[n]
}

func (r *cborReader) digestKey() (key digestKey) {
	b := r.bytes(2)
	r.bad = r.bad || len(b) != len(key)
	copy(key[:], b)
	return key
}

func (r *cborReader) flag() bool {
	major, n := r.head()
	r.bad = r.bad || major != 7 || n != 21
	return !r.bad
}

// figure reads what appendFigure wrote.
func (r *cborReader) figure() float64 {
	if len(r.b) > 0 && r.b[0] == 0xfb {
		if len(r.b) < 9 {
			r.bad = true
			return 0
		}
		x := math.Float64frombits(binary.BigEndian.Uint64(r.b[1:]))
		r.b = r.b[9:]
		return x
	}
	return float64(r.integer()) / 100
}

// causes reads a map of causes, calls each where it is not nil, and gives the
// bytes of the map.
func (r *cborReader) causes(each func(name []byte, pieces int)) []byte {
	start := r.b
	major, n := r.head()
	r.bad = r.bad || major != 5
	for ; n > 0 && !r.bad; n-- {
		name, pieces := r.bytes(3), r.integer()
		if each != nil && !r.bad {
			each(name, int(pieces))
		}
	}
	return start[:len(start)-len(r.b)]
}

// eachCause calls each for the causes of a batch.
func (s *standing) eachCause(each func(name []byte, pieces int)) {
	if s.causes != nil {
		r := cborReader{b: s.causes}
		r.causes(each)
	}
}

// seqs gives the sequence numbers of the events.
func (s *standing) seqs() ([]uint64, error) { return s.appendSeqs(nil) }

func (s *standing) appendSeqs(all []uint64) ([]uint64, error) {
	last := uint64(0)
	for b := s.events; len(b) > 0; {
		step, n := binary.Varint(b)
		if n <= 0 {
			return nil, fmt.Errorf("batch %s: %w", s.ID, errOdd)
		}
		last += uint64(step)
		all = append(all, last)
		b = b[n:]
	}
	return all, nil
}

// number gives the number without an ending.
func (s *standing) number() string { return fmt.Sprintf("%04d-%03d", s.Year, s.Count) }
