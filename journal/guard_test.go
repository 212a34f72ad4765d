package journal

import (
	"fmt"
	"path/filepath"
	"testing"

	bolt "go.etcd.io/bbolt"
)

// BenchmarkPages measures what our reader of pages costs beside the store's, for
// one look-up with the opening of the bucket, by the number of entries.
func BenchmarkPages(b *testing.B) {
	for n := uint64(1000); n <= 1_000_000; n *= 10 {
		db, err := bolt.Open(filepath.Join(b.TempDir(), "store"), 0o600, &bolt.Options{NoSync: true})
		if err != nil {
			b.Fatal(err)
		}
		defer db.Close()
		for at := uint64(0); at < n; {
			err := db.Update(func(tx *bolt.Tx) error {
				e, err := tx.CreateBucketIfNotExists([]byte(eventsBucket))
				if err != nil {
					return err
				}
				e.FillPercent = appended
				for range min(n, 10_000) {
					at++
					if err := e.Put(seqKey(at), make([]byte, 200)); err != nil {
						return err
					}
				}
				return nil
			})
			if err != nil {
				b.Fatal(err)
			}
		}
		key := func(i uint64) []byte { return seqKey(1 + i*7919%n) }
		look := func(name string, write bool, get func(tx *bolt.Tx, key []byte) []byte) {
			b.Run(fmt.Sprintf("%d/%s", n, name), func(b *testing.B) {
				tx, err := db.Begin(write)
				if err != nil {
					b.Fatal(err)
				}
				defer tx.Rollback()
				for i := uint64(0); b.Loop(); i++ {
					if len(get(tx, key(i))) != 200 {
						b.Fatal("it is not there")
					}
				}
			})
		}
		theirs := func(tx *bolt.Tx, key []byte) []byte { return tx.Bucket([]byte(eventsBucket)).Get(key) }
		ours := func(tx *bolt.Tx, key []byte) []byte {
			s, err := openShelf(tx, eventsBucket)
			if err != nil {
				b.Fatal(err)
			}
			return s.Get(key)
		}
		look("store", false, theirs)
		look("ours", false, ours)
		look("both, to write", true, ours)
	}
}
