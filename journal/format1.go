package journal

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"slices"

	bolt "go.etcd.io/bbolt"
)

// f1Reading reads a journal of format 1 and writes it anew. It believes nothing:
// each record must have its checksum, each event follow from the one before, and
// each batch and container be what its events make of it, or else it gives up.
type f1Reading struct {
	tx     *bolt.Tx
	out    *anew
	about  f1About
	head   f1Head
	new    headRecord
	gaps   *shelf
	listed uint64            // events that batches and containers list as theirs
	none   uint64            // events of no batch or container
	gone   uint64            // lost in gaps
	slugs  map[string]string // by digest of the frozen recipe
	runs   runsAnew
}

// fromFormat1 writes the journal of format 1 in tx into out.
func fromFormat1(tx *bolt.Tx, out *anew) error {
	f := &f1Reading{tx: tx, out: out, slugs: map[string]string{}, runs: runsAnew{out: out, open: map[string][]byte{}}}
	for _, step := range []func() error{f.begin, f.events, f.recipes, f.containers, f.batches, f.runs.close, f.end} {
		if err := step(); err != nil {
			return err
		}
	}
	return nil
}

func (f *f1Reading) begin() error {
	meta, err := bucket(f.tx, metaBucket)
	if err != nil {
		return err
	}
	if err := unseal(meta.Get([]byte(aboutKey)), &f.about); err != nil {
		return err
	}
	if err := unseal(meta.Get([]byte(headKey)), &f.head); err != nil {
		return fmt.Errorf("the head of the journal: %w", err)
	}
	f.new = headRecord{
		Digest: chainStart(f.about.Journal), LastID: f.head.LastID, LagMS: f.head.LagMS, Years: f.head.Years, Batches: f.head.Batches,
		Container: f.head.Container, Containers: f.head.Containers,
	}
	if f.gaps, err = openGaps(f.tx); err != nil {
		return err
	}
	return f.out.record(metaBucket, []byte(aboutKey), aboutRecord{Format: fileFormat, Journal: f.about.Journal, Created: f.about.Created.now()})
}

// events writes all events in their order, each with a link to the one before as
// it is now written.
func (f *f1Reading) events() error {
	events, err := bucket(f.tx, eventsBucket)
	if err != nil {
		return err
	}
	var closed *f1Salvage
	prev, last, seq, gaps := f.new.Digest, id{}, uint64(0), 0
	cursor := events.Cursor()
	for key, value := cursor.First(); key != nil; key, value = cursor.Next() {
		e, err := f1DecodeEvent(key, value)
		if err != nil {
			return err
		}
		n := e.now()
		switch {
		case e.Seq == seq+1 && e.Prev == prev:
			n.Prev = f.new.Digest
		case e.Seq > seq:
			// What it follows is lost: that it goes on naming as it was.
			if err := f.gap(seq, prev, e); err != nil {
				return err
			}
			gaps++
		default:
			return fmt.Errorf("%w: event %d is out of order", errTangled, e.Seq)
		}
		if e.ID.compare(last) <= 0 {
			return fmt.Errorf("%w: the id of event %d does not follow the id before", errTangled, e.Seq)
		}
		if e.Kind == JournalSalvaged {
			closed = e.Salvage
			f.none++
		}
		if err := f.put(n); err != nil {
			return err
		}
		prev, last, seq = sha256.Sum256(value), e.ID, e.Seq
	}
	if seq != f.head.Seq || prev != f.head.Digest {
		return fmt.Errorf("%w: the journal ends at event %d and its head says %d, or the last event was changed", errTangled, seq, f.head.Seq)
	}
	return f.closing(closed, gaps)
}

// f1DecodeEvent reads an event of format 1.
func f1DecodeEvent(key, record []byte) (*f1Event, error) {
	var e f1Event
	if err := unseal(record, &e); err != nil {
		return nil, fmt.Errorf("event %d: %w", seqOf(key), err)
	}
	if len(key) != len(seqKey(0)) || e.Seq != seqOf(key) {
		return nil, fmt.Errorf("%w: event %d stands under the key %x", errTangled, e.Seq, key)
	}
	if e.Kind == TakenOver || e.Kind == Upgraded || !slices.Contains(kinds(), e.Kind) {
		return nil, fmt.Errorf("%w: event %d is of the unknown kind %q", errTangled, e.Seq, e.Kind)
	}
	return &e, nil
}

