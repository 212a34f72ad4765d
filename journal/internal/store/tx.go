package store

import (
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"iter"
	"maps"
	"slices"
	"strconv"
	"strings"
	"time"

	"hepar/journal/internal/record"
	"hepar/recipe/fault"
)

// Tx is one transaction of a journal. Everything it returns is a copy.
type Tx struct {
	File  *File
	About About
	Now   time.Time // of this transaction, with the offset of the bench

	kv   *recorder
	head Head
}

func start(kv Bucketed, about About) error {
	return errors.Join(kv.Put(indexBucket, lastKey, link(nil, lastKey)), put(kv, metaBucket, []byte("about"), AboutFrame, about),
		put(kv, metaBucket, []byte("head"), HeadFrame, Head{Digest: chainStart(about.Journal), Tx: kv.ID()}))
}

// chainStart ties the first event to its journal: not even that can be moved to another.
func chainStart(journal record.ID) []byte {
	digest := sha256.Sum256(append([]byte(magic+"\x00"), journal[:]...))
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
	tx := &Tx{File: f, Now: f.Now(), kv: &recorder{Bucketed: kv, wrote: map[string]Written{}}}
	about := kv.Get(metaBucket, []byte("about"))
	if about == nil {
		return nil, noJournal("it is a store of another program")
	}
	if err := unseal(AboutFrame, about, &tx.About); err != nil {
		return nil, err
	}
	switch {
	case tx.About.Magic != magic:
		return nil, noJournal("it is a store of another program")
	case tx.About.Format > Format:
		return nil, errNewer
	}
	if err := unseal(HeadFrame, kv.Get(metaBucket, []byte("head")), &tx.head); err != nil {
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
		value := kv.Get(w.Bucket, w.Key)
		if w.Gone != (value == nil) || !w.Gone && crc32.Checksum(value, castagnoli()) != w.CRC {
			return nil, fmt.Errorf("%w: the last change is not whole", ErrTangled)
		}
	}
	return tx, nil
}

// finish writes the head.
func (tx *Tx) finish() error {
	tx.head.Tx, tx.head.Last = tx.kv.ID(), nil
	for _, name := range slices.Sorted(maps.Keys(tx.kv.wrote)) {
		tx.head.Last = append(tx.head.Last, tx.kv.wrote[name])
	}
	return put(tx.kv.Bucketed, metaBucket, []byte("head"), HeadFrame, tx.head)
}

// restamp makes the head that of the transaction that has copied it.
func restamp(kv Bucketed) error {
	var head Head
	if err := unseal(HeadFrame, kv.Get(metaBucket, []byte("head")), &head); err != nil {
		return err
	}
	head.Tx = kv.ID()
	return put(kv, metaBucket, []byte("head"), HeadFrame, head)
}

// Head returns the number of events and the SHA-256 of the frame of the last.
func (tx *Tx) Head() (events uint64, digest []byte) { return tx.head.Seq, tx.head.Digest }

// NewID draws an id for an event or a container, above all drawn before.
func (tx *Tx) NewID() record.ID {
	tx.head.LastID = nextID(tx.head.LastID, tx.Now)
	return tx.head.LastID
}

// NewBatchID draws an id for a batch that was opened at a time. Those of one
// millisecond rise.
func (tx *Tx) NewBatchID(at time.Time) record.ID {
	low, high := Bound(at, false), Bound(at.Add(time.Millisecond), false)
	for key := range tx.kv.Scan(batchesBucket, low[:], high[:], true) {
		return nextID(record.ID(key), at)
	}
	return newID(at)
}

func seqKey(seq uint64) []byte { return binary.BigEndian.AppendUint64(nil, seq) }

// Link returns the frame of an event, with its place in the chain.
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
	if err := unseal(EventFrame, frame, &link); err != nil {
		return link, fmt.Errorf("event %d: %w", seq, err)
	}
	if link.Seq != seq {
		return link, fmt.Errorf("event %d: %w", seq, errPlace)
	}
	return link, nil
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

