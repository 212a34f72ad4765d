package store

import (
	"bytes"
	"errors"
	"fmt"
	"iter"
	"os"

	bolt "go.etcd.io/bbolt"
	bolterrors "go.etcd.io/bbolt/errors"

	"hepar/recipe/fault"
)

// boltFile is an open store file. It is the only thing here that knows bbolt.
type boltFile struct {
	db      *bolt.DB
	entries uint64 // in all buckets, as the walk has counted them
}

var _ Store = boltFile{}

// openBolt opens the store in file, whose lock is held. Loose leaves syncs to the
// caller: of a file that nobody else knows of yet.
func openBolt(file *os.File, entries uint64, write, loose bool) (boltFile, error) {
	db, err := bolt.Open(file.Name(), 0o600, &bolt.Options{
		Timeout: DefaultWait, ReadOnly: !write, FreelistType: bolt.FreelistMapType, NoStatistics: true, NoSync: loose,
		OpenFile: func(string, int, os.FileMode) (*os.File, error) { return file, nil },
	})
	if errors.Is(err, bolterrors.ErrTimeout) {
		err = errHeld
	} else if err != nil {
		err = fmt.Errorf("%w: %w", errPages, err)
	}
	return boltFile{db, entries}, err
}

func (f boltFile) Transact(write bool, fn func(KV) error) error {
	run := f.db.View
	if write {
		run = f.db.Update
	}
	return run(func(tx *bolt.Tx) error {
		return fault.Caught(func() { fault.Check(fn(boltTx{tx, map[string]*bolt.Bucket{}})) })
	})
}

// take copies all that is in another store, page by page, into this empty one.
func (f boltFile) take(from boltFile) error {
	if err := bolt.Compact(f.db, from.db, 4<<20); err != nil {
		return err
	}
	return f.Transact(true, func(kv KV) error {
		var head Head
		fault.Check(unseal(HeadFrame, kv.Get(metaBucket, headKey), &head))
		head.Tx = kv.ID() // it is the transaction that has copied it
		return kv.Put(metaBucket, headKey, sealed(HeadFrame, head))
	})
}

// boltTx is a transaction of a boltFile.
type boltTx struct {
	tx     *bolt.Tx
	opened map[string]*bolt.Bucket
}

// bucket returns a bucket. A missing one is a fault of the file.
func (t boltTx) bucket(name string) *bolt.Bucket {
	b := t.opened[name]
	if b == nil {
		if b = t.tx.Bucket([]byte(name)); b == nil {
			fault.Check(badPage("the bucket %s is missing", name))
		}
		b.FillPercent = 0.9 // most new keys come after all others
		t.opened[name] = b
	}
	return b
}

func (t boltTx) Make(buckets ...string) {
	for _, name := range buckets {
		_, err := t.tx.CreateBucket([]byte(name))
		fault.Check(err)
	}
}

func (t boltTx) ID() uint64 { return uint64(t.tx.ID()) }

func (t boltTx) Get(bucket string, key []byte) []byte { return t.bucket(bucket).Get(key) }

func (t boltTx) Put(bucket string, key, value []byte) error {
	if value == nil {
		return t.bucket(bucket).Delete(key)
	}
	return t.bucket(bucket).Put(key, value)
}

func (t boltTx) Scan(bucket string, low, high []byte, backward bool) iter.Seq2[[]byte, []byte] {
	return func(yield func(k, v []byte) bool) {
		c := t.bucket(bucket).Cursor()
		first, step := low, c.Next
		if backward {
			first, step = high, c.Prev
		}
		at, _ := c.Seek(first)
		k, v := c.Prev()
		if at == nil {
			k, v = c.Last()
		}
		misled := at != nil && bytes.Compare(at, first) < 0 || k != nil && bytes.Compare(k, first) >= 0
		if !backward {
			k, v = c.Seek(first)
		}
		for last := []byte(nil); misled || k != nil; k, v = step() {
			if order := bytes.Compare(last, k); misled || last != nil && (order == 0 || order > 0 != backward) {
				fault.Check(badPage("the keys of the bucket %s are out of order", bucket))
			}
			if last = k; bytes.Compare(k, low) < 0 || high != nil && bytes.Compare(k, high) >= 0 || !yield(k, v) {
				return
			}
		}
	}
}
