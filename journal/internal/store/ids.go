package store

import (
	"crypto/rand"
	"encoding/binary"
	"time"

	"github.com/oklog/ulid/v2"

	"hepar/journal/internal/record"
)

// Bound returns the lowest id of a time.
func Bound(t time.Time) (id record.ID) {
	_ = id.SetTime(uint64(max(t.UnixMilli(), 0)))
	return id
}

// newID draws an id with the time of t.
func newID(t time.Time) record.ID {
	id := Bound(t)
	_, _ = rand.Read(id[6:]) // never fails: it ends the program instead
	return id
}

// nextID draws an id with the time of t, or one a little above last if the clock
// stands still or has gone back, so that the ids of events rise in the order written.
func nextID(last record.ID, t time.Time) record.ID {
	if ulid.Timestamp(t) > last.Time() {
		return newID(t)
	}
	var step [4]byte
	_, _ = rand.Read(step[:])
	high, low := binary.BigEndian.Uint64(last[:8]), binary.BigEndian.Uint64(last[8:])
	sum := low + uint64(binary.BigEndian.Uint32(step[:])) + 1
	if sum < low {
		high++
	}
	binary.BigEndian.PutUint64(last[:8], high)
	binary.BigEndian.PutUint64(last[8:], sum)
	return last
}