// Enlist adds events of the chain to the list of their batch or container, and
// returns what it becomes: see Append.
func (tx *Tx) Enlist(events []*record.Event) (any, error) {
	of := events[0].Of
	bucket, all := batchesBucket, allBatches
	stock := tx.HasContainer(of) || slices.ContainsFunc(events, (*record.Event).OfStock)
	if stock {
		bucket, all = containersBucket, allContainers
	}
	var had list
	var before []*record.Event
	if frame := tx.kv.Get(bucket, of[:]); frame != nil {
		if err := tx.list(frame, of, &had); err != nil {
			return nil, err
		}
		var err error
		if before, err = tx.events(had.Seqs); err != nil {
			return nil, err
		}
	} else if err := tx.mark(all, of, true); err != nil {
		return nil, err
	}
	every := slices.Clone(before)
	for _, e := range events {
		had.Seqs = append(had.Seqs, e.Seq)
		every = append(every, e)
	}
	if err := put(tx.kv, bucket, of[:], listFrame, list{ID: of, Seqs: had.Seqs}); err != nil {
		return nil, err
	}
	if stock {
		return tx.appended(of, before, every)
	}
	return tx.rekeyed(of, before, every)
}

// appended checks a container after its events were written.
func (tx *Tx) appended(of record.ID, before, all []*record.Event) (any, error) {
	c := record.ReplayContainer(of, all)
	if len(c.Faults) > 0 && !tx.Salvaging() {
		return nil, fault.Usagef("container %s does not hold together: %s", c.Number, c.Faults[0]).Try("leave it out")
	}
	if c.Number != "" && record.ReplayContainer(of, before).Number == "" {
		return c, tx.claim(c.Number, of)
	}
	return c, nil
}

// rekeyed brings the index forward after events of a batch were written.
func (tx *Tx) rekeyed(of record.ID, before, all []*record.Event) (any, error) {
	b := record.Replay(of, all)
	if !tx.Salvaging() {
		if err := b.Fits(); err != nil {
			return nil, err
		}
	}
	var old []record.Key
	number := ""
	if len(before) > 0 {
		was := record.Replay(of, before)
		old, number = was.Keys(), was.Number
	}
	keys := b.Keys()
	for _, k := range keys {
		if !slices.Contains(old, k) {
			if err := tx.mark(k, of, true); err != nil {
				return nil, err
			}
		}
	}
	for _, k := range old {
		if !slices.Contains(keys, k) {
			if err := tx.mark(k, of, false); err != nil {
				return nil, err
			}
		}
	}
	if b.Number != number {
		if err := tx.claim(b.Number, of); err != nil {
			return nil, err
		}
	}
	return b, tx.ending(b)
}

// Salvaging says whether the journal was salvaged: events may be missing in it.
func (tx *Tx) Salvaging() bool {
	return tx.File.Salvage || len(tx.kv.Get(metaBucket, []byte("salvaged"))) > 0
}

// MarkSalvaged makes the journal one of which events may be missing.
func (tx *Tx) MarkSalvaged() error { return tx.kv.Put(metaBucket, []byte("salvaged"), []byte{1}) }

func (tx *Tx) list(frame []byte, id record.ID, l *list) error {
	if err := unseal(listFrame, frame, l); err != nil {
		return fmt.Errorf("the entry of %s: %w", id, err)
	}
	if l.ID != id {
		return fmt.Errorf("the entry of %s: %w", id, errPlace)
	}
	return nil
}

func (tx *Tx) events(seqs []uint64) ([]*record.Event, error) {
	events := make([]*record.Event, 0, len(seqs)+1)
	for _, seq := range seqs {
		e, err := tx.Event(seq)
		if err != nil {
			return nil, err
		}
		events = append(events, e)
	}
	return events, nil
}

// Has says whether there is a batch of that id.
func (tx *Tx) Has(id record.ID) bool { return tx.kv.Get(batchesBucket, id[:]) != nil }

// HasContainer says whether there is a container of that id.
func (tx *Tx) HasContainer(id record.ID) bool { return tx.kv.Get(containersBucket, id[:]) != nil }

