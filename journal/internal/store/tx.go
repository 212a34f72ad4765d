package store

import (
	"bytes"
	"cmp"
	"crypto/rand"
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"iter"
	"math/bits"
	mathrand "math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/fxamacker/cbor/v2"
	"github.com/oklog/ulid/v2"

	"hepar/journal/internal/record"
	"hepar/recipe/fault"
)

// Tx is one transaction of a journal. What it returns is a copy. A fault of the file
// ends the transaction where it is found: View and Update return it. [fault.Caught] goes on.
type Tx struct {
	About About
	Head  Head
	Now   time.Time // of this transaction, with the offset of the bench

	file  *File
	kv    KV
	quiet bool // runs beside another: File.Watch is not told
}

// watchEvery is after how many events File.Watch is told again.
const watchEvery = 1000

// tell counts an event that was read or written.
func (tx *Tx) tell() {
	if f := tx.file; f.Watch != nil && !tx.quiet {
		if f.done++; f.done%watchEvery == 0 {
			f.Watch(f.done)
		}
	}
}

// tangled means that frames which must agree do not.
func tangled(format string, args ...any) error {
	return damage("its entries do not agree: " + fmt.Sprintf(format, args...))
}

var (
	aboutKey = []byte("about")
	headKey  = []byte("head")
)

// ChainStart returns what the first event names as the digest of the one before. It
// ties that event to its journal.
func (a About) ChainStart() []byte {
	digest := sha256.Sum256(append([]byte(magic+"\x00"), a.Journal[:]...))
	return digest[:]
}

// put puts a value under a key, or takes the key out if it is nil, and notes it for the head.
func (tx *Tx) put(bucket string, key, value []byte) {
	if had := tx.kv.Get(bucket, key) != nil; had && value == nil {
		tx.Head.Entries--
	} else if !had && value != nil {
		tx.Head.Entries++
	}
	at := cbor.ByteString(bucket + " " + string(key))
	if _, had := tx.Head.Last[at]; had || len(tx.Head.Last) < mostWritten {
		tx.Head.Last[at] = checksum(value)
	}
	fault.Check(tx.kv.Put(bucket, key, value))
}

func newTx(f *File, kv KV, write bool, entries uint64) *Tx {
	tx := &Tx{Now: f.Now(), file: f, kv: kv, Head: Head{Numbers: map[string]uint64{}}}
	if about := kv.Get(metaBucket, aboutKey); about != nil {
		fault.Check(unseal(AboutFrame, about, &tx.About))
	}
	if tx.About.Magic != magic {
		fault.Check(noJournal("it is a store of another program"))
	}
	if tx.About.Format > Format {
		fault.Check(errNewer)
	}
	fault.Check(unseal(HeadFrame, kv.Get(metaBucket, headKey), &tx.Head))
	last := kv.ID()
	if write {
		last--
	}
	if tx.Head.Tx != last {
		fault.Check(tangled("the head is not of the last change"))
	}
	for at, crc := range tx.Head.Last {
		bucket, key, _ := strings.Cut(string(at), " ")
		if checksum(kv.Get(bucket, []byte(key))) != crc {
			fault.Check(tangled("the last change is not whole"))
		}
	}
	if tx.Head.Entries != entries {
		fault.Check(tangled("the head counts %d, and there are %d", tx.Head.Entries, entries))
	}
	tx.Head.Last = map[cbor.ByteString]uint32{}
	return tx
}

func (tx *Tx) finish() {
	tx.Head.Tx = tx.kv.ID()
	fault.Check(tx.kv.Put(metaBucket, headKey, sealed(HeadFrame, tx.Head)))
}

// Beside runs fn in a transaction of its own that reads what tx reads, so that two can read at
// the same time. Nobody can write in between, since tx holds the file.
func (tx *Tx) Beside(fn func(*Tx) error) error {
	return tx.file.View(func(beside *Tx) error {
		beside.quiet = true
		return fn(beside)
	})
}

// Bound returns the lowest id of a time.
func Bound(t time.Time) (id record.ID) {
	_ = id.SetTime(uint64(max(t.UnixMilli(), 0)))
	return id
}

func newID(t time.Time) record.ID {
	id := Bound(t)
	_, _ = rand.Read(id[6:]) // never fails: it ends the program instead
	return id
}

