package journal

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	bolt "go.etcd.io/bbolt"
)

// What one event changes in the index lies far apart there, and each page costs in
// every write. So the changes first go into one record beside the head, in the
// transaction of their event, and a few dozen at a time from there into the runs.
// Whoever looks into the index puts both together.

// mostFresh is how many bytes of changes wait at most: so few that the store keeps
// the bucket of the head within the page that is written in any case.
const mostFresh = 640

// mostFreshBatches is of how many batches changes are gathered in a transaction.
const mostFreshBatches = 1000

// fresh are the changes of the index that wait.
type fresh struct {
	of      []freshOf // rising by batch
	changed bool      // since it was read
}

// freshOf are those of one batch: tags with values, rising. What is to be put does
// not stand in the runs, and what is to be dropped does.
type freshOf struct {
	batch id
	put   [][]byte
	drop  [][]byte
}

// readFresh reads the changes that wait; there may be none.
func readFresh(tx *bolt.Tx) (*fresh, error) {
	meta, err := bucket(tx, metaBucket)
	if err != nil {
		return nil, err
	}
	f := &fresh{}
	record := meta.Get([]byte(freshKey))
	if record == nil {
		return f, nil
	}
	return f, f.unseal(record)
}

func (f *fresh) seal() []byte {
	record := appendHead([]byte{recordVersion}, 4, uint64(len(f.of)))
	for _, o := range f.of {
		record = append(append(record, 0x83, 0x50), o.batch[:]...) // an array of three; sixteen bytes
		for _, values := range [][][]byte{o.put, o.drop} {
			record = appendHead(record, 4, uint64(len(values)))
			for _, v := range values {
				record = append(appendHead(record, 2, uint64(len(v))), v...)
			}
		}
	}
	return withChecksum(record)
}

func (f *fresh) unseal(record []byte) error {
	if err := checkPlain(record); err != nil {
		return fmt.Errorf("the fresh part of the index: %w", err)
	}
	r := cborReader{b: record[1 : len(record)-checksumSize]}
	array := func() uint64 {
		major, n := r.head()
		r.bad = r.bad || major != 4 || n > uint64(len(r.b))
		return n
	}
	for n := array(); n > 0 && !r.bad; n-- {
		r.bad = array() != 3 || r.bad
		var o freshOf
		r.fixed(o.batch[:])
		r.bad = r.bad || len(f.of) > 0 && f.of[len(f.of)-1].batch.compare(o.batch) >= 0
		for _, to := range []*[][]byte{&o.put, &o.drop} {
			for k := array(); k > 0 && !r.bad; k-- {
				v := bytes.Clone(r.bytes(2))
				r.bad = r.bad || len(v) < 1 || len(*to) > 0 && bytes.Compare((*to)[len(*to)-1], v) >= 0
				*to = append(*to, v)
			}
		}
		f.of = append(f.of, o)
	}
	if r.bad || len(r.b) > 0 {
		return fmt.Errorf("the fresh part of the index: %w", errOdd)
	}
	return nil
}

// size is how many bytes of changes wait.
func (f *fresh) size() int {
	n := 0
	for _, o := range f.of {
		n += idSize + 4
		for _, v := range o.put {
			n += 1 + len(v)
		}
		for _, v := range o.drop {
			n += 1 + len(v)
		}
	}
	return n
}

func (f *fresh) find(i id) (at int, there bool) {
	return slices.BinarySearchFunc(f.of, i, func(o freshOf, i id) int { return o.batch.compare(i) })
}

// change puts a key, as indexKeys gives it, or drops it.
func (f *fresh) change(key []byte, put bool) {
	f.changed = true
	prefix, i := splitKey(key)
	at, there := f.find(i)
	if !there {
		f.of = slices.Insert(f.of, at, freshOf{batch: i})
	}
	o := &f.of[at]
	to, undo := &o.put, &o.drop
	if !put {
		to, undo = undo, to
	}
	value := prefix[:len(prefix)-1]
	if k, had := slices.BinarySearchFunc(*undo, value, bytes.Compare); had {
		*undo = slices.Delete(*undo, k, k+1)
	} else if k, has := slices.BinarySearchFunc(*to, value, bytes.Compare); !has {
		*to = slices.Insert(*to, k, value)
	}
	if len(o.put)+len(o.drop) == 0 {
		f.of = slices.Delete(f.of, at, at+1)
	}
}

// says tells whether a key waits to be put or to be dropped.
func (f *fresh) says(prefix []byte, i id) (put, drop bool) {
	at, there := f.find(i)
	if !there {
		return false, false
	}
	value := prefix[:len(prefix)-1]
	_, put = slices.BinarySearchFunc(f.of[at].put, value, bytes.Compare)
	_, drop = slices.BinarySearchFunc(f.of[at].drop, value, bytes.Compare)
	return put, drop
}

// under gives the batches that wait to be put under a prefix, and to be dropped, rising.
func (f *fresh) under(prefix []byte) (put, drop []id) {
	value := prefix[:len(prefix)-1]
	for _, o := range f.of {
		if _, there := slices.BinarySearchFunc(o.put, value, bytes.Compare); there {
			put = append(put, o.batch)
		}
		if _, there := slices.BinarySearchFunc(o.drop, value, bytes.Compare); there {
			drop = append(drop, o.batch)
		}
	}
	return put, drop
}

