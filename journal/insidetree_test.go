package journal

import (
	"errors"

	bolt "go.etcd.io/bbolt"
)

// Walker is a cursor of ours or of the store.
type Walker interface {
	First() (key, value []byte)
	Last() (key, value []byte)
	Next() (key, value []byte)
	Prev() (key, value []byte)
	Seek(key []byte) (k, v []byte)
}

var errBack = errors.New("take it all back")

// Compare gives fn our cursor and the store's on one bucket. What fn writes is
// taken back.
func Compare(j *Journal, write bool, name string, fn func(ours, stores Walker, store *bolt.Bucket, put, drop func(key []byte))) error {
	session := j.read
	if write {
		session = j.write
	}
	err := session(func(tx *bolt.Tx) error {
		b, err := bucket(tx, name)
		if err != nil {
			return err
		}
		store := tx.Bucket([]byte(name))
		fn(b.Cursor(), store.Cursor(), store,
			func(key []byte) { throw(b.Put(key, []byte("x"))) }, func(key []byte) { throw(b.Delete(key)) })
		return errBack
	})
	if errors.Is(err, errBack) {
		return nil
	}
	return err
}