// nextID draws an id with the time of t, or one a little above last if the clock
// stands still or has gone back, so that the ids of events rise in the order written.
func nextID(last record.ID, t time.Time) record.ID {
	if ulid.Timestamp(t) > last.Time() {
		return newID(t)
	}
	low, carry := bits.Add64(binary.BigEndian.Uint64(last[8:]), uint64(mathrand.Uint32())+1, 0)
	high := binary.BigEndian.Uint64(last[:8]) + carry
	return record.ID(binary.BigEndian.AppendUint64(binary.BigEndian.AppendUint64(nil, high), low))
}

// NewID draws an id for an event or a container, above all drawn before.
func (tx *Tx) NewID() record.ID {
	tx.Head.LastID = nextID(tx.Head.LastID, tx.Now)
	return tx.Head.LastID
}

// NewBatchID draws an id for a batch that was opened at a time. Those of one
// millisecond rise.
func (tx *Tx) NewBatchID(at time.Time) record.ID {
	for id := range tx.Under(record.AllBatches, Bound(at), Bound(at.Add(time.Millisecond)), true) {
		return nextID(id, at)
	}
	return newID(at)
}

func seqKey(seq uint64) []byte { return binary.BigEndian.AppendUint64(nil, seq) }

// Frames yields the frames of all events that are stored, in the order of their
// places, beyond the head as well.
func (tx *Tx) Frames() iter.Seq2[uint64, []byte] {
	return func(yield func(uint64, []byte) bool) {
		for key, frame := range tx.kv.Scan(eventsBucket, nil, nil, false) {
			if !yield(binary.BigEndian.Uint64(append(bytes.Clone(key), make([]byte, 8)...)), frame) {
				return
			}
		}
	}
}

// LinkOf reads the frame of the event at a place.
func LinkOf(seq uint64, frame []byte) (link Link, err error) {
	if err = unseal(EventFrame, frame, &link); err != nil || link.Seq != seq {
		err = fmt.Errorf("event %d: %w", seq, cmp.Or[error](err, errPlace))
	}
	return link, err
}

// Event returns the event at a place of the chain, from 1.
func (tx *Tx) Event(seq uint64) *record.Event {
	frame := tx.kv.Get(eventsBucket, seqKey(seq))
	if frame == nil {
		fault.Check(tangled("event %d is missing", seq))
	}
	link, err := LinkOf(seq, frame)
	fault.Check(err)
	e, err := record.Decode(link.Body)
	if err != nil {
		fault.Check(fmt.Errorf("event %d: %w: %w", seq, errFrame, err))
	}
	e.Seq = seq
	tx.tell()
	return e
}

// Append writes events of one batch, of one container, or of the journal: their
// frames at the end of the chain and the keys that follow from them. Each must
// pass its own check, and the batch or container that they make must hold together.
// It returns what the events make; nil if they are of the journal.
func (tx *Tx) Append(events ...*record.Event) record.Thing {
	for _, e := range events {
		if e.Of != events[0].Of {
			fault.Check(tangled("events of two batches at once"))
		}
		fault.Check(e.Check())
		tx.Chain(e, fault.Must(record.Encode(e)))
	}
	if events[0].Of.IsZero() {
		return nil
	}
	return tx.Enlist(events)
}

// Chain writes an event, whose stored form is body, at the end of the chain. Enlist
// must follow, unless the event is of the journal.
func (tx *Tx) Chain(e *record.Event, body []byte) {
	tx.Head.Seq++
	frame := sealed(EventFrame, Link{Seq: tx.Head.Seq, Prev: tx.Head.Digest, Body: body})
	digest := sha256.Sum256(frame)
	tx.Head.Digest = digest[:]
	if e.ID.Compare(tx.Head.LastID) > 0 {
		tx.Head.LastID = e.ID
	}
	e.Seq = tx.Head.Seq
	tx.put(eventsBucket, seqKey(e.Seq), frame)
	tx.tell()
}

