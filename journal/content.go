package journal

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"slices"
)

// contentCheck is one run of the check of what a journal holds. It keeps counts
// rather than lists, so that a large journal needs no more memory than a small one.
type contentCheck struct {
	*reader
	head    headRecord
	start   [32]byte
	report  *Report
	watch   func(events int)
	batched uint64              // batches seen
	listed  uint64              // events that batches list as theirs
	indexed int                 // index entries that must be there
	sheets  int                 // sheets that must be there
	shelved uint64              // containers seen
	booked  uint64              // uses that containers book for batches
	taken   uint64              // uses that batches say they made
	used    map[string]struct{} // digests of recipes in use

	gaps   *shelf         // nil unless the journal was salvaged
	closed *salvageRecord // of the last salvage, or an upgrade since
	closes uint64         // events that belong to no batch or container
	gapped int            // gaps seen
	gone   uint64         // events lost in gaps
}

func (c *contentCheck) wrong(where, format string, args ...any) {
	c.report.add(where, fmt.Sprintf(format, args...))
}

// chain checks that the events are whole, in order, and linked to one another.
func (c *contentCheck) chain() error {
	prev, last, seq := c.start, id{}, uint64(0)
	gaps, err := openGaps(c.tx)
	if err != nil {
		return err
	}
	c.gaps = gaps
	odd := uint64(0) // the first event whose id does not rise and that no event has answered for yet
	cursor := c.events.Cursor()
	for key, value := cursor.First(); key != nil; key, value = cursor.Next() {
		at := seqOf(key)
		e, err := decodeEvent(at, value)
		linked := err == nil && at == seq+1 && e.Prev == prev
		if !linked && len(key) == len(seqKey(seq)) && err == nil && at > seq && c.gap(seq, prev, e) {
			seq, linked = at-1, true
		}
		seq++
		if c.watch != nil && seq%4096 == 0 {
			c.watch(int(seq))
		}
		where := fmt.Sprintf("event %d", seq)
		if !bytes.Equal(key, seqKey(seq)) {
			c.wrong(where, "it is missing: the next key is %x", key)
			return nil
		}
		if err == nil && e.Kind == JournalSalvaged && e.Salvage != nil {
			c.closed = e.Salvage
			c.closes++
			c.told(e)
		}
		if err == nil && e.Kind == Upgraded {
			c.closes++
			c.upgraded(where, e)
		}
		switch {
		case err != nil:
			c.wrong(where, "%v", err)
		case !linked:
			c.wrong(where, "it does not follow from the event before: one of the two was changed")
		case e.ID.compare(last) <= 0 && odd == 0:
			odd = seq
		}
		if err == nil {
			if e.Kind == TakenOver {
				c.listed++ // it belongs to no batch
				if e.Taken == nil || e.Taken.Events >= seq {
					c.wrong(where, "it answers for more events than there are")
				} else if odd >= seq-e.Taken.Events {
					odd = 0 // what comes from elsewhere has the ids it had there
				}
			}
			if e.ID.compare(last) > 0 {
				last = e.ID
			}
		}
		prev = sha256.Sum256(value)
	}
	if odd != 0 { // in a salvaged journal what answered for it may be lost
		c.missing(fmt.Sprintf("event %d", odd), "its id does not follow the id before")
	}
	if seq != c.head.Seq || prev != c.head.Digest {
		c.wrong("head", "the journal ends at event %d and its head says %d, or the last event was changed", seq, c.head.Seq)
	}
	c.report.Events = int(c.head.Seq - min(c.gone, c.head.Seq))
	return c.closing()
}

