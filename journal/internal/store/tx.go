package store

import (
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"fmt"
	"iter"
	"maps"
	"slices"
	"strconv"
	"strings"
	"time"

	"hepar/journal/internal/record"
)

// Tx is one transaction of a journal. What it returns is a copy.
type Tx struct {
	About About
	Now   time.Time // of this transaction, with the offset of the bench

	kv   *recorder
	head Head
}

var (
	aboutKey = []byte("about")
	headKey  = []byte("head")
)

// start writes what an empty journal has.
func start(kv Bucketed, about About) error {
	return errors.Join(kv.Put(indexBucket, lastKey, link(nil, lastKey)), put(kv, metaBucket, aboutKey, AboutFrame, about),
		put(kv, metaBucket, headKey, HeadFrame, Head{Digest: about.ChainStart(), Tx: kv.ID()}))
}

// ChainStart returns what the first event names as the digest of the one before. It
// ties that event to its journal.
func (a About) ChainStart() []byte {
	digest := sha256.Sum256(append([]byte(magic+"\x00"), a.Journal[:]...))
	return digest[:]
}

func put(kv Bucketed, bucket string, key []byte, kind byte, v any) error {
	frame, err := Seal(kind, v)
	if err != nil {
		return err
	}
	return kv.Put(bucket, key, frame)
}

func newTx(f *File, kv Bucketed, write bool) (*Tx, error) {
	tx := &Tx{Now: f.Now(), kv: &recorder{kv, map[[2]string]bool{}}}
	about := kv.Get(metaBucket, aboutKey)
	if about != nil {
		if err := unseal(AboutFrame, about, &tx.About); err != nil {
			return nil, err
		}
	}
	if tx.About.Magic != magic {
		return nil, noJournal("it is a store of another program")
	}
	if tx.About.Format > Format {
		return nil, errNewer
	}
	if err := unseal(HeadFrame, kv.Get(metaBucket, headKey), &tx.head); err != nil {
		return nil, err
	}
	last := kv.ID()
	if write {
		last--
	}
	if tx.head.Tx != last {
		return nil, fmt.Errorf("%w: the head is not of the last change", ErrTangled)
	}
	for _, w := range tx.head.Last {
		if w.now(kv) != w.CRC {
			return nil, fmt.Errorf("%w: the last change is not whole", ErrTangled)
		}
	}
	return tx, nil
}

// finish writes the head.
func (tx *Tx) finish() error {
	tx.head.Tx, tx.head.Last = tx.kv.ID(), tx.kv.written()
	return put(tx.kv.Bucketed, metaBucket, headKey, HeadFrame, tx.head)
}

// restamp makes the head that of the transaction that has copied it.
func restamp(kv Bucketed) error {
	var head Head
	if err := unseal(HeadFrame, kv.Get(metaBucket, headKey), &head); err != nil {
		return err
	}
	head.Tx = kv.ID()
	return put(kv, metaBucket, headKey, HeadFrame, head)
}

// Head returns the number of events and the SHA-256 of the frame of the last.
func (tx *Tx) Head() (events uint64, digest []byte) { return tx.head.Seq, tx.head.Digest }

// Salvaging says whether the journal was salvaged: events may be missing in it.
func (tx *Tx) Salvaging() bool { return tx.head.Salvaged }

// MarkSalvaged makes the journal one of which events may be missing.
func (tx *Tx) MarkSalvaged() { tx.head.Salvaged = true }

// NewID draws an id for an event or a container, above all drawn before.
func (tx *Tx) NewID() record.ID {
	tx.head.LastID = nextID(tx.head.LastID, tx.Now)
	return tx.head.LastID
}

// NewBatchID draws an id for a batch that was opened at a time. Those of one
// millisecond rise.
func (tx *Tx) NewBatchID(at time.Time) record.ID {
	low, high := Bound(at), Bound(at.Add(time.Millisecond))
	for key := range tx.kv.Scan(batchesBucket, low[:], high[:], true) {
		return nextID(record.ID(key), at)
	}
	return newID(at)
}

func seqKey(seq uint64) []byte { return binary.BigEndian.AppendUint64(nil, seq) }

// Frames yields the frames of all events that are stored, in the order of their
// places, beyond the head as well.
func (tx *Tx) Frames() iter.Seq2[uint64, []byte] {
	return func(yield func(uint64, []byte) bool) {
		for key, frame := range tx.kv.Scan(eventsBucket, nil, nil, false) {
			var seq uint64 // none has the place 0
			if len(key) == 8 {
				seq = binary.BigEndian.Uint64(key)
			}
			if !yield(seq, frame) {
				return
			}
		}
	}
}

