package journal

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"

	bolt "go.etcd.io/bbolt"
)

// What a journal holds that was salvaged from a damaged file: where events are
// missing, what batches and containers were where their events do not tell, and
// which frozen recipes and sheets are lost. None of it is in any other journal.

// gapsBucket says where the chain of events is broken: sequence number of the
// event after the gap -> gap. It is only in a journal that was salvaged.
const gapsBucket = "gaps"

type gapRecord struct {
	From   uint64   `cbor:"1,keyasint"` // first event that is missing
	To     uint64   `cbor:"2,keyasint"` // last; From-1 where none is missing, but two do not follow from one another
	Before [32]byte `cbor:"3,keyasint"` // SHA-256 of the event before the gap, or what the first event holds
	After  [32]byte `cbor:"4,keyasint"` // what the event after it holds
}

// salvageRecord is in the event that closes a salvage.
type salvageRecord struct {
	Gaps    [32]byte `cbor:"1,keyasint"` // SHA-256 of all keys and records of the gaps, in their order
	Events  uint64   `cbor:"2,keyasint,omitempty"`
	Recipes int      `cbor:"3,keyasint,omitempty"`
	Sheets  int      `cbor:"4,keyasint,omitempty"`
	Made    int      `cbor:"5,keyasint,omitempty"` // batches and containers whose events do not tell how they stand
	Numbers int      `cbor:"6,keyasint,omitempty"` // given out to batches and containers of which nothing is left
	Tail    bool     `cbor:"7,keyasint,omitempty"` // whether there were events after the last one cannot be told
	NewID   bool     `cbor:"8,keyasint,omitempty"` // the id of the journal was lost
}

// ofStock says whether events of a kind belong to a container and not to a batch.
func ofStock(kind string) bool {
	switch kind {
	case StockAdded, StockChanged, StockUsed, StockEmptied, StockSalvaged:
		return true
	}
	return false
}

// salvaged puts a batch into the state that it had by its record.
func (b *batchRecord) salvaged(e *eventRecord) error {
	if e.Whole == nil || e.Whole.ID != e.Batch {
		return fmt.Errorf("%w: event %d salvages nothing", errTangled, e.Seq)
	}
	events, twin := b.Events, b.Twin
	*b = *e.Whole
	b.Events, b.Twin = events, twin
	return nil
}

// salvaged puts a container into the state that it had by its record.
func (c *containerRecord) salvaged(e *eventRecord) error {
	if e.Stock == nil || e.Stock.ID != e.Batch {
		return fmt.Errorf("%w: event %d salvages nothing", errTangled, e.Seq)
	}
	events := c.Events
	*c = *e.Stock
	c.Events = events
	return nil
}

// history reads the events of a batch or container. Those before from cannot be
// replayed, since others between them are lost: the one at from says how it stood.
func (c *contentCheck) history(owner id, seqs []uint64) (events []*eventRecord, from int, err error) {
	before := uint64(0)
	for i, seq := range seqs {
		if seq <= before {
			return nil, 0, fmt.Errorf("its events are out of order at %d", seq)
		}
		before = seq
		e, err := c.event(seq)
		if err != nil {
			return nil, 0, err
		}
		if e.Batch != owner {
			return nil, 0, fmt.Errorf("event %d belongs to another batch or container", seq)
		}
		if e.Kind == Salvaged || e.Kind == StockSalvaged {
			from = i
		}
		events = append(events, e)
	}
	c.listed += uint64(len(events))
	return events, from, nil
}

// missing says what is not there and cannot be: a finding, unless the journal was
// salvaged.
func (c *contentCheck) missing(where, format string, args ...any) {
	if c.closed == nil {
		c.wrong(where, format, args...)
		return
	}
	c.report.miss(where, fmt.Sprintf(format, args...))
}

// gap says whether it is recorded that between the event seq, with the digest
// prev, and the event e there is nothing.
func (c *contentCheck) gap(seq uint64, prev [32]byte, e *eventRecord) bool {
	if c.gaps == nil {
		return false
	}
	value := c.gaps.Get(seqKey(e.Seq))
	var g gapRecord
	if value == nil || unseal(value, &g) != nil {
		return false
	}
	if g != (gapRecord{From: seq + 1, To: e.Seq - 1, Before: prev, After: e.Prev}) {
		return false
	}
	c.gone += g.To + 1 - g.From
	c.gapped++
	if g.To < g.From {
		c.report.miss(fmt.Sprintf("event %d", e.Seq), "it does not follow from the event before it: one of the two is not what it was")
	} else {
		c.report.miss(eventRange(g.From, g.To), "lost before the journal was salvaged")
	}
	return true
}

