package journal

import (
	"bytes"
	"fmt"
	"os"

	bolt "go.etcd.io/bbolt"
)

// bulk is a store that one run writes and nobody else sees: it is made durable
// once, at the end. What it holds in memory is bounded.
type bulk struct {
	path  string
	db    *bolt.DB
	tx    *bolt.Tx
	bytes int // written since the last commit
}

const (
	bulkStep  = 4 << 20 // bytes from commit to commit
	bulkChunk = 512     // entries read at a time
)

func newBulk(dir, pattern string) (*bulk, error) {
	file, err := makeCopy(dir, pattern)
	if err != nil {
		return nil, err
	}
	b := &bulk{path: file.Name()}
	if err := file.Close(); err != nil {
		return b, err
	}
	b.db, err = bolt.Open(b.path, 0o600, &bolt.Options{Timeout: boltWait, FreelistType: bolt.FreelistMapType, NoStatistics: true, NoSync: true})
	if err != nil {
		return b, err
	}
	b.tx, err = b.db.Begin(true)
	return b, err
}

// put stores value under key, in a bucket that it makes if need be.
func (b *bulk) put(name string, key, value []byte) error {
	if b.bytes > bulkStep {
		if err := b.commit(); err != nil {
			return err
		}
	}
	b.bytes += len(key) + len(value) + 64
	bucket, err := b.tx.CreateBucketIfNotExists([]byte(name))
	if err != nil {
		return err
	}
	bucket.FillPercent = appended
	return bucket.Put(key, bytes.Clone(value)) // the store keeps the value itself until the commit
}

// indexed puts a key into the index.
func (b *bulk) indexed(key []byte) error {
	if b.bytes > bulkStep {
		if err := b.commit(); err != nil {
			return err
		}
	}
	b.bytes += longestRun / 2 * idSize
	return putIndexed(&shelf{bolt: b.tx.Bucket([]byte(indexBucket))}, key)
}

// record seals v and stores it.
func (b *bulk) record(name string, key []byte, v any) error {
	record, err := seal(v)
	if err != nil {
		return err
	}
	return b.put(name, key, record)
}

// get gives a copy of the value under key; nil where there is none.
func (b *bulk) get(name string, key []byte) []byte {
	bucket := b.tx.Bucket([]byte(name))
	if bucket == nil {
		return nil
	}
	return bytes.Clone(bucket.Get(key))
}

// each calls fn for each entry whose key begins with prefix, in order. Fn may put.
func (b *bulk) each(name string, prefix []byte, fn func(key, value []byte) error) error {
	from := prefix
	for {
		bucket := b.tx.Bucket([]byte(name))
		if bucket == nil {
			return nil
		}
		var keys, values [][]byte
		c := bucket.Cursor()
		for k, v := c.Seek(from); k != nil && bytes.HasPrefix(k, prefix) && len(keys) < bulkChunk; k, v = c.Next() {
			keys, values = append(keys, bytes.Clone(k)), append(values, bytes.Clone(v))
		}
		for i, k := range keys {
			if err := fn(k, values[i]); err != nil {
				return err
			}
		}
		if len(keys) < bulkChunk {
			return nil
		}
		from = append(keys[len(keys)-1], 0)
	}
}

// eachBack calls fn for each entry from the last to the first. Fn may put.
func (b *bulk) eachBack(name string, fn func(key, value []byte) error) error {
	var from []byte
	for {
		bucket := b.tx.Bucket([]byte(name))
		if bucket == nil {
			return nil
		}
		var keys, values [][]byte
		c := bucket.Cursor()
		k, v := c.Last()
		if from != nil {
			c.Seek(from)
			k, v = c.Prev()
		}
		for ; k != nil && len(keys) < bulkChunk; k, v = c.Prev() {
			keys, values = append(keys, bytes.Clone(k)), append(values, bytes.Clone(v))
		}
		for i, k := range keys {
			if err := fn(k, values[i]); err != nil {
				return err
			}
		}
		if len(keys) < bulkChunk {
			return nil
		}
		from = keys[len(keys)-1]
	}
}

func (b *bulk) commit() (err error) {
	b.bytes = 0
	if err := b.tx.Commit(); err != nil {
		return fmt.Errorf("write a copy: %w", err)
	}
	b.tx, err = b.db.Begin(true)
	return err
}

// close makes the store durable.
func (b *bulk) close() error {
	err := setMoment(b.tx)
	if err == nil {
		err = b.tx.Commit()
	}
	if err == nil {
		err = b.db.Sync()
	}
	if closed := b.db.Close(); err == nil {
		err = closed
	}
	b.tx, b.db = nil, nil
	return err
}

// drop takes the file away.
func (b *bulk) drop() {
	if b.tx != nil {
		_ = b.tx.Rollback()
	}
	if b.db != nil {
		_ = b.db.Close()
	}
	_ = os.Remove(b.path)
}
