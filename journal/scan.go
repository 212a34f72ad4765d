package journal

import (
	"bytes"
	"fmt"

	bolt "go.etcd.io/bbolt"
)

// scan walks the batches that stand in every one of some parts of the index, or
// all batches where there are no parts, in the order of their ids. It goes from
// part to part, each time leaping to the first id that the last part allows, so
// that the cost follows the rarest part and not the commonest.
type scan struct {
	cursors  []*cursor
	prefixes [][]byte // one for each cursor; nil for the bucket of batches
	down     bool     // newest first
	low      id       // both bounds are included
	high     id
}

func newScan(tx *bolt.Tx, prefixes [][]byte, low, high id, down bool) (*scan, error) {
	s := &scan{prefixes: prefixes, low: low, high: high, down: down}
	name := indexBucket
	if len(prefixes) == 0 {
		name, s.prefixes = batchesBucket, [][]byte{nil}
	}
	b, err := bucket(tx, name)
	if err != nil {
		return nil, err
	}
	for range s.prefixes {
		s.cursors = append(s.cursors, b.Cursor())
	}
	return s, nil
}

// each calls fn with each id until fn says stop.
func (s *scan) each(fn func(i id) (more bool, err error)) error {
	at := s.low
	if s.down {
		at = s.high
	}
	agree := 0 // how many cursors stand at the same id
	step := false
	for which := 0; ; which = (which + 1) % len(s.cursors) {
		found, ok, err := s.move(which, at, step)
		if err != nil || !ok || found.compare(s.low) < 0 || found.compare(s.high) > 0 {
			return err
		}
		if found != at || step {
			agree = 0
		}
		at, step = found, false
		if agree++; agree < len(s.cursors) {
			continue
		}
		more, err := fn(at)
		if err != nil || !more {
			return err
		}
		step, agree = true, 0
	}
}

// move brings a cursor to the first id at or beyond target. With past set the
// cursor stands at target already and goes one on.
func (s *scan) move(which int, target id, past bool) (found id, ok bool, err error) {
	cursor, prefix := s.cursors[which], s.prefixes[which]
	size := len(prefix) + len(target)
	var key []byte
	switch {
	case past && s.down:
		key, _ = cursor.Prev()
	case past:
		key, _ = cursor.Next()
	default:
		want := append(bytes.Clone(prefix), target[:]...)
		key, _ = cursor.Seek(want)
		if s.down && key == nil {
			key, _ = cursor.Last()
		} else if s.down && !bytes.Equal(key, want) {
			key, _ = cursor.Prev()
		}
	}
	if key == nil || !bytes.HasPrefix(key, prefix) {
		return found, false, nil
	}
	if len(key) != size {
		return found, false, fmt.Errorf("%w: a key of the index or of a batch is odd", errTangled)
	}
	return id(key[len(prefix):]), true, nil
}
