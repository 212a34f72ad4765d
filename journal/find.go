package journal

import (
	"bytes"
	"fmt"
	"strings"

	bolt "go.etcd.io/bbolt"

	"hepar/recipe/fault"
)

// leastPrefix is how many characters of an id are asked for.
const leastPrefix = 6

// Get reads one batch with all its events, its frozen recipe and sheet. Ref is
// its number ("2026-014") or the beginning of its id, six characters or more,
// that no other batch shares.
func (j *Journal) Get(ref string) (out Batch, err error) {
	err = j.read(func(tx *bolt.Tx) error {
		r, err := newReader(tx)
		if err != nil {
			return err
		}
		b, err := r.find(ref)
		if err != nil {
			return err
		}
		out, err = r.public(b, detail{events: true, frozen: true})
		return err
	})
	return out, err
}

// find reads the record of the batch that ref names.
func (r *reader) find(ref string) (*batchRecord, error) {
	ref = strings.ToUpper(strings.TrimSpace(ref))
	if number, end, ok := splitNumber(ref); ok {
		return r.byNumber(number, end)
	}
	low, high, ok := idRange(ref)
	if !ok {
		return nil, fault.Usagef("%q is neither the number of a batch nor the beginning of an id", ref).
			Try("give a number as in 2026-014, or at least %d characters of the id", leastPrefix)
	}
	cursor := r.batches.Cursor()
	key, _ := cursor.Seek(low[:])
	if key == nil || bytes.Compare(key, high[:]) > 0 {
		return nil, unknown(ref)
	}
	if len(key) != len(id{}) {
		return nil, fmt.Errorf("%w: a batch has an odd key", errTangled)
	}
	first, err := r.batch(id(key))
	if err != nil {
		return nil, err
	}
	if next, _ := cursor.Next(); next != nil && bytes.Compare(next, high[:]) <= 0 && len(next) == len(id{}) {
		second, err := r.batch(id(next))
		if err != nil {
			return nil, err
		}
		return nil, fault.Usagef("%q is the beginning of more than one id: batches %s and %s at least", ref, first.number(), second.number()).
			Try("give more of the id, or the number")
	}
	return first, nil
}

func unknown(ref string) error {
	return fault.Usagef("there is no batch %s in the journal", ref).Try("see the numbers with 'hepar journal list'")
}

// idRange gives the lowest and the highest id that begin with prefix, in upper case.
func idRange(prefix string) (low, high id, ok bool) {
	if len(prefix) < leastPrefix || len(prefix) > 26 || prefix[0] > '7' {
		return low, high, false
	}
	for i := range 26 {
		least, most := 0, 31
		if i < len(prefix) {
			least = strings.IndexByte(crockford, prefix[i])
			most = least
		}
		if least < 0 {
			return low, high, false
		}
		if i == 0 {
			most = min(most, 7) // 26 characters hold 130 bits, an id has 128
		}
		low.shiftIn(byte(least))
		high.shiftIn(byte(most))
	}
	return low, high, true
}

// shiftIn moves an id up by one character of five bits and puts v below.
func (i *id) shiftIn(v byte) {
	carry := v
	for k := len(i) - 1; k >= 0; k-- {
		next := i[k] >> 3
		i[k] = i[k]<<5 | carry
		carry = next
	}
}
