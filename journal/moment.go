package journal

import (
	"crypto/sha256"
	"fmt"
	"slices"

	bolt "go.etcd.io/bbolt"
)

// A disk that acknowledges a write and then does not do it leaves, after a power
// cut, pages of before in the place of those of the last change: sound pages, and
// the store has no mark by which to tell. So the head holds the number of the
// transaction that wrote it, which must be that of the file's header; and each
// session looks first whether the last change is there.

// of makes sure that the head was written by the transaction of the header. One
// that does not know its transaction fits.
func (h headRecord) of(transaction uint64) error {
	if h.Moment == 0 || h.Moment == transaction {
		return nil
	}
	return fmt.Errorf("%w: the head is of change %d of the file, its header of %d: the last change did not reach the disk whole", errTangled, h.Moment, transaction)
}

// anytime gives the head without the transaction that wrote it.
func (h headRecord) anytime() headRecord {
	h.Moment = 0
	return h
}

// setMoment lets the head know the transaction, which writes it though nothing
// else of it changed.
func setMoment(tx *bolt.Tx) error {
	head, err := readHead(tx)
	if err != nil {
		return err
	}
	meta, err := bucket(tx, metaBucket)
	if err != nil {
		return err
	}
	head.Moment = uint64(tx.ID())
	return putRecord(meta, []byte(headKey), head)
}

// endsWell makes sure that the last change is there: the head of this very
// transaction, the last event, and the batch or container as that event left it. It
// costs four look-ups, whatever the size of the file.
func endsWell(tx *bolt.Tx) error {
	head, err := readHead(tx)
	if err != nil {
		return err
	}
	if err := head.of(uint64(tx.ID())); err != nil {
		return err
	}
	r, err := newReader(tx)
	if err != nil {
		return err
	}
	digest := head.Digest
	for seq := head.Seq; seq > 0; seq-- {
		record := r.events.Get(seqKey(seq))
		if record == nil || sha256.Sum256(record) != digest {
			return fmt.Errorf("%w: event %d, one of the last, is not the one that the head says", errTangled, seq)
		}
		e, err := decodeEvent(seq, record)
		if err != nil {
			return err
		}
		if err := r.left(e); err != nil || e.For == nil {
			return err
		}
		digest = e.Prev // what was taken from a container is an event of the batch as well, just before
	}
	return nil
}

// left makes sure that what an event changed is as it left it, and that its number
// leads to it.
func (r *reader) left(e *eventRecord) error {
	var events []uint64
	var number string
	switch {
	case ofNone(e.Kind):
		return nil
	case ofStock(e.Kind):
		c, err := r.containerByID(e.Batch)
		if err != nil {
			return err
		}
		events, number = c.Events, c.Number
	default:
		var s standing
		err := r.standing(e.Batch, &s)
		if err == nil {
			events, err = s.seqs()
		}
		if err != nil {
			return err
		}
		number = s.number()
	}
	if !slices.Contains(events, e.Seq) {
		return fmt.Errorf("%w: event %d, one of the last, is not among those of what it changed", errTangled, e.Seq)
	}
	numbers, err := bucket(r.tx, numbersBucket)
	if err != nil {
		return err
	}
	bearers := slices.Collect(slices.Chunk(numbers.Get([]byte(number)), idSize))
	if !slices.ContainsFunc(bearers, func(i []byte) bool { return id(i) == e.Batch }) {
		return fmt.Errorf("%w: the number %s does not lead to what event %d, one of the last, changed", errTangled, number, e.Seq)
	}
	return nil
}