// gap writes the gap before an event, which must have been recorded.
func (f *f1Reading) gap(seq uint64, prev [32]byte, e *f1Event) error {
	var g f1Gap
	if f.gaps != nil {
		if value := f.gaps.Get(seqKey(e.Seq)); value != nil {
			if err := unseal(value, &g); err != nil {
				return fmt.Errorf("the gap before event %d: %w", e.Seq, err)
			}
		}
	}
	if g != (f1Gap{From: seq + 1, To: e.Seq - 1, Before: prev, After: e.Prev}) {
		return fmt.Errorf("%w: event %d does not follow from the event before", errTangled, e.Seq)
	}
	f.gone += g.To + 1 - g.From
	return f.out.record(gapsBucket, seqKey(e.Seq), gapRecord{From: g.From, To: g.To, Before: f.new.Digest, After: e.Prev})
}

// closing checks the gaps against the event that closed the last salvage.
func (f *f1Reading) closing(closed *f1Salvage, seen int) error {
	digest, n, err := gapsDigest(f.gaps)
	if err != nil {
		return err
	}
	if n != seen || closed == nil && f.gaps != nil || closed != nil && closed.Gaps != digest {
		return fmt.Errorf("%w: the gaps are not those that the salvage recorded", errTangled)
	}
	return nil
}

// put writes one event at the end.
func (f *f1Reading) put(e *eventRecord) error {
	record, err := e.seal()
	if err != nil {
		return err
	}
	f.new.Seq, f.new.Digest = e.Seq, sha256.Sum256(record)
	return f.out.put(eventsBucket, seqKey(e.Seq), record)
}

// own reads events of a batch or container as they were written just now.
func (f *f1Reading) own(owner id, seqs []uint64) (events []*eventRecord, err error) {
	for i, seq := range seqs {
		e, err := decodeEvent(seq, f.out.get(eventsBucket, seqKey(seq)))
		if err != nil {
			return nil, err
		}
		if e.Batch != owner || i > 0 && seq <= seqs[i-1] {
			return nil, fmt.Errorf("%w: event %d is not one of %s", errTangled, seq, owner)
		}
		events = append(events, e)
	}
	f.listed += uint64(len(events))
	return events, nil
}

// recipes copies the frozen recipes, which are stored as they were.
func (f *f1Reading) recipes() error {
	recipes, err := bucket(f.tx, recipesBucket)
	if err != nil {
		return err
	}
	return recipes.ForEach(func(key, value []byte) error {
		content, err := getBlob(recipes, key, key)
		if err != nil {
			return err
		}
		var recipe recipeContent
		if err := decoder().Unmarshal(content, &recipe); err != nil {
			return fmt.Errorf("%w: the frozen recipe %x: %w", errTangled, key, err)
		}
		f.slugs[string(key)] = recipe.Slug
		return f.out.put(recipesBucket, key, value)
	})
}

func (f *f1Reading) containers() error {
	containers, err := bucket(f.tx, containersBucket)
	if err != nil {
		return err
	}
	n := uint64(0)
	err = containers.ForEach(func(key, value []byte) error {
		var c f1Container
		if err := unseal(value, &c); err != nil {
			return fmt.Errorf("container %x: %w", key, err)
		}
		n++
		events, err := f.own(c.ID, c.Events)
		if err != nil {
			return err
		}
		again := containerRecord{}
		from := lastOf(events, StockSalvaged)
		for i, e := range events {
			if i < from {
				again.Events = append(again.Events, e.Seq)
			} else if err := again.apply(e); err != nil {
				return err
			}
		}
		if same, err := sameRecord(&again, c.now()); err != nil || !same || !bytes.Equal(key, c.ID[:]) {
			return f.differs("container "+c.Number, err)
		}
		if err := f.number(c.Number, key); err != nil {
			return err
		}
		return f.out.record(containersBucket, key, &again)
	})
	if err == nil && n != f.head.Containers {
		err = fmt.Errorf("%w: there are %d containers and the head says %d", errTangled, n, f.head.Containers)
	}
	return err
}

