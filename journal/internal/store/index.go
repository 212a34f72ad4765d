package store

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"iter"

	"hepar/journal/internal/record"
	"hepar/recipe/fault"
)

// The index has one key for everything by which a batch or a container is found:
// tag, value, a zero byte, id. A key has no checksum of its own, so its value is
// the CRC-32C of the key before and of itself: whoever reads a row of keys sees
// whether one is missing, changed or made up, at no further cost. The last key of
// all closes the row.

var (
	lastKey = []byte{0xff} // closes the row

	// Highest is above the id of every batch that can be opened.
	Highest = record.ID(bytes.Repeat([]byte{0xff}, len(record.ID{})))
)

func indexKey(k record.Key, id record.ID) []byte {
	key := append([]byte{byte(k.Tag)}, k.Value...)
	return append(append(key, 0), id[:]...)
}

// link returns the value of a key: what ties it to the key before.
func link(before, key []byte) []byte {
	return binary.BigEndian.AppendUint32(nil, crc32.Update(checksum(before), castagnoli, key))
}

func linked(before, key, value []byte) {
	if !bytes.Equal(value, link(before, key)) {
		fault.Check(tangled("keys of the index are missing or changed near %q", key))
	}
}

var errNoEnd = tangled("the end of the index is missing")

// below returns a copy of the last key below a key; nil if there is none.
func (tx *Tx) below(key []byte) []byte {
	for found := range tx.kv.Scan(indexBucket, nil, key, true) {
		return bytes.Clone(found)
	}
	return nil
}

// from returns copies of the first key that is not below a key, and of its value.
func (tx *Tx) from(key []byte) (found, value []byte) {
	for found, value = range tx.kv.Scan(indexBucket, key, nil, false) {
		return bytes.Clone(found), bytes.Clone(value)
	}
	fault.Check(errNoEnd)
	return nil, nil
}

// mark puts a key into the row or takes it out.
func (tx *Tx) mark(k record.Key, id record.ID, there bool) {
	key := indexKey(k, id)
	before := tx.below(key)
	next, value := tx.from(key)
	linked(before, next, value)
	switch {
	case there == bytes.Equal(next, key):
		return
	case there:
		tx.put(indexBucket, key, link(before, key))
		before = key
	default:
		next, _ = tx.from(append(key, 0))
		tx.put(indexBucket, key, nil)
	}
	tx.put(indexBucket, next, link(before, next))
}

// row yields the ids of the keys from low to below high, forward or backward. It reads one
// key more at each end, for the links.
func (tx *Tx) row(low, high []byte, backward bool) iter.Seq[record.ID] {
	return func(yield func(record.ID) bool) {
		var last, tie []byte // the key read before this one, and its value
		keys := tx.kv.Scan(indexBucket, low, nil, false)
		if backward {
			last, tie = tx.from(high)
			keys = tx.kv.Scan(indexBucket, nil, high, true)
		} else {
			last = tx.below(low)
		}
		for key, value := range keys {
			if backward {
				linked(key, last, tie)
			} else {
				linked(last, key, value)
			}
			last, tie = key, value
			if bytes.Compare(key, low) < 0 || bytes.Compare(key, high) >= 0 {
				return
			}
			end := len(key) - len(record.ID{})
			if end < 2 {
				fault.Check(tangled("the key %q of the index is cut short", key))
			}
			if !yield(record.ID(key[end:])) {
				return
			}
		}
		if !backward {
			fault.Check(errNoEnd)
		}
		linked(nil, last, tie)
	}
}

// Under returns the ids under a key, from low to below high, in the order of their
// opening or backward.
func (tx *Tx) Under(k record.Key, low, high record.ID, backward bool) iter.Seq[record.ID] {
	return tx.row(indexKey(k, low), indexKey(k, high), backward)
}

// All returns the ids of all batches from low to below high.
func (tx *Tx) All(low, high record.ID, backward bool) iter.Seq[record.ID] {
	return tx.Under(record.AllBatches, low, high, backward)
}

// HasKey says whether something is found under a key.
func (tx *Tx) HasKey(k record.Key, id record.ID) bool {
	return tx.kv.Get(indexBucket, indexKey(k, id)) != nil
}

// Keys returns the id of every key of the index.
func (tx *Tx) Keys() iter.Seq[record.ID] { return tx.row(nil, lastKey, false) }
