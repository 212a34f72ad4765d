package journal

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"unsafe"

	bolt "go.etcd.io/bbolt"
)

// shelf is a bucket within a transaction. Reading goes through our own reader of
// pages (see tree). Writing goes through the store, after our reader has gone
// the same way: the store never goes down a path that was not looked at first.
// What is wrong with a page is thrown, and caught where the session ends
// (within the same goroutine): the methods are those of the store's buckets, which know no errors either.
type shelf struct {
	tree *tree        // as it was when the transaction began; nil for a bucket made since
	bolt *bolt.Bucket // nil in a transaction that only reads
}

// mapped is the part of the file that is in use, as the store has it in memory.
type mapped struct {
	all  []byte
	size uint64 // of a page
}

func (m mapped) load(page uint64) ([]byte, error) {
	if page < 2 || page >= uint64(len(m.all))/m.size {
		return nil, fmt.Errorf("%w: something leads to page %d, which does not exist", errPages, page)
	}
	from := m.all[page*m.size:]
	if got := binary.NativeEndian.Uint64(from); got != page {
		return nil, fmt.Errorf("%w: page %d calls itself page %d", errPages, page, got)
	}
	length := (uint64(binary.NativeEndian.Uint32(from[12:])) + 1) * m.size
	if length > uint64(len(from)) {
		return nil, fmt.Errorf("%w: page %d claims to go on beyond the end", errPages, page)
	}
	return from[:length:length], nil
}

// buckets gives the tree of the buckets as it was when the transaction began.
func buckets(tx *bolt.Tx) (*tree, error) {
	info := tx.DB().Info()
	start := *(*unsafe.Pointer)(unsafe.Pointer(&info.Data))
	pages := mapped{all: unsafe.Slice((*byte)(start), tx.Size()), size: uint64(info.PageSize)}
	return openTree(pages, uint64(tx.Cursor().Bucket().Root()))
}

// openShelf gives a bucket; nil where there is none.
func openShelf(tx *bolt.Tx, name string) (*shelf, error) {
	all, err := buckets(tx)
	if err != nil {
		return nil, err
	}
	s := &shelf{}
	if s.tree, err = all.bucket([]byte(name)); err != nil {
		return nil, err
	}
	if tx.Writable() {
		s.bolt = tx.Bucket([]byte(name))
	}
	if s.tree == nil && s.bolt == nil {
		return nil, nil
	}
	return s, nil
}

// thrown is an error on its way to catch.
type thrown struct{ error }

func throw(err error) {
	if err != nil {
		panic(thrown{err})
	}
}

// catch runs fn and gives what was thrown in it as an error.
func catch(fn func() error) (err error) {
	defer func() {
		switch r := recover().(type) {
		case nil:
		case thrown:
			err = r.error
		default:
			panic(r)
		}
	}()
	return fn()
}

// walked makes sure that the way to key can be gone.
func (s *shelf) walked(key []byte) {
	if s.tree != nil {
		_, err := s.tree.leaf(key)
		throw(err)
	}
}

// Get gives the value under key; nil where there is none. It is good until the
// transaction ends.
func (s *shelf) Get(key []byte) []byte {
	if s.bolt != nil {
		s.walked(key)
		return s.bolt.Get(key)
	}
	value, err := s.tree.get(key)
	throw(err)
	return value
}

// Put puts value under key.
func (s *shelf) Put(key, value []byte) error {
	s.walked(key)
	return s.bolt.Put(key, value)
}

// Delete takes out the entry under key.
func (s *shelf) Delete(key []byte) error {
	if s.tree != nil {
		c := s.tree.cursor()
		throw(c.path(key))
		throw(c.neighbours())
	}
	return s.bolt.Delete(key)
}

// ForEach calls fn for each entry, in the order of the keys.
func (s *shelf) ForEach(fn func(key, value []byte) error) error {
	c := s.Cursor()
	for key, value := c.First(); key != nil; key, value = c.Next() {
		if err := fn(key, value); err != nil {
			return err
		}
	}
	return nil
}

// Cursor gives a cursor that stands nowhere yet.
func (s *shelf) Cursor() *cursor {
	c := &cursor{}
	if s.tree != nil {
		c.own = s.tree.cursor()
	}
	if s.bolt != nil {
		c.bolt = s.bolt.Cursor()
	}
	return c
}

// cursor goes through a shelf. The moves are those of the store's cursors.
type cursor struct {
	own  *treeCursor
	bolt *bolt.Cursor // nil in a transaction that only reads
	last []byte       // the key at which bolt stands
}

// First goes to the first entry.
func (c *cursor) First() (key, value []byte) {
	return c.move(func() ([]byte, []byte, uint64, error) { return c.own.end(false) }, (*bolt.Cursor).First)
}

// Last goes to the last entry.
func (c *cursor) Last() (key, value []byte) {
	return c.move(func() ([]byte, []byte, uint64, error) { return c.own.end(true) }, (*bolt.Cursor).Last)
}

// Seek goes to the first entry whose key is not below want.
func (c *cursor) Seek(want []byte) (key, value []byte) {
	return c.move(func() ([]byte, []byte, uint64, error) { return c.own.seek(want) },
		func(b *bolt.Cursor) ([]byte, []byte) { return b.Seek(want) })
}

// Next goes to the entry after.
func (c *cursor) Next() (key, value []byte) {
	if c.bolt == nil {
		key, value, _, err := c.own.step(false)
		throw(err)
		return key, value
	}
	return c.move(c.beside(false), (*bolt.Cursor).Next)
}

// Prev goes to the entry before.
func (c *cursor) Prev() (key, value []byte) {
	if c.bolt == nil {
		key, value, _, err := c.own.step(true)
		throw(err)
		return key, value
	}
	return c.move(c.beside(true), (*bolt.Cursor).Prev)
}

// beside goes, on the pages as they were, from the place where bolt stands to
// the entry after it or before it.
func (c *cursor) beside(back bool) func() ([]byte, []byte, uint64, error) {
	return func() ([]byte, []byte, uint64, error) {
		key, value, flags, err := c.own.seek(c.last)
		if err != nil || !back && !bytes.Equal(key, c.last) {
			return key, value, flags, err
		}
		return c.own.step(back)
	}
}

// move makes a move with our own reader and, where the transaction writes, with
// the store, whose answer counts: it knows what has been written since.
func (c *cursor) move(own func() ([]byte, []byte, uint64, error), store func(*bolt.Cursor) ([]byte, []byte)) (key, value []byte) {
	if c.own != nil {
		var err error
		key, value, _, err = own()
		throw(err)
	}
	if c.bolt != nil {
		key, value = store(c.bolt)
		if key != nil {
			c.last = append(c.last[:0], key...)
		}
	}
	return key, value
}
