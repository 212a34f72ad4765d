package journal

import (
	"bytes"
	"crypto/rand"
	"encoding/binary"
	"time"
)

// id is a ULID in its 16 bytes: 48 bits of milliseconds, 80 of chance. The tests
// hold it against a library; here it is a few lines, because that library costs
// every start of the program the seeding of a source of chance.
type id [16]byte

// crockford is the alphabet of an id, in the order of its values.
const crockford = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"

// String writes the id in 26 characters of five bits, the first of three.
func (i id) String() string { text := i.text(); return string(text[:]) }

func (i id) text() (text [26]byte) {
	high, low := binary.BigEndian.Uint64(i[:8]), binary.BigEndian.Uint64(i[8:])
	for k := len(text) - 1; k >= 0; k-- {
		text[k] = crockford[low&31]
		low = low>>5 | high<<59
		high >>= 5
	}
	return text
}

// millis gives the time in the id, in milliseconds since 1970.
func (i id) millis() uint64 { return binary.BigEndian.Uint64(i[:8]) >> 16 }

func (i id) compare(other id) int { return bytes.Compare(i[:], other[:]) }

// boundary gives the id with the time and all else set to rest.
func boundary(ms uint64, rest byte) (i id) {
	for k := range i {
		i[k] = rest
	}
	for k := range 6 {
		i[k] = byte(ms >> (8 * (5 - k)))
	}
	return i
}

// idAt draws an id with the time of t.
func idAt(t time.Time) id {
	i := boundary(millisOf(t), 0)
	fill(i[6:])
	return i
}

// idAfter draws an id with the time of t, or one a little above last where the
// clock stands still or has gone back, so that ids rise in the order written.
func idAfter(last id, t time.Time) id {
	if millisOf(t) > last.millis() {
		return idAt(t)
	}
	var step [4]byte
	fill(step[:])
	low := binary.BigEndian.Uint64(last[8:])
	sum := low + uint64(binary.BigEndian.Uint32(step[:])) + 1
	next := last
	binary.BigEndian.PutUint64(next[8:], sum)
	if sum < low { // carry into the upper half, whose first 48 bits are the time
		high := binary.BigEndian.Uint64(last[:8])
		binary.BigEndian.PutUint64(next[:8], high+1)
	}
	return next
}

func millisOf(t time.Time) uint64 {
	if ms := t.UnixMilli(); ms > 0 {
		return uint64(ms)
	}
	return 0
}

// fill puts chance into b. The reader of crypto/rand never fails: it ends the
// program instead.
func fill(b []byte) { _, _ = rand.Read(b) }
