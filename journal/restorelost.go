package journal

import (
	"crypto/sha256"
	"fmt"
	"os"
)

// compare finds the events of now that the journal at made lacks.
func (r *RestoreReport) compare(now *plain, made string) error {
	file, err := os.Open(made)
	if err != nil {
		return err
	}
	defer file.Close()
	then, err := openPlain(file)
	if err != nil {
		return err
	}
	mine, err := now.bucket(eventsBucket)
	if err != nil {
		return err
	}
	theirs, err := then.bucket(eventsBucket)
	if err != nil {
		return err
	}
	// Each event holds the digest of the one before, so where one is the same in
	// both, all before it are: look for the last by halves.
	var broken error
	low, high := uint64(0), min(now.head.Seq, then.head.Seq)
	for low < high {
		middle := low + (high-low+1)/2
		a, err1 := mine.get(seqKey(middle))
		b, err2 := theirs.get(seqKey(middle))
		if err1 != nil || err2 != nil {
			return fmt.Errorf("event %d: %w", middle, firstOf(err1, err2))
		}
		same := a != nil && b != nil && sha256.Sum256(a) == sha256.Sum256(b)
		if a != nil && b != nil && now.about.Format < fileFormat { // there it is written otherwise
			one, err1 := now.event(middle, a)
			two, err2 := then.event(middle, b)
			if err := firstOf(err1, err2); err != nil {
				return err
			}
			same = one.ID == two.ID
		}
		if same {
			low = middle
		} else {
			high = middle - 1
		}
	}
	// Where the two went apart (after a merge), the same event may stand elsewhere.
	known := map[id]bool{}
	for seq := low + 1; seq <= then.head.Seq; seq++ {
		value, err := theirs.get(seqKey(seq))
		if err != nil {
			return err
		}
		e, err := then.event(seq, value)
		if err != nil {
			return err
		}
		known[e.ID] = true
	}
	cursor := mine.cursor()
	key, value, _, err := cursor.seek(seqKey(low + 1))
	for ; err == nil && key != nil; key, value, _, err = cursor.step(false) {
		e, err := now.event(seqOf(key), value)
		if err != nil {
			broken = firstOf(broken, err)
			r.LostCount++
			continue
		}
		if known[e.ID] || e.Kind == Upgraded { // nothing that somebody did
			continue
		}
		r.LostCount++
		if len(r.Lost) < mostFindings {
			r.Lost = append(r.Lost, LostEvent{
				Seq: e.Seq, ID: e.ID.String(), Kind: e.Kind, At: e.At.Time(), By: e.By, Of: now.numberOf(e.Batch),
			})
		}
	}
	return firstOf(broken, err)
}

// event reads an event in the format of the file.
func (p *plain) event(seq uint64, record []byte) (*eventRecord, error) {
	if p.about.Format >= fileFormat {
		return decodeEvent(seq, record)
	}
	e, err := f1DecodeEvent(seqKey(seq), record)
	if err != nil {
		return nil, err
	}
	return e.now(), nil
}

// numberOf gives the short number of a batch or a container, or its id.
func (p *plain) numberOf(i id) string {
	if i == (id{}) { // of an event of the journal as a whole
		return ""
	}
	if containers, err := p.bucket(containersBucket); err == nil {
		if value, err := containers.get(i[:]); err == nil && value != nil {
			if c, err := decodeContainer(i[:], value); err == nil {
				return c.Number
			}
		}
	}
	if batches, err := p.bucket(batchesBucket); err == nil {
		if value, err := batches.get(i[:]); err == nil && value != nil {
			var old f1Batch
			if p.about.Format < fileFormat && unseal(value, &old) == nil {
				return old.Plan.Number
			}
			if b, err := decodeBatch(i, value); err == nil {
				return b.Plan.Number
			}
		}
	}
	return i.String()
}

func seqOf(key []byte) (seq uint64) {
	for _, b := range key {
		seq = seq<<8 | uint64(b)
	}
	return seq
}

func firstOf(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}
