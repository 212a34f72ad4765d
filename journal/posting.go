package journal

import (
	"bytes"
	"fmt"
	"slices"
)

// An index entry alone would cost twice what it says, so the ids under one value
// are kept in runs: the key is the value and the first id of the run, what is
// under it are the others, all rising. A run is short enough that writing it
// again costs no more than the page it lies in.

// longestRun is how many ids a run has at most.
const longestRun = 32

const idSize = len(id{})

// run is one run: its key, and its ids.
type run struct {
	key   []byte // of the store: prefix and first id
	first id
	rest  []byte
}

func (u *run) size() int { return 1 + len(u.rest)/idSize }

func (u *run) at(i int) id {
	if i == 0 {
		return u.first
	}
	return id(u.rest[(i-1)*idSize : i*idSize])
}

// find gives the place of the first id that is not below want.
func (u *run) find(want id) (i int, exact bool) {
	low, high := 0, u.size()
	for low < high {
		if middle := (low + high) / 2; bytes.Compare(u.bytes(middle), want[:]) < 0 {
			low = middle + 1
		} else {
			high = middle
		}
	}
	return low, low < u.size() && bytes.Equal(u.bytes(low), want[:])
}

func (u *run) bytes(i int) []byte {
	if i == 0 {
		return u.first[:]
	}
	return u.rest[(i-1)*idSize : i*idSize]
}

// openRun reads an entry of the index; ok is false where it is not under prefix.
func openRun(prefix, key, value []byte) (u run, ok bool, err error) {
	if key == nil || !bytes.HasPrefix(key, prefix) {
		return u, false, nil
	}
	if len(key) != len(prefix)+idSize || len(value)%idSize != 0 {
		return u, false, fmt.Errorf("%w: a key of the index is odd", errTangled)
	}
	return run{key: key, first: id(key[len(prefix):]), rest: value}, true, nil
}

// runFor gives the run in which an id stands or would have to stand: the last
// that begins at or below it, or else the first.
func runFor(c *cursor, prefix []byte, i id) (u run, ok bool, err error) {
	want := append(bytes.Clone(prefix), i[:]...)
	key, value := c.Seek(want)
	if key != nil && bytes.Equal(key, want) {
		return openRun(prefix, key, value)
	}
	above, ok, err := openRun(prefix, key, value)
	if err != nil {
		return u, false, err
	}
	if key == nil {
		key, value = c.Last()
	} else {
		key, value = c.Prev()
	}
	if below, there, err := openRun(prefix, key, value); err != nil || there {
		return below, there, err
	}
	return above, ok, nil
}

// splitKey divides a key of the index, as indexKeys gives it, into what is looked
// for and the batch.
func splitKey(key []byte) (prefix []byte, i id) {
	at := len(key) - idSize
	return key[:at:at], id(key[at:])
}

// indexed says whether a key stands in the runs.
func indexed(b *shelf, key []byte) (bool, error) {
	prefix, i := splitKey(key)
	u, ok, err := runFor(b.Cursor(), prefix, i)
	if err != nil || !ok {
		return false, err
	}
	_, exact := u.find(i)
	return exact, nil
}

// putIndexed puts a key into the index.
func putIndexed(b *shelf, key []byte) error {
	prefix, i := splitKey(key)
	u, ok, err := runFor(b.Cursor(), prefix, i)
	if err != nil {
		return err
	}
	if !ok {
		return b.Put(key, nil)
	}
	at, exact := u.find(i)
	n := u.size()
	switch {
	case exact:
		return nil
	case n >= longestRun && (at == n || at == 0): // what only grows at one end leaves full runs behind
		return b.Put(key, nil)
	}
	all := u.all()
	all = slices.Insert(all, at*idSize, i[:]...)
	if n < longestRun {
		return u.replace(b, prefix, all)
	}
	half := (n + 1) / 2 * idSize
	if err := u.replace(b, prefix, all[:half]); err != nil {
		return err
	}
	return b.Put(append(bytes.Clone(prefix), all[half:half+idSize]...), all[half+idSize:])
}

