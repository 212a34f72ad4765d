package journal

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"os"

	bolt "go.etcd.io/bbolt"
)

// StoredRecord is an entry of a bucket with the pages that it lies on.
type StoredRecord struct {
	Bucket     string
	Key, Value []byte
	Pages      []int
}

// StoredRecords finds all entries of all buckets of a sound journal.
func StoredRecords(path string) (all []StoredRecord, err error) {
	file, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	h, err := readHeader(file)
	if err != nil {
		return nil, err
	}
	pages := pageFile{file, h.pageSize, h.pages}
	var walk func(bucket string, n node, on []int) error
	load := func(bucket string, page uint64) error {
		n, err := loadNode(pages, page)
		if err != nil {
			return err
		}
		var on []int
		for i := range len(n.data) / int(h.pageSize) {
			on = append(on, int(page)+i)
		}
		return walk(bucket, n, on)
	}
	walk = func(bucket string, n node, on []int) error {
		for i := range n.count {
			key, value, rest, err := n.element(i)
			if err != nil {
				return err
			}
			switch {
			case !n.leaf:
				err = load(bucket, rest)
			case rest&bucketFlag == 0:
				all = append(all, StoredRecord{bucket, bytes.Clone(key), bytes.Clone(value), on})
			case binary.NativeEndian.Uint64(value) != 0:
				err = load(string(key), binary.NativeEndian.Uint64(value))
			default:
				var inside node
				if inside, err = openNode(n.page, value[bucketHead:]); err == nil {
					err = walk(string(key), inside, on)
				}
			}
			if err != nil {
				return err
			}
		}
		return nil
	}
	return all, load("", h.root)
}

// Unsaved says in which way a record of the damaged journal is not in the one
// that was salvaged, whose pages tx reads; it is empty where it is.
func Unsaved(tx *bolt.Tx, r StoredRecord) string {
	b := tx.Bucket([]byte(r.Bucket))
	if b == nil {
		return "its bucket is missing"
	}
	got := b.Get(r.Key)
	switch r.Bucket {
	case eventsBucket, recipesBucket, sheetsBucket, numbersBucket:
		if !bytes.Equal(got, r.Value) {
			return fmt.Sprintf("it is %x", got)
		}
	case batchesBucket:
		was, err1 := decodeBatch(id(r.Key), r.Value)
		is, err2 := decodeBatch(id(r.Key), got)
		if err1 != nil || err2 != nil {
			return fmt.Sprintf("it is %x", got)
		}
		was.Events, is.Events = nil, nil
		was.Plan.Recipe, is.Plan.Recipe = nil, nil // where the recipe itself is lost, something stands for it
		return different(was, is)
	case containersBucket:
		var was, is containerRecord
		if unseal(r.Value, &was) != nil || unseal(got, &is) != nil {
			return fmt.Sprintf("it is %x", got)
		}
		was.Events, is.Events = nil, nil
		return different(was, is)
	case metaBucket:
		var was, is aboutRecord
		if string(r.Key) == aboutKey && (unseal(r.Value, &was) != nil || unseal(got, &is) != nil || was != is) {
			return "the journal has another id"
		}
	}
	return ""
}

func different(was, is any) string {
	a, err1 := seal(was)
	b, err2 := seal(is)
	if err1 != nil || err2 != nil || !bytes.Equal(a, b) {
		return fmt.Sprintf("it was %+v\nand is %+v", was, is)
	}
	return ""
}

// MakeGap takes an event out and makes up a gap that explains it.
func MakeGap(tx *bolt.Tx, seq uint64) error {
	events := tx.Bucket([]byte(eventsBucket))
	before := sha256.Sum256(events.Get(seqKey(seq - 1)))
	after := sha256.Sum256(events.Get(seqKey(seq)))
	if err := events.Delete(seqKey(seq)); err != nil {
		return err
	}
	return putRecord(tx.Bucket([]byte(gapsBucket)), seqKey(seq+1), gapRecord{From: seq, To: seq, Before: before, After: after})
}
