package journal

import (
	"bytes"
	"crypto/rand"
	"encoding/binary"
	"time"

	"github.com/oklog/ulid/v2"
)

// id is a ULID in its 16 bytes: 48 bits of milliseconds, 80 of chance.
type id [16]byte

func (i id) String() string { return ulid.ULID(i).String() }

func (i id) millis() uint64 { return ulid.ULID(i).Time() }

func (i id) compare(other id) int { return bytes.Compare(i[:], other[:]) }

// idAt draws an id with the time of t.
func idAt(t time.Time) id {
	var i ulid.ULID
	_ = i.SetTime(millisOf(t)) // cannot fail before the year 10889
	fill(i[6:])
	return id(i)
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
