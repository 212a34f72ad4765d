package store

import (
	"bytes"
	"encoding/binary"
	"iter"

	"hepar/journal/internal/record"
	"hepar/recipe/fault"
)

// The index has one key for everything by which a batch or a container is found:
// tag, value, a zero byte, id. Its value is its CRC-32C: whoever reads a row of keys,
// with one more at each end, sees whether one was changed. That none is missing follows
// from their order (Scan), from the pages (Walk) and from the count in the head.

// Highest is above the id of every batch that can be opened.
var Highest = record.ID(bytes.Repeat([]byte{0xff}, len(record.ID{})))

func indexKey(k record.Key, id record.ID) []byte {
	key := append([]byte{byte(k.Tag)}, k.Value...)
	return append(append(key, 0), id[:]...)
}

// mark puts a key into the index or takes it out.
func (tx *Tx) mark(k record.Key, id record.ID, there bool) {
	key, value := indexKey(k, id), []byte(nil)
	if there {
		value = binary.BigEndian.AppendUint32(nil, checksum(key))
	}
	tx.put(indexBucket, key, value)
}

// marked returns the id in a key of the index.
func marked(key, value []byte) record.ID {
	end := len(key) - len(record.ID{})
	if end < 2 || !bytes.Equal(value, binary.BigEndian.AppendUint32(nil, checksum(key))) {
		fault.Check(tangled("the key %q of the index was changed", key))
	}
	return record.ID(key[end:])
}

// row yields the ids of the keys from low to below high, forward or backward.
func (tx *Tx) row(low, high []byte, backward bool) iter.Seq[record.ID] {
	return func(yield func(record.ID) bool) {
		before, keys := tx.kv.Scan(indexBucket, nil, low, true), tx.kv.Scan(indexBucket, low, nil, false)
		if backward {
			before, keys = tx.kv.Scan(indexBucket, high, nil, false), tx.kv.Scan(indexBucket, nil, high, true)
		}
		for key, value := range before { // which was in the row if it was changed
			marked(key, value)
			break
		}
		for key, value := range keys {
			id := marked(key, value)
			if bytes.Compare(key, low) < 0 || bytes.Compare(key, high) >= 0 || !yield(id) {
				return
			}
		}
	}
}

// Under returns the ids under a key, from low to below high, in the order of their
// opening or backward.
func (tx *Tx) Under(k record.Key, low, high record.ID, backward bool) iter.Seq[record.ID] {
	return tx.row(indexKey(k, low), indexKey(k, high), backward)
}

// HasKey says whether something is found under a key.
func (tx *Tx) HasKey(k record.Key, id record.ID) bool {
	return tx.kv.Get(indexBucket, indexKey(k, id)) != nil
}

// Keys returns the id of every key of the index.
func (tx *Tx) Keys() iter.Seq[record.ID] { return tx.row(nil, []byte{0xff}, false) }

// Everything returns the ids of all batches, and then of all containers.
func (tx *Tx) Everything() iter.Seq[record.ID] {
	return tx.row(indexKey(record.AllBatches, record.ID{}), indexKey(record.AllContainers, Highest), false)
}
