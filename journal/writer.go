package journal

import (
	"crypto/sha256"
	"fmt"
	"time"

	bolt "go.etcd.io/bbolt"

	"hepar/recipe/fault"
)

// Writer makes several changes in one transaction: all of them are kept, or
// none. Get one from Update; it is of no use after the function has returned.
// Its methods are those of Journal. After an error the whole transaction is
// lost, whatever the function returns.
type Writer struct {
	reader
	j       *Journal
	head    headRecord
	index   *shelf
	numbers *shelf
	now     time.Time // of the change at work
	failed  error
	bulk    *bulkWriter     // gathers what new batches write; nil for the usual way
	known   map[string]bool // digests of recipes that are here
	derived *derivedIDs     // see alike.go; nil until it is asked for
}

// Update runs fn in one transaction that is on the disk when Update returns nil.
// It makes the journal where there is none. Some thousand changes at a time are
// a good measure; others wait meanwhile, so do nothing slow in fn.
func (j *Journal) Update(fn func(w *Writer) error) error {
	if err := j.Init(); err != nil {
		return err
	}
	return j.change(fn)
}

// change is Update for a journal that must exist.
func (j *Journal) change(fn func(w *Writer) error) error {
	return j.write(j.inWriter(fn))
}

// inWriter makes fn a function of a transaction.
func (j *Journal) inWriter(fn func(w *Writer) error) func(tx *bolt.Tx) error {
	return func(tx *bolt.Tx) error {
		w, err := j.newWriter(tx)
		if err != nil {
			return err
		}
		if err := fn(w); err != nil {
			return err
		}
		if w.failed != nil {
			return w.failed
		}
		if err := w.settle(); err != nil {
			return err
		}
		return w.putHead()
	}
}

func (j *Journal) newWriter(tx *bolt.Tx) (*Writer, error) {
	r, err := newReader(tx)
	if err != nil {
		return nil, err
	}
	w := &Writer{reader: *r, j: j}
	if w.index, err = bucket(tx, indexBucket); err != nil {
		return nil, err
	}
	if w.numbers, err = bucket(tx, numbersBucket); err != nil {
		return nil, err
	}
	w.head, err = readHead(tx)
	if w.head.Years == nil {
		w.head.Years = map[int]int{}
	}
	return w, err
}

func readHead(tx *bolt.Tx) (head headRecord, err error) {
	meta, err := bucket(tx, metaBucket)
	if err != nil {
		return head, err
	}
	if err := unseal(meta.Get([]byte(headKey)), &head); err != nil {
		return head, fmt.Errorf("the head of the journal: %w", err)
	}
	return head, nil
}

func readAbout(tx *bolt.Tx) (about aboutRecord, err error) {
	meta, err := bucket(tx, metaBucket)
	if err != nil {
		return about, err
	}
	return about, unseal(meta.Get([]byte(aboutKey)), &about)
}

func (w *Writer) putHead() error {
	meta, err := bucket(w.tx, metaBucket)
	if err != nil {
		return err
	}
	if err := w.putFresh(meta); err != nil {
		return err
	}
	w.head.Moment = uint64(w.tx.ID())
	return putRecord(meta, []byte(headKey), w.head)
}

// append adds events to b (which is new where it has none) and writes b and its
// index entries. The caller sets what is particular to each event; this sets the
// sequence, the id, the link to the event before, and the clock.
func (w *Writer) append(b *batchRecord, events ...*eventRecord) error {
	before, err := w.keysOf(b)
	if err != nil {
		return err
	}
	for _, e := range events {
		w.link(e)
		if err := b.apply(e); err != nil {
			return err
		}
		if err := w.keep(e); err != nil {
			return err
		}
	}
	return w.putBatch(b, before)
}

// keysOf gives the keys by which the index leads to b; none for a new batch.
func (w *Writer) keysOf(b *batchRecord) ([][]byte, error) {
	if len(b.Events) == 0 {
		return nil, nil
	}
	recipe, err := w.recipe(b)
	if err != nil {
		return nil, err
	}
	return indexKeys(b, recipe.Slug), nil
}

// putBatch writes the state of b, and its index entries where before were those
// it had.
func (w *Writer) putBatch(b *batchRecord, before [][]byte) error {
	after, err := w.keysOf(b)
	if err != nil {
		return err
	}
	if w.bulk != nil && before == nil {
		w.bulk.states[b.ID] = b.sealStanding()
		w.bulk.keys = append(w.bulk.keys, after...)
		return nil
	}
	if err := w.putStanding(b); err != nil {
		return err
	}
	return w.reindex(before, after)
}

