package journal

import (
	"encoding/binary"
	"errors"
	"fmt"

	bolt "go.etcd.io/bbolt"
)

// The buckets of a journal file. FORMAT.md says what is in each.
const (
	metaBucket       = "meta"       // name -> record: magic, about, head, fresh
	eventsBucket     = "events"     // sequence number -> event
	batchesBucket    = "batches"    // id -> the batch as it stands
	recipesBucket    = "recipes"    // SHA-256 -> frozen recipe
	sheetsBucket     = "sheets"     // id of the batch -> frozen sheet
	numbersBucket    = "numbers"    // "2026-014" -> id of the batch, "S-012" -> id of the container
	containersBucket = "containers" // id -> the container as it stands
	indexBucket      = "index"      // tag, value, 0, id of a batch -> the ids that follow
)

// bucketNames returns the names of all buckets.
func bucketNames() []string {
	return []string{metaBucket, eventsBucket, batchesBucket, recipesBucket, sheetsBucket, numbersBucket, containersBucket, indexBucket}
}

// How full pages are left when they are split: the events only ever come at the
// end, so there is nothing to keep room for; the other keys rise for the most
// part.
const (
	appended = 1.0
	rising   = 0.9
)

// fileFormat is the version of the file as a whole.
const fileFormat = 2

// magic is the value under the key "magic" of the bucket meta.
const magic = "hepar journal"

// The keys of the bucket meta.
const (
	magicKey = "magic"
	aboutKey = "about"
	headKey  = "head"
	freshKey = "fresh"
)

var errNoBucket = errors.New("a bucket is missing")

// bucket returns a bucket, or an error where the store would return nil.
func bucket(tx *bolt.Tx, name string) (*shelf, error) {
	b, err := openShelf(tx, name)
	if err != nil {
		return nil, err
	}
	if b == nil {
		return nil, fmt.Errorf("%w: %s", errNoBucket, name)
	}
	if b.bolt != nil {
		switch name {
		case eventsBucket:
			b.bolt.FillPercent = appended
		case batchesBucket, sheetsBucket, indexBucket, numbersBucket:
			b.bolt.FillPercent = rising
		}
	}
	return b, nil
}

func seqKey(seq uint64) []byte { return binary.BigEndian.AppendUint64(nil, seq) }
