package store

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"iter"

	"hepar/journal/internal/record"
)

// The index has one key for everything by which a batch or a container is found:
// tag, value, a zero byte, id. A key has no checksum of its own, so its value is
// the CRC-32C of the key before and of itself: whoever reads a row of keys sees
// whether one is missing, changed or made up, at no further cost. The last key of
// all closes the row.

// The tags of the store itself beside those of package record.
const (
	byNumber record.Tag = '#'
	ofAll    record.Tag = '*'
)

var (
	allBatches    = record.Key{Tag: ofAll, Value: "batches"}
	allContainers = record.Key{Tag: ofAll, Value: "containers"}

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

// readKey is the inverse of indexKey.
func readKey(key []byte) (e Entry, err error) {
	end := len(key) - len(e.ID)
	if end < 2 {
		return e, fmt.Errorf("%w: the key %q of the index is cut short", ErrTangled, key)
	}
	e.Tag, e.Value, e.ID = record.Tag(key[0]), string(key[1:end-1]), record.ID(key[end:])
	return e, nil
}

// link returns the value of a key: what ties it to the key before.
func link(before, key []byte) []byte {
	return binary.BigEndian.AppendUint32(nil, crc32.Update(crc32.Checksum(before, castagnoli()), castagnoli(), key))
}

func linked(before, key, value []byte) error {
	if !bytes.Equal(value, link(before, key)) {
		return fmt.Errorf("%w: keys of the index are missing or changed near %q", ErrTangled, key)
	}
	return nil
}

// around returns copies of the last key below key (nil if there is none) and of the
// first that is not, with the value of the latter.
func (tx *Tx) around(key []byte) (before, next, value []byte, err error) {
	for found := range tx.kv.Scan(indexBucket, nil, append([]byte{}, key...), true) { // no key is below the empty one
		before = bytes.Clone(found)
		break
	}
	for found, tie := range tx.kv.Scan(indexBucket, key, nil, false) {
		return before, bytes.Clone(found), bytes.Clone(tie), nil
	}
	return nil, nil, nil, fmt.Errorf("%w: the end of the index is missing", ErrTangled)
}

// mark puts a key into the row or takes it out.
func (tx *Tx) mark(k record.Key, id record.ID, there bool) error {
	key := indexKey(k, id)
	before, next, value, err := tx.around(key)
	if err == nil {
		err = linked(before, next, value)
	}
	if err != nil || there == bytes.Equal(next, key) {
		return err
	}
	if there {
		return errors.Join(tx.kv.Put(indexBucket, key, link(before, key)), tx.kv.Put(indexBucket, next, link(key, next)))
	}
	_, next, _, err = tx.around(append(key, 0))
	if err != nil {
		return err
	}
	return errors.Join(tx.kv.Delete(indexBucket, key), tx.kv.Put(indexBucket, next, link(before, next)))
}

// row yields the keys from low to below high, forward or backward. An error ends it:
// a key is missing, changed or made up.
func (tx *Tx) row(low, high []byte, backward bool) iter.Seq2[Entry, error] {
	return func(yield func(Entry, error) bool) {
		before, _, _, err := tx.around(low)
		_, next, tie, err2 := tx.around(high)
		if err = errors.Join(err, err2); err != nil {
			yield(Entry{}, err)
			return
		}
		for key, value := range tx.kv.Scan(indexBucket, low, high, backward) {
			if backward {
				err = linked(key, next, tie)
				next, tie = key, value
			} else {
				err = linked(before, key, value)
				before = key
			}
			var e Entry
			if err == nil {
				e, err = readKey(key)
			}
			if !yield(e, err) || err != nil {
				return
			}
		}
		if err := linked(before, next, tie); err != nil { // at the far end
			yield(Entry{}, err)
		}
	}
}

// Under returns the ids under a key, from low to below high, in the order of their
// opening or backward.
func (tx *Tx) Under(k record.Key, low, high record.ID, backward bool) iter.Seq2[record.ID, error] {
	return func(yield func(record.ID, error) bool) {
		for e, err := range tx.row(indexKey(k, low), indexKey(k, high), backward) {
			if !yield(e.ID, err) {
				return
			}
		}
	}
}

// All returns the ids of all batches from low to below high.
func (tx *Tx) All(low, high record.ID, backward bool) iter.Seq2[record.ID, error] {
	return tx.Under(allBatches, low, high, backward)
}

// Shelf returns the ids of all containers, in the order they were added.
func (tx *Tx) Shelf() iter.Seq2[record.ID, error] {
	return tx.Under(allContainers, record.ID{}, Highest, false)
}

// Values returns the values that there are of a tag, in their order.
func (tx *Tx) Values(tag record.Tag) (values []string, err error) {
	for e, err := range tx.row([]byte{byte(tag)}, []byte{byte(tag) + 1}, false) {
		if err != nil {
			return nil, err
		}
		if len(values) == 0 || values[len(values)-1] != e.Value {
			values = append(values, e.Value)
		}
	}
	return values, nil
}

// Keys returns every key of the index.
func (tx *Tx) Keys() iter.Seq2[Entry, error] { return tx.row(nil, lastKey, false) }

// Sound returns an error if a key of the index is missing, changed or made up.
func (tx *Tx) Sound() error {
	for _, err := range tx.Keys() {
		if err != nil {
			return err
		}
	}
	return nil
}