// Link returns the frame of the event at a place of the chain, from 1, and its body.
func (tx *Tx) Link(seq uint64) (frame []byte, link Link, err error) {
	frame = tx.kv.Get(eventsBucket, seqKey(seq))
	if frame == nil {
		return nil, link, fmt.Errorf("%w: event %d is missing", ErrTangled, seq)
	}
	link, err = LinkOf(seq, frame)
	return frame, link, err
}

// LinkOf reads the frame of the event at a place.
func LinkOf(seq uint64, frame []byte) (link Link, err error) {
	err = unseal(EventFrame, frame, &link)
	if err == nil && link.Seq != seq {
		err = errPlace
	}
	if err != nil {
		err = fmt.Errorf("event %d: %w", seq, err)
	}
	return link, err
}

// Event returns the event at a place of the chain, from 1.
func (tx *Tx) Event(seq uint64) (*record.Event, error) {
	_, link, err := tx.Link(seq)
	if err != nil {
		return nil, err
	}
	e, err := record.Decode(link.Body)
	if err != nil {
		return nil, fmt.Errorf("event %d: %w: %w", seq, errFrame, err)
	}
	e.Seq = seq
	return e, nil
}

// Append writes events of one batch, of one container, or of the journal: their
// frames at the end of the chain and the keys that follow from them. Each must
// pass its own check, and the batch or container that they make must hold together.
// It returns what the events make: a *record.Batch, a *record.Container, or nil.
func (tx *Tx) Append(events ...*record.Event) (any, error) {
	for _, e := range events {
		if e.Of != events[0].Of {
			return nil, fmt.Errorf("%w: events of two batches at once", ErrTangled)
		}
		if err := e.Check(); err != nil {
			return nil, err
		}
		body, err := record.Encode(e)
		if err != nil {
			return nil, err
		}
		if err := tx.Chain(e, body); err != nil {
			return nil, err
		}
	}
	if events[0].Of.IsZero() {
		return nil, nil
	}
	return tx.Enlist(events)
}

// Chain writes an event, whose stored form is body, at the end of the chain. Enlist
// must follow, unless the event is of the journal.
func (tx *Tx) Chain(e *record.Event, body []byte) error {
	tx.head.Seq++
	frame, err := Seal(EventFrame, Link{Seq: tx.head.Seq, Prev: tx.head.Digest, Body: body})
	if err != nil {
		return err
	}
	digest := sha256.Sum256(frame)
	tx.head.Digest = digest[:]
	if e.ID.Compare(tx.head.LastID) > 0 {
		tx.head.LastID = e.ID
	}
	e.Seq = tx.head.Seq
	return tx.kv.Put(eventsBucket, seqKey(e.Seq), frame)
}

// Enlist adds events of the chain to the list of their batch or container, brings
// the index forward, and returns what the batch or container becomes: see Append.
func (tx *Tx) Enlist(events []*record.Event) (any, error) {
	of := events[0].Of
	stock := tx.HasContainer(of) || slices.ContainsFunc(events, (*record.Event).OfStock)
	before, err := tx.EventsOf(of, stock)
	if err != nil {
		return nil, err
	}
	all := slices.Concat(before, events)
	l := list{ID: of}
	for _, e := range all {
		l.Seqs = append(l.Seqs, e.Seq)
	}
	if err := put(tx.kv, lists(stock), of[:], listFrame, l); err != nil {
		return nil, err
	}
	made := Replay(of, all, stock)
	if err := made.Fits(); err != nil && !tx.Salvaging() {
		return nil, err
	}
	var old []record.Key
	if before != nil {
		old = Replay(of, before, stock).Keys()
	}
	keys := made.Keys()
	for _, k := range slices.Concat(keys, old) {
		if there := slices.Contains(keys, k); there != slices.Contains(old, k) {
			if err := tx.mark(k, of, there); err != nil {
				return nil, err
			}
		}
	}
	year, rest, _ := strings.Cut(made.Number, "-")
	if n, err := strconv.ParseUint(rest, 10, 64); err == nil {
		tx.Skip(year, n)
	}
	if stock {
		return made.Container, nil
	}
	return made.Batch, tx.ending(made.Batch)
}

// lists is the bucket with the events of each batch or container.
func lists(stock bool) string {
	if stock {
		return containersBucket
	}
	return batchesBucket
}

// Has says whether there is a batch of that id.
func (tx *Tx) Has(id record.ID) bool { return tx.kv.Get(batchesBucket, id[:]) != nil }

// HasContainer says whether there is a container of that id.
func (tx *Tx) HasContainer(id record.ID) bool { return tx.kv.Get(containersBucket, id[:]) != nil }

