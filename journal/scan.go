package journal

import (
	"bytes"
	"fmt"
)

// scan walks the batches that stand in every one of some parts of the index, or
// all batches where there are no parts, in the order of their ids. It goes from
// part to part, each time leaping to the first id that the last part allows, so
// that the cost follows the rarest part and not the commonest.
type scan struct {
	cursors []idCursor
	down    bool // newest first
	low     id   // both bounds are included
	high    id
}

// idCursor goes through ids in order.
type idCursor interface {
	seek(want id, down bool) (id, bool, error) // the first at or above want, or the last at or below it
	step(down bool) (id, bool, error)
}

func newScan(r *reader, prefixes [][]byte, low, high id, down bool) (*scan, error) {
	s := &scan{low: low, high: high, down: down}
	if len(prefixes) == 0 {
		s.cursors = []idCursor{&keyCursor{cursor: r.batches.Cursor()}}
		return s, nil
	}
	b, err := bucket(r.tx, indexBucket)
	if err != nil {
		return nil, err
	}
	for _, p := range prefixes {
		c, err := r.newIndexCursor(b, p)
		if err != nil {
			return nil, err
		}
		s.cursors = append(s.cursors, c)
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
	if past {
		return s.cursors[which].step(s.down)
	}
	return s.cursors[which].seek(target, s.down)
}

// standing reads how the batch stands at which the scan stands.
func (s *scan) standing(r *reader, i id, to *standing) error {
	if c, ok := s.cursors[0].(*keyCursor); ok {
		return decodeStanding(i, c.value, to)
	}
	return r.standing(i, to)
}

// keyCursor goes through the bucket of batches, whose keys are ids.
type keyCursor struct {
	cursor *cursor
	value  []byte // under the id given last
}

func (c *keyCursor) seek(want id, down bool) (id, bool, error) {
	key, value := c.cursor.Seek(want[:])
	switch {
	case down && key == nil:
		key, value = c.cursor.Last()
	case down && !bytes.Equal(key, want[:]):
		key, value = c.cursor.Prev()
	}
	return c.give(key, value)
}

func (c *keyCursor) step(down bool) (id, bool, error) {
	if down {
		return c.give(c.cursor.Prev())
	}
	return c.give(c.cursor.Next())
}

func (c *keyCursor) give(key, value []byte) (i id, ok bool, err error) {
	c.value = value
	if key == nil {
		return i, false, nil
	}
	if len(key) != idSize {
		return i, false, fmt.Errorf("%w: a key of a batch is odd", errTangled)
	}
	return id(key), true, nil
}