// dropIndexed takes a key out of the index.
func dropIndexed(b *shelf, key []byte) error {
	prefix, i := splitKey(key)
	u, ok, err := runFor(b.Cursor(), prefix, i)
	if err != nil || !ok {
		return err
	}
	at, exact := u.find(i)
	if !exact {
		return nil
	}
	return u.replace(b, prefix, slices.Delete(u.all(), at*idSize, (at+1)*idSize))
}

// all gives a copy of the ids, one behind the other.
func (u *run) all() []byte { return append(bytes.Clone(u.first[:]), u.rest...) }

// replace writes a run anew with other ids.
func (u *run) replace(b *shelf, prefix, ids []byte) error {
	if len(ids) == 0 || !bytes.Equal(ids[:idSize], u.first[:]) {
		if err := b.Delete(bytes.Clone(u.key)); err != nil {
			return err
		}
	}
	if len(ids) == 0 {
		return nil
	}
	return b.Put(append(bytes.Clone(prefix), ids[:idSize]...), ids[idSize:])
}

// indexedUnder gives the batches that stand under any key with the prefix, once
// each, in the order of their ids.
func (r *reader) indexedUnder(prefix []byte) ([]id, error) {
	index, err := bucket(r.tx, indexBucket)
	if err != nil {
		return nil, err
	}
	f, err := r.waiting()
	if err != nil {
		return nil, err
	}
	var all []id
	cursor := index.Cursor()
	for key, value := cursor.Seek(prefix); bytes.HasPrefix(key, prefix); key, value = cursor.Next() {
		if len(key) < idSize+2 || len(value)%idSize != 0 {
			return nil, fmt.Errorf("%w: a key of the index is odd", errTangled)
		}
		under, first := splitKey(key)
		u := run{first: first, rest: value}
		for i := range u.size() {
			if _, drop := f.says(under, u.at(i)); !drop {
				all = append(all, u.at(i))
			}
		}
	}
	put, _ := f.keys()
	for _, key := range put {
		if bytes.HasPrefix(key, prefix) {
			_, i := splitKey(key)
			all = append(all, i)
		}
	}
	slices.SortFunc(all, id.compare)
	return slices.Compact(all), nil
}

// runCursor goes through the ids under one value, in order.
type runCursor struct {
	cursor *cursor
	prefix []byte
	now    run
	place  int
}

// seek goes to the first id at or above want, or with down to the last at or below it.
func (c *runCursor) seek(want id, down bool) (i id, ok bool, err error) {
	c.now, ok, err = runFor(c.cursor, c.prefix, want)
	if err != nil || !ok {
		return i, false, err
	}
	at, exact := c.now.find(want)
	c.place = at
	switch {
	case exact:
	case down && at == 0:
		return i, false, nil // the first run begins above
	case down:
		c.place--
	case at == c.now.size():
		// Beyond this run: the next begins above, since this is the last that does not.
		c.place--
		return c.step(false)
	}
	return c.now.at(c.place), true, nil
}

// step goes one on, or with down one back.
func (c *runCursor) step(down bool) (i id, ok bool, err error) {
	if down {
		c.place--
	} else {
		c.place++
	}
	if c.place >= 0 && c.place < c.now.size() {
		return c.now.at(c.place), true, nil
	}
	// The cursor of the store may stand elsewhere after a search.
	var key, value []byte
	if key, _ = c.cursor.Seek(c.now.key); !bytes.Equal(key, c.now.key) {
		return i, false, fmt.Errorf("%w: a run of the index is gone", errTangled)
	}
	if down {
		key, value = c.cursor.Prev()
	} else {
		key, value = c.cursor.Next()
	}
	if c.now, ok, err = openRun(c.prefix, key, value); err != nil || !ok {
		return i, false, err
	}
	if c.place = 0; down {
		c.place = c.now.size() - 1
	}
	return c.now.at(c.place), true, nil
}