// Listed yields the ids of all batches or, with stock, of all containers that have a
// list of events, whatever the index says.
func (tx *Tx) Listed(stock bool) iter.Seq2[record.ID, error] {
	return func(yield func(record.ID, error) bool) {
		for key := range tx.kv.Scan(lists(stock), nil, nil, false) {
			var id record.ID
			var err error
			if len(key) != len(id) {
				err = fmt.Errorf("the key %x: %w", key, errPlace)
			} else {
				id = record.ID(key)
			}
			if !yield(id, err) {
				return
			}
		}
	}
}

// EventsOf returns the events of a batch or, with stock, of a container; nil if
// there is none.
func (tx *Tx) EventsOf(id record.ID, stock bool) (events []*record.Event, err error) {
	frame := tx.kv.Get(lists(stock), id[:])
	if frame == nil {
		return nil, nil
	}
	var l list
	err = unseal(listFrame, frame, &l)
	if err == nil && l.ID != id {
		err = errPlace
	}
	if err != nil {
		return nil, fmt.Errorf("the entry of %s: %w", id, err)
	}
	for _, seq := range l.Seqs {
		e, err := tx.Event(seq)
		if err != nil {
			return nil, err
		}
		events = append(events, e)
	}
	return events, nil
}

// replay returns a batch or a container as it stands.
func (tx *Tx) replay(id record.ID, stock bool) (Replayed, error) {
	events, err := tx.EventsOf(id, stock)
	if err != nil {
		return Replayed{}, err
	}
	r := Replay(id, events, stock)
	if events == nil || len(r.Faults) > 0 && !tx.Salvaging() {
		return r, fmt.Errorf("%w: %s %s: %s", ErrTangled, id, r.Number, r.Faults[0])
	}
	return r, nil
}

// Batch returns a batch as it stands, without the text of its recipe and its sheet.
func (tx *Tx) Batch(id record.ID) (*record.Batch, error) {
	r, err := tx.replay(id, false)
	if err != nil {
		return nil, err
	}
	return r.Batch, tx.ending(r.Batch)
}

// Container returns a container as it stands.
func (tx *Tx) Container(id record.ID) (*record.Container, error) {
	r, err := tx.replay(id, true)
	return r.Container, err
}

// Frozen adds the text of its recipe and its sheet to a batch.
func (tx *Tx) Frozen(b *record.Batch) (err error) {
	read := func(sum record.Digest) []byte {
		if len(sum) == 0 {
			return nil
		}
		text, lost := tx.Blob(sum)
		if lost != nil && !tx.Salvaging() {
			err = lost
		}
		return text
	}
	b.Text, b.Sheet = string(read(b.TextSHA)), read(b.SheetSHA)
	return err
}

// A short number is given out once in a journal. Two benches that never met may
// have given the same one to different batches: after a merge both are written with
// an ending of four characters, the last of their ids.

// Numbered returns the ids of the batches or containers that bear a number.
func (tx *Tx) Numbered(number string) (ids []record.ID, err error) {
	for id, err := range tx.Under(record.Key{Tag: byNumber, Value: number}, record.ID{}, Highest, false) {
		if err != nil {
			return nil, err
		}
		ids = append(ids, id)
	}
	return ids, nil
}

// ending writes the number of a batch with its ending where another bench gave it
// out as well.
func (tx *Tx) ending(b *record.Batch) error {
	ids, err := tx.Numbered(b.Number)
	if err == nil && len(ids) > 1 {
		b.Number += "-" + Ending(b.ID)
	}
	return err
}

// Ending returns the last four characters of an id, in the number of a batch that
// shares it.
func Ending(id record.ID) string { text := id.String(); return text[len(text)-4:] }

// NextNumber returns the next short number of a year ("2026") or of the shelf ("S").
func (tx *Tx) NextNumber(of string) string {
	return fmt.Sprintf("%s-%03d", of, tx.head.Numbers[of]+1)
}

// Numbers returns the highest number given out of each year and of the shelf.
func (tx *Tx) Numbers() map[string]uint64 { return maps.Clone(tx.head.Numbers) }

// Skip makes sure that numbers up to n of a year or the shelf are not given out again.
func (tx *Tx) Skip(of string, n uint64) {
	if tx.head.Numbers == nil {
		tx.head.Numbers = map[string]uint64{}
	}
	tx.head.Numbers[of] = max(n, tx.head.Numbers[of])
}

// SkipAll is Skip for the numbers of another journal.
func (tx *Tx) SkipAll(numbers map[string]uint64) {
	for of, n := range numbers {
		tx.Skip(of, n)
	}
}