func eventRange(from, to uint64) string {
	if from == to {
		return fmt.Sprintf("event %d", from)
	}
	return fmt.Sprintf("events %d to %d", from, to)
}

// told says of the event that closed a salvage what no gap says.
func (c *contentCheck) told(e *eventRecord) {
	where := fmt.Sprintf("salvage, event %d", e.Seq)
	if e.Salvage.Tail {
		c.report.miss(where, "whether the damaged file had more events cannot be told")
	}
	if e.Salvage.NewID {
		c.report.miss(where, "the journal was given a new id, since its own was lost")
	}
	if n := e.Salvage.Numbers; n > 0 {
		c.report.miss(where, fmt.Sprintf("of %d batches or containers nothing was left but the number", n))
	}
}

// upgraded notes what an upgrade tells: of what file the events before it were, and
// how the gaps are now written.
func (c *contentCheck) upgraded(where string, e *eventRecord) {
	u := e.Upgrade
	if u == nil || u.From >= fileFormat || u.Last != e.Seq-1 {
		c.wrong(where, "it does not tell what was upgraded")
		return
	}
	if c.closed != nil && len(u.Gaps) == len(c.closed.Gaps) {
		again := *c.closed
		again.Gaps = [32]byte(u.Gaps)
		c.closed = &again
	}
	c.report.Upgrades = append(c.report.Upgrades, UpgradeNote{Format: u.From, Events: int(u.Last), Head: hex.EncodeToString(u.Digest[:])})
}

// closing checks the gaps against the event that closed the last salvage.
func (c *contentCheck) closing() error {
	if c.gaps == nil && c.closed == nil {
		return nil
	}
	digest, n, err := gapsDigest(c.gaps)
	if err != nil {
		return err
	}
	switch {
	case c.closed == nil:
		c.wrong("gaps", "gaps are recorded and no event tells of a salvage")
	case c.closed.Gaps != digest:
		c.wrong("gaps", "they are not those that the salvage recorded")
	case n != c.gapped:
		c.wrong("gaps", "%d are recorded and %d are there", n, c.gapped)
	}
	return nil
}

// gapsDigest gives the digest of all gaps and their number.
func gapsDigest(gaps *shelf) (digest [32]byte, n int, err error) {
	sum := sha256.New()
	if gaps != nil {
		err = gaps.ForEach(func(key, value []byte) error {
			n++
			sum.Write(key)
			sum.Write(value)
			return nil
		})
	}
	return [32]byte(sum.Sum(nil)), n, err
}

// openGaps gives the bucket of gaps; nil where there is none.
func openGaps(tx *bolt.Tx) (*shelf, error) { return openShelf(tx, gapsBucket) }

// blobLost says whether a frozen recipe or sheet is only marked as lost.
func blobLost(b *shelf, key []byte) bool {
	var blob blobRecord
	value := b.Get(key)
	return value != nil && unseal(value, &blob) == nil && blob.Lost
}

// found puts a frozen recipe that was lost, and is now seen again, back in its
// place, and the batches made from it back into the index.
func (w *Writer) found(recipes *shelf, key, content []byte, recipe recipeContent) error {
	old, err := getBlob(recipes, key, key)
	if err != nil {
		return err
	}
	var was recipeContent
	if err := decoder().Unmarshal(old, &was); err != nil {
		return fmt.Errorf("%w: a lost recipe: %w", errTangled, err)
	}
	if err := putBlob(recipes, key, content); err != nil {
		return err
	}
	delete(w.recipes, string(key))
	if was.Slug == recipe.Slug {
		return nil
	}
	move, err := w.indexedUnder(indexPrefix(byRecipe, was.Slug))
	if err != nil {
		return err
	}
	for _, i := range move {
		b, err := w.batch(i)
		if err != nil {
			return err
		}
		if !bytes.Equal(b.Plan.Recipe, key) {
			continue
		}
		if err := w.reindex(indexKeys(b, was.Slug), indexKeys(b, recipe.Slug)); err != nil {
			return err
		}
	}
	return nil
}
