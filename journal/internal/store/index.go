package store

import (
	"bytes"
	"encoding/binary"
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
	Highest = func() (id record.ID) {
		for i := range id {
			id[i] = 0xff
		}
		return id
	}()
)

func indexKey(k record.Key, id record.ID) []byte {
	key := append([]byte{byte(k.Tag)}, k.Value...)
	return append(append(key, 0), id[:]...)
}

// link returns the value of a key: what ties it to the key before.
func link(before, key []byte) []byte {
	return binary.BigEndian.AppendUint32(nil, linkSum(before, key))
}

func linkSum(before, key []byte) uint32 {
	return crc32.Update(crc32.Checksum(before, castagnoli()), castagnoli(), key)
}

func linked(before, key, value []byte) error {
	if len(value) != 4 || binary.BigEndian.Uint32(value) != linkSum(before, key) {
		return fmt.Errorf("%w: keys of the index are missing or changed near %q", ErrTangled, key)
	}
	return nil
}

// mark puts a key into the row or takes it out.
func (tx *Tx) mark(k record.Key, id record.ID, there bool) error {
	key := indexKey(k, id)
	before := tx.before(key)
	var next []byte
	for found, value := range tx.kv.Scan(indexBucket, key, nil, false) {
		if err := linked(before, found, value); err != nil {
			return err
		}
		if bytes.Equal(found, key) {
			if there {
				return nil
			}
			for after := range tx.kv.Scan(indexBucket, append(bytes.Clone(key), 0), nil, false) {
				next = bytes.Clone(after)
				break
			}
			break
		}
		next = bytes.Clone(found)
		break
	}
	if next == nil {
		return fmt.Errorf("%w: the end of the index is missing", ErrTangled)
	}
	if !there {
		if err := tx.kv.Delete(indexBucket, key); err != nil {
			return err
		}
		return tx.kv.Put(indexBucket, next, link(before, next))
	}
	if err := tx.kv.Put(indexBucket, key, link(before, key)); err != nil {
		return err
	}
	return tx.kv.Put(indexBucket, next, link(key, next))
}

// before returns a copy of the key before key; nil if it is the first.
func (tx *Tx) before(key []byte) []byte {
	if len(key) == 0 {
		return nil
	}
	for found := range tx.kv.Scan(indexBucket, nil, key, true) {
		return bytes.Clone(found)
	}
	return nil
}

// row goes over the keys from low to below high, forward or backward, and sees that
// none is missing among them.
func (tx *Tx) row(low, high []byte, backward bool) iter.Seq2[[]byte, error] {
	return func(yield func([]byte, error) bool) {
		if !backward {
			before := tx.before(low)
			for key, value := range tx.kv.Scan(indexBucket, low, nil, false) {
				if err := linked(before, key, value); err != nil {
					yield(nil, err)
					return
				}
				if bytes.Compare(key, high) >= 0 {
					return
				}
				if !yield(key, nil) {
					return
				}
				before = key
			}
			yield(nil, fmt.Errorf("%w: the end of the index is missing", ErrTangled))
			return
		}
		var next, tie []byte
		for key, value := range tx.kv.Scan(indexBucket, high, nil, false) {
			next, tie = key, value
			break
		}
		if next == nil {
			yield(nil, fmt.Errorf("%w: the end of the index is missing", ErrTangled))
			return
		}
		for key, value := range tx.kv.Scan(indexBucket, nil, high, true) {
			if err := linked(key, next, tie); err != nil {
				yield(nil, err)
				return
			}
			if bytes.Compare(key, low) < 0 || !yield(key, nil) {
				return
			}
			next, tie = key, value
		}
		if err := linked(nil, next, tie); err != nil {
			yield(nil, err)
		}
	}
}

// Under returns the ids under a key, from low to below high, in the order of their
// opening or backward.
func (tx *Tx) Under(k record.Key, low, high record.ID, backward bool) iter.Seq2[record.ID, error] {
	return func(yield func(record.ID, error) bool) {
		for key, err := range tx.row(indexKey(k, low), indexKey(k, high), backward) {
			var id record.ID
			if err == nil {
				id = record.ID(key[len(key)-len(id):])
			}
			if !yield(id, err) || err != nil {
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
	for key, err := range tx.row([]byte{byte(tag)}, []byte{byte(tag) + 1}, false) {
		if err != nil {
			return nil, err
		}
		if v := string(key[1 : len(key)-17]); len(values) == 0 || values[len(values)-1] != v {
			values = append(values, v)
		}
	}
	return values, nil
}

// Keys goes over every key of the index: what it says and of which id.
func (tx *Tx) Keys(yield func(record.Key, record.ID, error) bool) {
	for key, err := range tx.row(nil, lastKey, false) {
		if err == nil && len(key) < 18 {
			err = fmt.Errorf("%w: the key %q of the index is cut short", ErrTangled, key)
		}
		if err != nil {
			yield(record.Key{}, record.ID{}, err)
			return
		}
		if !yield(record.Key{Tag: record.Tag(key[0]), Value: string(key[1 : len(key)-17])}, record.ID(key[len(key)-16:]), nil) {
			return
		}
	}
}

// KeysOf returns every key of the index under which a batch stands.
func KeysOf(b *record.Batch) []record.Key { return withNumber(b.Keys(), allBatches, b.Number) }

// KeysOfContainer returns every key of the index under which a container stands.
func KeysOfContainer(c *record.Container) []record.Key {
	return withNumber(nil, allContainers, c.Number)
}

func withNumber(keys []record.Key, all record.Key, number string) []record.Key {
	if number != "" {
		keys = append(keys, record.Key{Tag: byNumber, Value: number})
	}
	return append(keys, all)
}

// Marked says whether there is a key in the index.
func (tx *Tx) Marked(k record.Key, id record.ID) bool {
	return tx.kv.Get(indexBucket, indexKey(k, id)) != nil
}

// Sound returns an error if a key of the index is missing, changed or made up.
func (tx *Tx) Sound() (err error) {
	tx.Keys(func(_ record.Key, _ record.ID, found error) bool { err = found; return found == nil })
	return err
}

// Counts returns the numbers of batches and containers.
func (tx *Tx) Counts() (batches, containers uint64, err error) {
	for _, err := range tx.All(record.ID{}, Highest, false) {
		if err != nil {
			return 0, 0, err
		}
		batches++
	}
	for _, err := range tx.Shelf() {
		if err != nil {
			return 0, 0, err
		}
		containers++
	}
	return batches, containers, nil
}