// allBatches checks each batch against its events, its index entries, its number
// and what it was made from.
func (c *contentCheck) allBatches() error {
	index, err := bucket(c.tx, indexBucket)
	if err != nil {
		return err
	}
	numbers, err := bucket(c.tx, numbersBucket)
	if err != nil {
		return err
	}
	containers, err := bucket(c.tx, containersBucket)
	if err != nil {
		return err
	}
	c.used = map[string]struct{}{}
	cursor := c.batches.Cursor()
	for key, value := cursor.First(); key != nil; key, value = cursor.Next() {
		c.batched++
		if len(key) != len(id{}) {
			c.wrong("batches", "there is an odd key %x", key)
			continue
		}
		var s standing
		if err := decodeStanding(id(key), value, &s); err != nil {
			c.wrong("batches", "%v", err)
			continue
		}
		where := "batch " + s.number()
		b, events, err := c.replay(&s)
		if err != nil {
			c.wrong(where, "%v", err)
			continue
		}
		c.listed += uint64(len(events))
		for i, e := range events {
			if e.Kind == Salvaged {
				c.missing(where, "%s", e.Reason)
			}
			if i+1 < len(events) && events[i].ID.compare(events[i+1].ID) >= 0 {
				c.wrong(where, "its events are out of order")
			}
		}
		if err := c.bears(numbers, b); err != nil {
			c.wrong(where, "%v", err)
		}
		if ms, id := millisOf(b.Plan.Created.Time()), b.ID.millis(); id < ms || id-ms > c.head.LagMS {
			c.wrong(where, "the time in its id does not fit the time it was created")
		}
		for _, u := range b.Used {
			if containers.Get(u.Container[:]) != nil { // it may stand on the shelf of another bench
				c.taken++
			}
		}
		c.used[string(b.Plan.Recipe)] = struct{}{}
		recipe, err := c.recipe(b)
		if err != nil {
			c.wrong(where, "%v", err)
			continue
		}
		if b.Plan.Sheet != nil {
			c.sheets++
			if content, err := c.sheet(b); err != nil {
				c.wrong(where, "%v", err)
			} else if content == nil {
				c.missing(where, "its frozen sheet is lost")
			}
		}
		if !bytes.Equal(b.sealStanding(), value) {
			c.wrong(where, "its events do not lead to it as it stands")
		}
		keys := indexKeys(b, recipe.Slug)
		c.indexed += len(keys)
		for _, k := range keys {
			there, err := c.stands(index, k)
			if err != nil {
				return err
			}
			if !there {
				c.wrong(where, "it is missing from the index %q", k[:len(k)-len(id{})-1])
			}
		}
	}
	if c.batched != c.head.Batches {
		c.wrong("batches", "there are %d and the head says %d", c.batched, c.head.Batches)
	}
	if n := c.head.Seq - c.gone - c.closes; c.listed != n {
		c.wrong("events", "there are %d and the batches and containers list %d", n, c.listed)
	}
	if c.taken != c.booked {
		c.missing("containers", "batches used them %d times and %d are booked", c.taken, c.booked)
	}
	return nil
}

// bears checks that the number of b leads to it.
func (c *contentCheck) bears(numbers *shelf, b *batchRecord) error {
	ids, err := bearers(b.Plan.Number, numbers.Get([]byte(b.Plan.Number)))
	if err != nil {
		return fmt.Errorf("its number does not lead to it")
	}
	if !slices.Contains(ids, b.ID) {
		return fmt.Errorf("its number does not lead to it")
	}
	if b.Twin != (len(ids) > 1) {
		return fmt.Errorf("its number is shared and not marked so, or the other way round")
	}
	return nil
}

// numbers checks that there is no number beyond those of the batches.
func (c *contentCheck) numbers() error {
	b, err := bucket(c.tx, numbersBucket)
	if err != nil {
		return err
	}
	n := uint64(0)
	err = b.ForEach(func(key, value []byte) error {
		if number, ok := parseContainerNumber(string(key)); ok && number == string(key) {
			n++
			if containerCount(number) > c.head.Container {
				c.wrong("numbers", "%s is beyond the last that was given out", number)
			}
			return nil
		}
		number, end, ok := splitNumber(string(key))
		if !ok || end != "" || number != string(key) || len(value)%idSize != 0 {
			c.wrong("numbers", "there is an odd number %q", key)
			return nil
		}
		n += uint64(len(value) / idSize)
		if numberOf(number) > c.head.Years[yearOf(number)] {
			c.wrong("numbers", "%s is beyond the last that was given out", number)
		}
		return nil
	})
	if n != c.batched+c.shelved {
		c.wrong("numbers", "there are %d numbers and %d batches and containers", n, c.batched+c.shelved)
	}
	return err
}