func (w *Writer) putStanding(b *batchRecord) error {
	return w.batches.Put(b.ID[:], b.sealStanding())
}

// link gives an event its id and place: after the last one, by the clock.
func (w *Writer) link(e *eventRecord) {
	written := stampOf(w.now)
	e.ID = idAfter(w.head.LastID, w.now)
	if e.Batch == w.head.LastID && (e.Kind == Created || e.Kind == StockAdded) { // the id of what it makes was drawn just now: say it once
		e.ID = e.Batch
	}
	switch e.At {
	case stamp{}:
		e.At = written
	case written:
	default:
		e.Written = &written
	}
	w.chain(e)
}

// chain gives an event that has an id its place at the end of the chain.
func (w *Writer) chain(e *eventRecord) { e.Seq, e.Prev = w.head.Seq+1, w.head.Digest }

// keep writes an event that is linked and applied.
func (w *Writer) keep(e *eventRecord) error {
	record, err := e.seal()
	if err != nil {
		return err
	}
	if err := w.events.Put(seqKey(e.Seq), record); err != nil {
		return err
	}
	w.head.Seq, w.head.Digest = e.Seq, sha256.Sum256(record)
	if e.ID.compare(w.head.LastID) > 0 {
		w.head.LastID = e.ID
	}
	return nil
}

// frozen says that a recipe with the digest is here, and not only marked as lost.
func (w *Writer) frozen(digest []byte) bool {
	if w.known[string(digest)] {
		return true
	}
	recipes, err := bucket(w.tx, recipesBucket)
	if err != nil || recipes.Get(digest) == nil || blobLost(recipes, digest) {
		return false
	}
	if w.known == nil {
		w.known = map[string]bool{}
	}
	w.known[string(digest)] = true
	return true
}

// freeze stores the recipe once for all batches made from it and gives its key.
// It is not packed: it is read with every batch, and there are few.
func (w *Writer) freeze(recipe recipeContent) ([]byte, error) {
	content, err := encoder().Marshal(recipe)
	if err != nil {
		return nil, err
	}
	key := sha256.Sum256(content)
	recipes, err := bucket(w.tx, recipesBucket)
	if err != nil {
		return nil, err
	}
	if recipes.Get(key[:]) != nil {
		if blobLost(recipes, key[:]) {
			err = w.found(recipes, key[:], content, recipe)
		}
		return key[:], err
	}
	return key[:], putBlob(recipes, key[:], content)
}

// freezeSheet stores the sheet of one batch and gives its digest.
func (w *Writer) freezeSheet(batch id, sheet []byte) ([]byte, error) {
	if len(sheet) == 0 {
		return nil, nil
	}
	sheets, err := bucket(w.tx, sheetsBucket)
	if err != nil {
		return nil, err
	}
	digest := sha256.Sum256(sheet)
	return digest[:], packBlob(sheets, batch[:], sheet)
}

// nextNumber gives out the next short number of a year.
func (w *Writer) nextNumber(year int, batch id) (string, error) {
	n := w.head.Years[year] + 1
	w.head.Years[year] = n
	number := fmt.Sprintf("%04d-%03d", year, n)
	if w.numbers.Get([]byte(number)) != nil {
		return "", fmt.Errorf("%w: the number %s is taken already", errTangled, number)
	}
	return number, w.numbers.Put([]byte(number), batch[:])
}

// fail remembers an error so that a caller who drops it cannot commit half a change.
func (w *Writer) fail(err error) error {
	if err != nil && w.failed == nil {
		w.failed = err
	}
	return err
}

// begin reads the batch of a change and the clock.
func (w *Writer) begin(ref string) (*batchRecord, error) {
	w.now = w.j.now()
	return w.find(ref)
}

// usable refuses a change to a batch that is in none of the states.
func usable(b *batchRecord, doing string, states ...State) error {
	for _, s := range states {
		if b.State == s {
			return nil
		}
	}
	refusal := fault.Failuref("batch %s is %s and cannot be %s", b.Plan.Number, b.State, doing)
	switch b.State {
	case Logged:
		return refusal.Try("amend it: that keeps the old value and asks for the reason")
	case Withdrawn:
		return refusal.Try("make a new batch; a withdrawn one stays as it is")
	}
	return refusal.Try("log it first")
}
