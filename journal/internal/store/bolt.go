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
type boltFile struct {
	db    *bolt.DB
	guard *guard // nil if every page was walked, or the file is new
}

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
	return &boltFile{db: db}, nil
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
	return f.db.View(func(tx *bolt.Tx) error { return fn(boltTx{tx, f.guard}) })
}

// Update runs fn in a transaction that is on the disk when Update returns nil.
func (f *boltFile) Update(fn func(Bucketed) error) error {
	return f.db.Update(func(tx *bolt.Tx) error { return fn(boltTx{tx, f.guard}) })
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

type boltTx struct {
	tx    *bolt.Tx
	guard *guard
}

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

// sure guards the leaf in which a key would be, and returns its number.
func (t boltTx) sure(bucket string, key []byte) (leaf int) {
	if t.guard != nil {
		leaf = t.guard.at(bucket, key)
		t.guard.near(bucket, leaf)
	}
	return leaf
}

// moved guards the leaves beside the one to which a scan has come.
func (t boltTx) moved(bucket string, leaf int, key []byte) int {
	if t.guard == nil {
		return leaf
	}
	row := t.guard.leaves[bucket]
	now := leaf
	for now+1 < len(row) && bytes.Compare(row[now+1].low, key) <= 0 {
		now++
	}
	for now > 0 && bytes.Compare(row[now].low, key) > 0 {
		now--
	}
	if now != leaf {
		t.guard.near(bucket, now)
	}
	return now
}

func (t boltTx) ID() uint64 { return uint64(t.tx.ID()) }

func (t boltTx) Get(bucket string, key []byte) []byte {
	t.sure(bucket, key)
	return t.bucket(bucket).Get(key)
}

func (t boltTx) Put(bucket string, key, value []byte) error {
	t.sure(bucket, key)
	return t.bucket(bucket).Put(key, value)
}

func (t boltTx) Delete(bucket string, key []byte) error {
	t.sure(bucket, key)
	return t.bucket(bucket).Delete(key)
}

func (t boltTx) Scan(bucket string, low, high []byte, backward bool) iter.Seq2[[]byte, []byte] {
	return func(yield func(k, v []byte) bool) {
		c := t.bucket(bucket).Cursor()
		if !backward {
			leaf := t.sure(bucket, low)
			for k, v := c.Seek(low); k != nil && (high == nil || bytes.Compare(k, high) < 0); k, v = c.Next() {
				if !yield(k, v) {
					return
				}
				leaf = t.moved(bucket, leaf, k)
			}
			return
		}
		var k, v []byte
		leaf := 0
		if high == nil {
			if t.guard != nil {
				leaf = len(t.guard.leaves[bucket]) - 1
				t.guard.near(bucket, leaf)
			}
			k, v = c.Last()
		} else {
			leaf = t.sure(bucket, high)
			if k, v = c.Seek(high); k == nil {
				k, v = c.Last()
			} else {
				k, v = c.Prev()
			}
		}
		for ; k != nil && bytes.Compare(k, low) >= 0; k, v = c.Prev() {
			leaf = t.moved(bucket, leaf, k)
			if !yield(k, v) {
				return
			}
		}
	}
}