// index looks for entries that should not be there; those that should were
// looked up batch by batch.
func (c *contentCheck) index() error {
	b, err := bucket(c.tx, indexBucket)
	if err != nil {
		return err
	}
	n := 0
	if err := c.eachIndexed(b, func([]byte) error { n++; return nil }); err != nil || n == c.indexed {
		return err
	}
	return c.eachIndexed(b, func(key []byte) error {
		prefix, i := splitKey(key)
		text := prefix[:len(prefix)-1]
		batch, err := c.batch(i)
		if err != nil {
			c.wrong("index", "the entry %q: %v", text, err)
			return nil
		}
		recipe, err := c.recipe(batch)
		if err != nil {
			return nil // reported with the batch
		}
		for _, k := range indexKeys(batch, recipe.Slug) {
			if bytes.Equal(k, key) {
				return nil
			}
		}
		c.wrong("index", "the entry %q leads to batch %s, which is not so", text, batch.Plan.Number)
		return nil
	})
}

// stands says whether a key stands in the index.
func (c *contentCheck) stands(index *shelf, key []byte) (bool, error) {
	f, err := c.waiting()
	if err != nil {
		return false, err
	}
	prefix, i := splitKey(key)
	put, drop := f.says(prefix, i)
	there, err := indexed(index, key)
	if put && there || drop && !there {
		c.wrong("index", "what is fresh under %q does not fit the rest", prefix[:len(prefix)-1])
	}
	return put || there && !drop, err
}

// eachIndexed calls fn for every key that stands in the index.
func (c *contentCheck) eachIndexed(b *shelf, fn func(key []byte) error) error {
	f, err := c.waiting()
	if err != nil {
		return err
	}
	put, _ := f.keys()
	for _, key := range put {
		if err := fn(key); err != nil {
			return err
		}
	}
	return b.ForEach(func(key, value []byte) error {
		if len(key) < idSize+2 || len(value)%idSize != 0 {
			c.wrong("index", "there is an odd key %x", key)
			return nil
		}
		prefix, first := splitKey(key)
		u := run{first: first, rest: value}
		for i := range u.size() {
			if i > 0 && bytes.Compare(u.bytes(i-1), u.bytes(i)) >= 0 {
				c.wrong("index", "the entries under %q are out of order", prefix[:len(prefix)-1])
			}
			if _, drop := f.says(prefix, u.at(i)); drop {
				continue
			}
			if err := fn(append(prefix, u.bytes(i)...)); err != nil {
				return err
			}
		}
		return nil
	})
}

// frozen checks that no frozen recipe or sheet belongs to nobody.
func (c *contentCheck) frozen() error {
	recipes, err := bucket(c.tx, recipesBucket)
	if err != nil {
		return err
	}
	sheets, err := bucket(c.tx, sheetsBucket)
	if err != nil {
		return err
	}
	if n := entries(recipes); n != len(c.used) {
		c.missing("recipes", "there are %d frozen recipes and %d are in use", n, len(c.used))
	}
	for key := range c.used {
		if blobLost(recipes, []byte(key)) {
			c.missing("recipes", "the frozen recipe %x is lost", key)
		}
	}
	if n := entries(sheets); n != c.sheets {
		c.wrong("sheets", "there are %d frozen sheets and %d batches with one", n, c.sheets)
	}
	return nil
}

func entries(b *shelf) int {
	n := 0
	cursor := b.Cursor()
	for key, _ := cursor.First(); key != nil; key, _ = cursor.Next() {
		n++
	}
	return n
}
