package store

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"iter"

	"hepar/journal/internal/record"
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

// Entry is one key of the index.
type Entry struct {
	record.Key
	ID record.ID
}

// link returns the value of a key: what ties it to the key before.
func link(before, key []byte) []byte {
	return binary.BigEndian.AppendUint32(nil, crc32.Update(crc32.Checksum(before, castagnoli()), castagnoli(), key))
}

func linked(before, key, value []byte) {
	if !bytes.Equal(value, link(before, key)) {
		Must(tangled("keys of the index are missing or changed near %q", key))
	}
}

// around returns copies of the last key below key (nil if there is none) and of the
// first that is not, with the value of the latter.
func (tx *Tx) around(key []byte) (before, next, value []byte) {
	for found := range tx.kv.Scan(indexBucket, nil, append([]byte{}, key...), true) { // no key is below the empty one
		before = bytes.Clone(found)
		break
	}
	for found, tie := range tx.kv.Scan(indexBucket, key, nil, false) {
		return before, bytes.Clone(found), bytes.Clone(tie)
	}
	Must(tangled("the end of the index is missing"))
	return nil, nil, nil
}

// mark puts a key into the row or takes it out.
func (tx *Tx) mark(k record.Key, id record.ID, there bool) {
	key := indexKey(k, id)
	before, next, value := tx.around(key)
	linked(before, next, value)
	switch {
	case there == bytes.Equal(next, key):
		return
	case there:
		Must(tx.kv.Put(indexBucket, key, link(before, key)))
		before = key
	default:
		_, next, _ = tx.around(append(key, 0))
		Must(tx.kv.Delete(indexBucket, key))
	}
	Must(tx.kv.Put(indexBucket, next, link(before, next)))
}

// row yields the keys from low to below high, forward or backward.
func (tx *Tx) row(low, high []byte, backward bool) iter.Seq[Entry] {
	return func(yield func(Entry) bool) {
		before, _, _ := tx.around(low)
		_, next, tie := tx.around(high)
		for key, value := range tx.kv.Scan(indexBucket, low, high, backward) {
			if backward {
				linked(key, next, tie)
				next, tie = key, value
			} else {
				linked(before, key, value)
				before = key
			}
			end := len(key) - len(record.ID{})
			if end < 2 {
				Must(tangled("the key %q of the index is cut short", key))
			}
			if !yield(Entry{record.Key{Tag: record.Tag(key[0]), Value: string(key[1 : end-1])}, record.ID(key[end:])}) {
				return
			}
		}
		linked(before, next, tie) // at the far end
	}
}

// Under returns the ids under a key, from low to below high, in the order of their
// opening or backward.
func (tx *Tx) Under(k record.Key, low, high record.ID, backward bool) iter.Seq[record.ID] {
	return func(yield func(record.ID) bool) {
		for e := range tx.row(indexKey(k, low), indexKey(k, high), backward) {
			if !yield(e.ID) {
				return
			}
		}
	}
}

// All returns the ids of all batches from low to below high.
func (tx *Tx) All(low, high record.ID, backward bool) iter.Seq[record.ID] {
	return tx.Under(record.AllBatches, low, high, backward)
}

// Shelf returns the ids of all containers, in the order they were added.
func (tx *Tx) Shelf() iter.Seq[record.ID] {
	return tx.Under(record.AllContainers, record.ID{}, Highest, false)
}

// Keys returns every key of the index.
func (tx *Tx) Keys() iter.Seq[Entry] { return tx.row(nil, lastKey, false) }
