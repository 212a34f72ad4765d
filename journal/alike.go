package journal

import (
	"cmp"
	"encoding/binary"
	"slices"
	"time"
)

// The id of a row of a sheet follows from its time and from what it says, or from
// its key. Where the time alone is another, since the row was corrected or the
// machine stood in another zone, the rest of the id still tells that it is the same.

// How far apart two rows with the same rest may lie and still be the same. The
// running numbers of many logs begin anew each year, so that the same key a year
// later is another batch. Choices of ours.
const (
	nearKey   = uint64(180 * 24 * time.Hour / time.Millisecond)
	nearClock = uint64(26 * time.Hour / time.Millisecond) // zones lie up to 26 hours apart
)

// derivedIDs are the ids of batches here that may follow from rows, in the order of
// their rests: sixteen bytes each. They are read once, before anything is added.
type derivedIDs struct {
	read bool
	all  []derivedRest
}

type derivedRest struct{ rest, millis uint64 }

// restOf is the part of a derived id that does not come from its time.
func restOf(i id) uint64 { return binary.BigEndian.Uint64(i[8:]) }

// alike finds the batch here that is the row f under another time.
func (w *Writer) alike(f *foreign) (id, bool, error) {
	if f.near == 0 || w.derived == nil {
		return id{}, false, nil
	}
	if err := w.derived.load(w); err != nil {
		return id{}, false, err
	}
	rest, millis := restOf(f.id), f.id.millis()
	at, _ := slices.BinarySearchFunc(w.derived.all, rest, func(d derivedRest, rest uint64) int { return cmp.Compare(d.rest, rest) })
	best, there := id{}, false
	apart := f.near + 1
	for ; at < len(w.derived.all) && w.derived.all[at].rest == rest; at++ {
		other := w.derived.all[at].millis
		if off := max(other, millis) - min(other, millis); off < apart {
			candidate := f.id
			copy(candidate[:6], boundaryOf(other))
			if w.batches.Get(candidate[:]) != nil {
				best, there, apart = candidate, true, off
			}
		}
	}
	return best, there, nil
}

func boundaryOf(millis uint64) []byte {
	i := boundary(millis, 0)
	return i[:6]
}

func (d *derivedIDs) load(w *Writer) error {
	if d.read {
		return nil
	}
	d.read = true
	cursor := w.batches.Cursor()
	for key, _ := cursor.First(); key != nil; key, _ = cursor.Next() {
		if len(key) == idSize && key[6] == 0 { // so it is in each derived id of a batch
			i := id(key)
			d.all = append(d.all, derivedRest{rest: restOf(i), millis: i.millis()})
		}
	}
	slices.SortFunc(d.all, func(a, b derivedRest) int {
		return cmp.Or(cmp.Compare(a.rest, b.rest), cmp.Compare(a.millis, b.millis))
	})
	return nil
}