// keys gives the keys to be put and to be dropped, each in order.
func (f *fresh) keys() (put, drop [][]byte) {
	for _, o := range f.of {
		for _, v := range o.put {
			put = append(put, slices.Concat(v, []byte{0}, o.batch[:]))
		}
		for _, v := range o.drop {
			drop = append(drop, slices.Concat(v, []byte{0}, o.batch[:]))
		}
	}
	slices.SortFunc(put, bytes.Compare)
	slices.SortFunc(drop, bytes.Compare)
	return put, drop
}

// fold puts what waits into the runs.
func (f *fresh) fold(index *shelf) error {
	put, drop := f.keys()
	for _, key := range drop {
		if err := dropIndexed(index, key); err != nil {
			return err
		}
	}
	if err := putIndexedKeys(index, put); err != nil {
		return err
	}
	f.of, f.changed = nil, true
	return nil
}

// waiting gives the changes of the index that wait.
func (r *reader) waiting() (*fresh, error) {
	if r.fresh == nil {
		f, err := readFresh(r.tx)
		if err != nil {
			return nil, err
		}
		r.fresh = f
	}
	return r.fresh, nil
}

// reindex takes out of the index what is only in before and puts in what is only in
// after. Both are sorted.
func (w *Writer) reindex(before, after [][]byte) error {
	f, err := w.waiting()
	if err != nil {
		return err
	}
	for _, key := range before {
		if _, kept := slices.BinarySearchFunc(after, key, bytes.Compare); !kept {
			f.change(key, false)
		}
	}
	for _, key := range after {
		if _, had := slices.BinarySearchFunc(before, key, bytes.Compare); !had {
			f.change(key, true)
		}
	}
	if len(f.of) > mostFreshBatches {
		return f.fold(w.index)
	}
	return nil
}

// putFresh writes what waits, or where that is much puts it into the runs.
func (w *Writer) putFresh(meta *shelf) error {
	f := w.fresh
	if f == nil || !f.changed {
		return nil
	}
	if f.size() > mostFresh {
		if err := f.fold(w.index); err != nil {
			return err
		}
	}
	return meta.Put([]byte(freshKey), f.seal())
}

// freshCursor goes through the ids under one value: those in the runs without
// those to be dropped, and those to be put.
type freshCursor struct {
	runs      *runCursor
	put, drop []id
	now       id // given last
	next      id // where runs stands: at now or beyond it
	more      bool
}

// newIndexCursor gives a cursor over the ids under a prefix.
func (r *reader) newIndexCursor(index *shelf, prefix []byte) (idCursor, error) {
	runs := &runCursor{cursor: index.Cursor(), prefix: prefix}
	f, err := r.waiting()
	if err != nil {
		return nil, err
	}
	if put, drop := f.under(prefix); len(put)+len(drop) > 0 {
		return &freshCursor{runs: runs, put: put, drop: drop}, nil
	}
	return runs, nil
}

func (c *freshCursor) seek(want id, down bool) (i id, ok bool, err error) {
	c.next, c.more, err = c.runs.seek(want, down)
	if err := c.pass(down, err); err != nil {
		return i, false, err
	}
	i, ok = c.nearest(want, down, true)
	return i, ok, nil
}

func (c *freshCursor) step(down bool) (i id, ok bool, err error) {
	if c.more && c.next == c.now {
		c.next, c.more, err = c.runs.step(down)
		if err := c.pass(down, err); err != nil {
			return i, false, err
		}
	}
	i, ok = c.nearest(c.now, down, false)
	return i, ok, nil
}

// pass goes past what is to be dropped.
func (c *freshCursor) pass(down bool, err error) error {
	for err == nil && c.more {
		if _, dropped := slices.BinarySearchFunc(c.drop, c.next, id.compare); !dropped {
			break
		}
		c.next, c.more, err = c.runs.step(down)
	}
	return err
}

// nearest gives the nearer of that in the runs and the first to be put from want on.
func (c *freshCursor) nearest(want id, down, with bool) (id, bool) {
	at, exact := slices.BinarySearchFunc(c.put, want, id.compare)
	switch {
	case exact && !with && !down:
		at++
	case down && !(exact && with):
		at--
	}
	best, ok := c.next, c.more
	if at >= 0 && at < len(c.put) {
		if p := c.put[at]; !ok || down && p.compare(best) > 0 || !down && p.compare(best) < 0 {
			best, ok = p, true
		}
	}
	c.now = best
	return best, ok
}

// valuesOf gives the values that batches have under a tag, in order.
func (r *reader) valuesOf(tag byte) ([]string, error) {
	index, err := bucket(r.tx, indexBucket)
	if err != nil {
		return nil, err
	}
	f, err := r.waiting()
	if err != nil {
		return nil, err
	}
	var names []string
	cursor := index.Cursor()
	for key, _ := cursor.Seek([]byte{tag}); len(key) > idSize+1 && key[0] == tag; {
		prefix, _ := splitKey(key)
		// Of all that are in the runs under it, some must stay.
		c, err := r.newIndexCursor(index, prefix)
		if err != nil {
			return nil, err
		}
		if _, there, err := c.seek(id{}, false); err != nil {
			return nil, err
		} else if there {
			names = append(names, string(prefix[1:len(prefix)-1]))
		}
		key, _ = cursor.Seek(append(bytes.Clone(prefix[:len(prefix)-1]), 1)) // beyond its zero byte
	}
	for _, o := range f.of {
		for _, v := range o.put {
			if v[0] == tag {
				names = append(names, string(v[1:]))
			}
		}
	}
	slices.SortFunc(names, strings.Compare)
	return slices.Compact(names), nil
}
