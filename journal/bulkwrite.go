package journal

import (
	"bytes"
	"maps"
	"slices"
)

// bulkWriter gathers what many new batches write besides their events, and writes
// it in the order of the keys: the store then fills page after page, whichever way
// round the batches came.
type bulkWriter struct {
	states  map[id][]byte
	numbers map[string]id
	keys    [][]byte // of the index
}

func newBulkWriter() *bulkWriter {
	return &bulkWriter{states: map[id][]byte{}, numbers: map[string]id{}}
}

// settle writes what was gathered.
func (w *Writer) settle() error {
	b := w.bulk
	if b == nil || len(b.states) == 0 {
		return nil
	}
	for _, s := range []*shelf{w.batches, w.numbers, w.index} { // for the most part it goes on where it ended
		s.bolt.FillPercent = appended
	}
	for _, i := range slices.SortedFunc(maps.Keys(b.states), id.compare) {
		if err := w.batches.Put(i[:], b.states[i]); err != nil {
			return err
		}
	}
	for _, number := range slices.Sorted(maps.Keys(b.numbers)) {
		i := b.numbers[number]
		if err := w.numbers.Put([]byte(number), i[:]); err != nil {
			return err
		}
	}
	slices.SortFunc(b.keys, bytes.Compare)
	if err := putIndexedKeys(w.index, b.keys); err != nil {
		return err
	}
	clear(b.states)
	clear(b.numbers)
	b.keys = b.keys[:0]
	return nil
}

// putIndexedKeys puts keys, which rise, into the index.
func putIndexedKeys(index *shelf, keys [][]byte) error {
	for from := 0; from < len(keys); {
		prefix, _ := splitKey(keys[from])
		to := from + 1
		for to < len(keys) && len(keys[to]) == len(keys[from]) && bytes.HasPrefix(keys[to], prefix) {
			to++
		}
		if err := putIndexedAll(index, prefix, keys[from:to]); err != nil {
			return err
		}
		from = to
	}
	return nil
}

// putIndexedAll puts keys of one prefix, which rise, into the index.
func putIndexedAll(b *shelf, prefix []byte, keys [][]byte) error {
	for len(keys) > 0 {
		_, first := splitKey(keys[0])
		u, ok, err := runFor(b.Cursor(), prefix, first)
		if err != nil {
			return err
		}
		// The keys that lie below the next run can be written with this one.
		next, _, err := runAfter(b.Cursor(), prefix, first)
		if err != nil {
			return err
		}
		n := len(keys)
		if next.key != nil {
			n, _ = slices.BinarySearchFunc(keys, next.key, bytes.Compare)
		}
		var ids []byte
		below := ok && u.first.compare(first) <= 0
		if below {
			ids = u.all()
		}
		ids = mergeIDs(ids, keys[:n])
		for start := 0; start < len(ids); start += longestRun * idSize {
			part := ids[start:min(len(ids), start+longestRun*idSize)]
			if err := b.Put(append(bytes.Clone(prefix), part[:idSize]...), bytes.Clone(part[idSize:])); err != nil {
				return err
			}
		}
		keys = keys[n:]
	}
	return nil
}

// mergeIDs puts the ids of rising keys into ids, which rise.
func mergeIDs(ids []byte, keys [][]byte) []byte {
	out := make([]byte, 0, len(ids)+len(keys)*idSize)
	for _, key := range keys {
		_, i := splitKey(key)
		for len(ids) > 0 && bytes.Compare(ids[:idSize], i[:]) < 0 {
			out, ids = append(out, ids[:idSize]...), ids[idSize:]
		}
		if len(ids) > 0 && bytes.Equal(ids[:idSize], i[:]) {
			continue
		}
		out = append(out, i[:]...)
	}
	return append(out, ids...)
}

// runAfter gives the first run that begins above an id.
func runAfter(c *cursor, prefix []byte, i id) (run, bool, error) {
	want := append(bytes.Clone(prefix), i[:]...)
	key, value := c.Seek(want)
	if key != nil && bytes.Equal(key, want) {
		key, value = c.Next()
	}
	return openRun(prefix, key, value)
}