// Enlist adds events of the chain to the list of their batch or container, brings
// the index forward, and returns what the batch or container becomes: see Append.
func (tx *Tx) Enlist(events []*record.Event) record.Thing {
	of := events[0].Of
	before := tx.EventsOf(of)
	all := slices.Concat(before, events)
	l := list{ID: of}
	for _, e := range all {
		l.Seqs = append(l.Seqs, e.Seq)
	}
	tx.put(listsBucket, of[:], sealed(listFrame, l))
	made := Replay(of, all)
	if !tx.Head.Salvaged {
		fault.Check(made.Fits())
	}
	var old []record.Key
	if before != nil {
		old = Replay(of, before).Keys()
	}
	keys := made.Keys()
	for _, k := range slices.Concat(keys, old) {
		if there := slices.Contains(keys, k); there != slices.Contains(old, k) {
			tx.mark(k, of, there)
		}
	}
	if series, n := Series(made.Short()); n > 0 {
		tx.Skip(map[string]uint64{series: n})
	}
	return tx.ending(made)
}

// Replay returns the batch or the container that events make, whichever their kinds are of.
func Replay(id record.ID, events []*record.Event) record.Thing {
	return record.ReplayAs(id, events, slices.ContainsFunc(events, (*record.Event).OfStock))
}

// Has says whether there is a batch or a container of that id.
func (tx *Tx) Has(id record.ID) bool { return tx.kv.Get(listsBucket, id[:]) != nil }

// EventsOf returns the events of a batch or a container; nil if there is none.
func (tx *Tx) EventsOf(id record.ID) (events []*record.Event) {
	frame := tx.kv.Get(listsBucket, id[:])
	if frame == nil {
		return nil
	}
	var l list
	if err := unseal(listFrame, frame, &l); err != nil || l.ID != id {
		fault.Check(fmt.Errorf("the entry of %s: %w", id, cmp.Or[error](err, errPlace)))
	}
	for _, seq := range l.Seqs {
		events = append(events, tx.Event(seq))
	}
	return events
}

// Thing returns a batch or a container as it stands.
func (tx *Tx) Thing(id record.ID) record.Thing { return tx.ending(tx.bare(id)) }

func (tx *Tx) bare(id record.ID) record.Thing {
	events := tx.EventsOf(id)
	made := Replay(id, events)
	if faults := made.Past().Faults; events == nil || len(faults) > 0 && !tx.Head.Salvaged {
		fault.Check(tangled("%s %s: %s", id, made.Short(), faults[0]))
	}
	return made
}

// Batch returns a batch as it stands, without the text of its recipe and its sheet.
func (tx *Tx) Batch(id record.ID) *record.Batch { return tx.Thing(id).(*record.Batch) }

// Unnumbered is Batch for who does not look at the number: two may share it.
func (tx *Tx) Unnumbered(id record.ID) *record.Batch { return tx.bare(id).(*record.Batch) }

// Container returns a container as it stands.
func (tx *Tx) Container(id record.ID) *record.Container { return tx.Thing(id).(*record.Container) }

// Frozen adds the text of its recipe and its sheet to a batch.
func (tx *Tx) Frozen(b *record.Batch) {
	b.Text, b.Sheet = string(tx.Blob(b.TextSHA)), tx.Blob(b.SheetSHA)
}

// A short number is given out once in a journal. Two benches that never met may
// have given the same one to different batches: after a merge both are written with
// an ending of four characters, the last of their ids.

// Numbered returns the ids of the batches or containers that bear a number.
func (tx *Tx) Numbered(number string) []record.ID {
	return slices.Collect(tx.Under(record.Key{Tag: record.ByNumber, Value: number}, record.ID{}, Highest, false))
}

// ending writes the number of a batch with its ending if two share it.
func (tx *Tx) ending(made record.Thing) record.Thing {
	if b, ok := made.(*record.Batch); ok && len(tx.Numbered(b.Number)) > 1 {
		b.Number += "-" + Ending(b.ID)
	}
	return made
}

// Ending returns the last four characters of an id.
func Ending(id record.ID) string { text := id.String(); return text[len(text)-4:] }

// NextNumber returns the next short number of a year ("2026") or of the shelf ("S").
func (tx *Tx) NextNumber(of string) string {
	return fmt.Sprintf("%s-%03d", of, tx.Head.Numbers[of]+1)
}

// Series returns the year or the S with which a number begins, and the count behind it; 0 if there is none.
func Series(number string) (of string, n uint64) {
	of, rest, _ := strings.Cut(number, "-")
	n, _ = strconv.ParseUint(rest, 10, 64)
	return of, n
}

// Skip makes sure that numbers up to those of each series are not given out again.
func (tx *Tx) Skip(numbers map[string]uint64) {
	for of, n := range numbers {
		tx.Head.Numbers[of] = max(n, tx.Head.Numbers[of])
	}
}
