package journal

import (
	"os"

	bolt "go.etcd.io/bbolt"
)

// What the tests outside of the package need of its inside.

// RaiseFormat makes the journal at path say that a newer program wrote it.
func RaiseFormat(path string) error {
	return Tamper(path, func(tx *bolt.Tx) error {
		return putRecord(tx.Bucket([]byte(metaBucket)), []byte(aboutKey), aboutRecord{Format: fileFormat + 1})
	})
}

// Tamper changes a journal behind its back, with all of its index in the runs.
func Tamper(path string, fn func(tx *bolt.Tx) error) error {
	db, err := bolt.Open(path, 0o600, nil)
	if err != nil {
		return err
	}
	defer db.Close()
	return db.Update(func(tx *bolt.Tx) error {
		if err := FoldIndex(tx); err != nil {
			return err
		}
		if err := fn(tx); err != nil {
			return err
		}
		return SetMoment(tx)
	})
}

// SetMoment lets the head, where there still is one, know the transaction.
func SetMoment(tx *bolt.Tx) error {
	if tx.Bucket([]byte(metaBucket)) != nil {
		_ = catch(func() error { return setMoment(tx) })
	}
	return nil
}

// FoldIndex puts what is fresh of the index into the runs.
func FoldIndex(tx *bolt.Tx) error {
	index, err := bucket(tx, indexBucket)
	if err != nil {
		return err
	}
	f, err := readFresh(tx)
	if err != nil {
		return err
	}
	if err := f.fold(index); err != nil {
		return err
	}
	return tx.Bucket([]byte(metaBucket)).Put([]byte(freshKey), f.seal())
}

// InUse gives the length in bytes of what is in use of the file at path; what
// lies beyond is room to grow.
func InUse(path string) (int64, error) {
	file, err := os.Open(path)
	if err != nil {
		return 0, err
	}
	defer file.Close()
	h, err := readHeader(file)
	return int64(h.pages) * h.pageSize, err
}

// StoredBytes gives the length in bytes of the last event of a batch and of the
// batch as it stands, with their keys.
func StoredBytes(path, number string) (n int, err error) {
	err = At(path, Options{}).read(func(tx *bolt.Tx) error {
		r, err := newReader(tx)
		if err != nil {
			return err
		}
		b, err := r.find(number)
		if err != nil {
			return err
		}
		last := seqKey(b.Events[len(b.Events)-1])
		n = len(last) + len(r.events.Get(last)) + len(b.ID) + len(r.batches.Get(b.ID[:]))
		return nil
	})
	return n, err
}

// Reword gives an event another reason and a checksum that fits.
func Reword(tx *bolt.Tx, seq uint64, reason string) error {
	b := tx.Bucket([]byte(eventsBucket))
	e, err := decodeEvent(seq, b.Get(seqKey(seq)))
	if err != nil {
		return err
	}
	e.Reason = reason
	record, err := e.seal()
	if err != nil {
		return err
	}
	return b.Put(seqKey(seq), record)
}

// Restate gives the first batch one piece more and a checksum that fits.
func Restate(tx *bolt.Tx) error {
	r, err := newReader(tx)
	if err != nil {
		return err
	}
	key, _ := r.batches.Cursor().First()
	b, err := r.batch(id(key))
	if err != nil {
		return err
	}
	b.Plan.Pieces++
	return r.batches.Put(b.ID[:], b.sealStanding())
}

// Held calls fn while a reader holds the journal.
func Held(j *Journal, fn func() error) error {
	return j.read(func(*bolt.Tx) error { return fn() })
}