// EventsOf returns the events of a batch or, with stock, of a container; nil if
// there is none.
func (tx *Tx) EventsOf(id record.ID, stock bool) ([]*record.Event, error) {
	bucket := batchesBucket
	if stock {
		bucket = containersBucket
	}
	frame := tx.kv.Get(bucket, id[:])
	if frame == nil {
		return nil, nil
	}
	var l list
	if err := tx.list(frame, id, &l); err != nil {
		return nil, err
	}
	return tx.events(l.Seqs)
}

// Batch returns a batch as it stands, without the text of its recipe and its sheet.
func (tx *Tx) Batch(id record.ID) (*record.Batch, error) {
	events, err := tx.EventsOf(id, false)
	if err == nil && events == nil {
		err = fmt.Errorf("%w: batch %s is missing", ErrTangled, id)
	}
	if err != nil {
		return nil, err
	}
	b := record.Replay(id, events)
	if len(b.Faults) > 0 && !tx.Salvaging() {
		return nil, fmt.Errorf("%w: batch %s: %s", ErrTangled, b.Name(), b.Faults[0])
	}
	return b, tx.ending(b)
}

// Frozen adds the text of its recipe and its sheet to a batch.
func (tx *Tx) Frozen(b *record.Batch) (err error) {
	if len(b.TextSHA) > 0 {
		text, err := tx.Blob(b.TextSHA)
		if err != nil && !tx.Salvaging() {
			return err
		}
		b.Text = string(text)
	}
	if len(b.SheetSHA) > 0 {
		if b.Sheet, err = tx.Blob(b.SheetSHA); err != nil && !tx.Salvaging() {
			return err
		}
	}
	return nil
}

// Container returns a container as it stands.
func (tx *Tx) Container(id record.ID) (*record.Container, error) {
	events, err := tx.EventsOf(id, true)
	if err == nil && events == nil {
		err = fmt.Errorf("%w: container %s is missing", ErrTangled, id)
	}
	if err != nil {
		return nil, err
	}
	c := record.ReplayContainer(id, events)
	if len(c.Faults) > 0 && !tx.Salvaging() {
		return nil, fmt.Errorf("%w: container %s: %s", ErrTangled, c.Number, c.Faults[0])
	}
	return c, nil
}

// A short number is given out once in a journal. Two benches that never met may
// have given the same one to different batches: after a merge both are written with
// an ending of four characters, the last of their ids.

const endingSize = 4

func (tx *Tx) claim(number string, id record.ID) error {
	of, rest, _ := strings.Cut(number, "-")
	if n, err := strconv.ParseUint(rest, 10, 64); err == nil {
		tx.Skip(of, n)
	}
	return tx.mark(record.Key{Tag: byNumber, Value: number}, id, true)
}

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
func Ending(id record.ID) string { text := id.String(); return text[len(text)-endingSize:] }

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

// Lists goes over the batches or, with stock, the containers: the id of each and
// the places of its events in the chain.
func (tx *Tx) Lists(stock bool) iter.Seq2[record.ID, Places] {
	return func(yield func(record.ID, Places) bool) {
		bucket := batchesBucket
		if stock {
			bucket = containersBucket
		}
		for key, frame := range tx.kv.Scan(bucket, nil, nil, false) {
			var id record.ID
			var l list
			err := fmt.Errorf("the key %x: %w", key, errPlace)
			if len(key) == len(id) {
				id = record.ID(key)
				err = tx.list(frame, id, &l)
			}
			if !yield(id, Places{l.Seqs, err}) {
				return
			}
		}
	}
}

// Places are the places of the events of a batch or a container in the chain, or
// the error that keeps them from being read.
type Places struct {
	Seqs []uint64
	Err  error
}

// Frames goes over the frames of all events that are stored, in the order of their
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

// ChainStart returns what the first event names as the digest of the one before.
func (tx *Tx) ChainStart() []byte { return chainStart(tx.About.Journal) }
