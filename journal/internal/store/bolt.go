package store

import (
	"bytes"
	"errors"
	"fmt"
	"iter"
	"os"

	bolt "go.etcd.io/bbolt"
	bolterrors "go.etcd.io/bbolt/errors"
)

// boltFile is an open store file. It is the only thing here that knows bbolt.
type boltFile struct{ db *bolt.DB }

// openBolt opens the store in file, whose lock is held. Loose leaves syncs to the
// caller: of a file that nobody else knows of yet.
func openBolt(file *os.File, write, loose bool) (*boltFile, error) {
	db, err := bolt.Open(file.Name(), 0o600, &bolt.Options{
		Timeout: boltWait, ReadOnly: !write, FreelistType: bolt.FreelistMapType, NoStatistics: true, NoSync: loose,
		OpenFile: func(string, int, os.FileMode) (*os.File, error) { return file, nil },
	})
	if errors.Is(err, bolterrors.ErrTimeout) {
		return nil, errHeld
	}
	if err != nil {
		return nil, fmt.Errorf("%w: %w", errPages, err)
	}
	return &boltFile{db}, nil
}

func (f *boltFile) close() error { return f.db.Close() }

// lay makes the buckets.
func (f *boltFile) lay(names []string) error {
	return f.db.Update(func(tx *bolt.Tx) error {
		for _, name := range names {
			if _, err := tx.CreateBucketIfNotExists([]byte(name)); err != nil {
				return err
			}
		}
		return nil
	})
}

// View runs fn in a transaction that only reads.
func (f *boltFile) View(fn func(Bucketed) error) error {
	return f.db.View(func(tx *bolt.Tx) error { return fn(boltTx{tx}) })
}

// Update runs fn in a transaction that is on the disk when Update returns nil.
func (f *boltFile) Update(fn func(Bucketed) error) error {
	return f.db.Update(func(tx *bolt.Tx) error { return fn(boltTx{tx}) })
}

// take copies all that is in another store, page by page, into this empty one.
func (f *boltFile) take(from *boltFile) error { return bolt.Compact(f.db, from.db, 4<<20) }

// check returns what the store itself finds wrong with its pages.
func (f *boltFile) check(most int) (found []string) {
	_ = f.db.View(func(tx *bolt.Tx) error {
		for err := range tx.Check() {
			if len(found) < most {
				found = append(found, err.Error())
			}
		}
		return nil
	})
	return found
}

type boltTx struct{ tx *bolt.Tx }

// bucket returns a bucket; a missing one is a fault of the file.
func (t boltTx) bucket(name string) *bolt.Bucket {
	b := t.tx.Bucket([]byte(name))
	if b == nil {
		panic(fmt.Errorf("%w: the bucket %s is missing", errPages, name))
	}
	if rising(name) {
		b.FillPercent = 0.9
	}
	return b
}

func (t boltTx) Get(bucket string, key []byte) []byte { return t.bucket(bucket).Get(key) }

func (t boltTx) Put(bucket string, key, value []byte) error { return t.bucket(bucket).Put(key, value) }

func (t boltTx) Delete(bucket string, key []byte) error { return t.bucket(bucket).Delete(key) }

func (t boltTx) Scan(bucket string, low, high []byte, backward bool) iter.Seq2[[]byte, []byte] {
	return func(yield func(k, v []byte) bool) {
		c := t.bucket(bucket).Cursor()
		if !backward {
			for k, v := c.Seek(low); k != nil && (high == nil || bytes.Compare(k, high) < 0); k, v = c.Next() {
				if !yield(k, v) {
					return
				}
			}
			return
		}
		var k, v []byte
		if high == nil {
			k, v = c.Last()
		} else if k, v = c.Seek(high); k == nil {
			k, v = c.Last()
		} else {
			k, v = c.Prev()
		}
		for ; k != nil && bytes.Compare(k, low) >= 0; k, v = c.Prev() {
			if !yield(k, v) {
				return
			}
		}
	}
}