// batches writes how each batch stands, with its number, sheet and index entries.
func (f *f1Reading) batches() error {
	batches, err := bucket(f.tx, batchesBucket)
	if err != nil {
		return err
	}
	sheets, err := bucket(f.tx, sheetsBucket)
	if err != nil {
		return err
	}
	n, frozen := uint64(0), 0
	err = batches.ForEach(func(key, value []byte) error {
		var b f1Batch
		if err := unseal(value, &b); err != nil {
			return fmt.Errorf("batch %x: %w", key, err)
		}
		n++
		where := "batch " + b.Plan.Number
		events, err := f.own(b.ID, b.Events)
		if err != nil {
			return err
		}
		again := batchRecord{}
		if err := again.replay(events); err != nil {
			return err
		}
		if same, err := sameRecord(&again, b.now()); err != nil || !same || !bytes.Equal(key, b.ID[:]) {
			return f.differs(where, err)
		}
		slug, known := f.slugs[string(b.Plan.Recipe)]
		if !known {
			return fmt.Errorf("%w: the frozen recipe of %s is missing", errTangled, where)
		}
		if b.Plan.Sheet != nil {
			frozen++
			if _, err := getBlob(sheets, key, b.Plan.Sheet); err != nil {
				return fmt.Errorf("%s: %w", where, err)
			}
			if err := f.out.put(sheetsBucket, key, sheets.Get(key)); err != nil {
				return err
			}
		}
		if err := f.number(b.Plan.Number, key); err != nil {
			return err
		}
		for _, k := range indexKeys(&again, slug) {
			if err := f.runs.add(k); err != nil {
				return err
			}
		}
		return f.out.put(batchesBucket, key, again.sealStanding())
	})
	if err == nil && (n != f.head.Batches || frozen != entries(sheets) || f.listed+f.none+f.gone != f.head.Seq) {
		err = fmt.Errorf("%w: %d batches, %d sheets and %d events of them are not all that the journal says there are", errTangled, n, frozen, f.listed)
	}
	return err
}

func (f *f1Reading) differs(where string, err error) error {
	if err != nil {
		return err
	}
	return fmt.Errorf("%w: the events of %s do not lead to it as it stands", errTangled, where)
}

// number gives a batch or a container the number it had.
func (f *f1Reading) number(number string, owner []byte) error {
	if f.out.get(numbersBucket, []byte(number)) != nil {
		return fmt.Errorf("%w: the number %s was given out twice", errTangled, number)
	}
	return f.out.put(numbersBucket, []byte(number), owner)
}

// end writes the event that tells of the upgrade, and the head.
func (f *f1Reading) end() error {
	record := &upgradeRecord{From: f.about.Format, Last: f.head.Seq, Digest: f.head.Digest}
	if f.gaps != nil {
		sum := sha256.New()
		err := f.out.each(gapsBucket, nil, func(key, value []byte) error { sum.Write(key); sum.Write(value); return nil })
		if err != nil {
			return err
		}
		record.Gaps = sum.Sum(nil)
	}
	e, err := f.out.event(f.new, record)
	if err != nil {
		return err
	}
	if err := f.put(e); err != nil {
		return err
	}
	f.new.LastID = e.ID
	return f.out.record(metaBucket, []byte(headKey), f.new)
}

// sameRecord says whether two records say the same.
func sameRecord(a, b any) (bool, error) {
	one, err := encoder().Marshal(a)
	if err != nil {
		return false, err
	}
	two, err := encoder().Marshal(b)
	return bytes.Equal(one, two), err
}

// lastOf gives the place of the last event of a kind; 0 where there is none.
func lastOf(events []*eventRecord, kind string) (at int) {
	for i, e := range events {
		if e.Kind == kind {
			at = i
		}
	}
	return at
}
