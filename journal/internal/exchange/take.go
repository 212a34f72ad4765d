package exchange

import (
	"bytes"
	"errors"
	"fmt"
	"iter"
	"os"
	"slices"
	"strconv"

	"hepar/journal/internal/record"
	"hepar/journal/internal/store"
	"hepar/recipe/fault"
)

// What is written to the copy in one transaction: the more, the fewer pages are
// written twice; the fewer, the less memory.
const (
	chunkEntries = 1000
	chunkBytes   = 16 << 20
)

// entry is a batch or a container from elsewhere.
type entry struct {
	line   int // of the file; 0 in a merge
	id     record.ID
	stock  bool
	events []*record.Event
	texts  map[string][]byte // that came with it, by their SHA-256
	row    *row              // of a table, which has no events of its own
}

func (e *entry) weight() int {
	n := 512 * len(e.events)
	for _, text := range e.texts {
		n += len(text)
	}
	for _, ev := range e.events {
		n += len(ev.Raw) + len(ev.Old) + len(ev.New) + len(ev.Note) + len(ev.Reason)
	}
	return n
}

// fate is what became of an entry.
type fate int

const (
	isNew   fate = iota // it was not here
	further             // it is here, and more has happened to it there
	same                // it is here as it is there, or further
	refused             // it cannot be what is here; nothing of it is taken over
)

// Errors that end the work on a copy and are no faults.
var (
	errNothing = &fault.Error{Kind: fault.Failure, What: "nothing is to be taken over"}
	errDryRun  = &fault.Error{Kind: fault.Failure, What: "it was a dry run"}
)

// taker takes entries over into a journal, all or nothing.
type taker struct {
	by     string
	source record.Source
	dry    bool
	merge  bool                          // a batch that both sides changed keeps the events of both
	each   func(*entry, fate, *Conflict) // told what became of an entry
	finish func(*store.Tx) error         // says at the end whether to keep what was done

	events     int
	filled     bool        // a text came that had been missing
	batches    []record.ID // taken over, with something taken from the shelf
	containers []record.ID // taken over
}

// run takes over all entries. An error of the source ends it, and so does what
// finish returns; the journal then stays as it was.
func (t *taker) run(file *store.File, entries iter.Seq2[*entry, error]) error {
	there, err := file.Exists()
	if err != nil {
		return err
	}
	if t.dry && !there { // not even a folder is made
		dir, err := os.MkdirTemp("", "hepar-")
		if err != nil {
			return store.NoRoom(os.TempDir(), err)
		}
		defer os.RemoveAll(dir)
		file = store.Open(dir+"/dry-run", file.Wait, file.Now)
	}
	err = file.Rebuild(func(copy *store.File) error { return t.fill(copy, entries) })
	if errors.Is(err, errNothing) || errors.Is(err, errDryRun) {
		return nil
	}
	return err
}

func (t *taker) fill(copy *store.File, entries iter.Seq2[*entry, error]) error {
	var chunk []*entry
	weight := 0
	flush := func() error {
		err := copy.Update(func(tx *store.Tx) error {
			for _, e := range chunk {
				became, conflict, err := t.take(tx, e)
				if err != nil {
					return err
				}
				t.each(e, became, conflict)
			}
			return nil
		})
		chunk, weight = nil, 0
		return err
	}
	for e, err := range entries {
		if err != nil {
			return err
		}
		chunk, weight = append(chunk, e), weight+e.weight()
		if len(chunk) == chunkEntries || weight > chunkBytes {
			if err := flush(); err != nil {
				return err
			}
		}
	}
	if err := flush(); err != nil {
		return err
	}
	err := copy.Update(func(tx *store.Tx) error {
		if err := t.finish(tx); err != nil {
			return err
		}
		if err := t.agreesWithShelf(tx); err != nil {
			return err
		}
		if t.events == 0 && !t.filled {
			return errNothing
		}
		t.source.Events = uint64(t.events)
		_, err := tx.Append(&record.Event{ID: tx.NewID(), Kind: record.TakenOver, At: record.StampOf(tx.Now), By: t.by, Source: &t.source})
		return err
	})
	if err != nil {
		return err
	}
	if t.dry {
		return errDryRun
	}
	if err := copy.WalkWhole(); err != nil {
		return err
	}
	return copy.View(func(tx *store.Tx) error { return tx.Sound() })
}

// take compares an entry with what is here and takes over the events that are not.
func (t *taker) take(tx *store.Tx, e *entry) (fate, *Conflict, error) {
	conflict := &Conflict{Line: e.line, Number: e.number(), ID: e.id, Here: []*record.Event{}, There: []*record.Event{}}
	refuse := func(format string, args ...any) (fate, *Conflict, error) {
		conflict.What = fmt.Sprintf(format, args...)
		return refused, conflict, nil
	}
	if e.stock && tx.Has(e.id) || !e.stock && tx.HasContainer(e.id) {
		return refuse("its id is that of something else here")
	}
	here, err := tx.EventsOf(e.id, e.stock)
	if err != nil {
		return refused, nil, err
	}
	onlyHere, onlyThere, differs, err := compare(here, e.events)
	if err != nil {
		return refused, nil, err
	}
	if e.row != nil && here != nil && (differs != nil || len(onlyThere) > 0) {
		b, err := tx.Batch(e.id)
		if err != nil {
			return refused, nil, err
		}
		conflict.Number = b.Number
		if what := e.row.differs(b); what != "" {
			return refuse("%s", what)
		}
		return same, nil, nil
	}
	if differs != nil {
		return refuse("its event %s (%s) says something else there", differs.ID, differs.Kind)
	}
	if err := t.keepTexts(tx, e, here == nil); err != nil {
		return refused, nil, err
	}
	if len(onlyThere) == 0 {
		return same, nil, nil
	}
	both := len(onlyHere) > 0
	if both {
		conflict.What, conflict.Merged, conflict.Here, conflict.There = "both sides changed it", t.merge, onlyHere, onlyThere
		if !t.merge { // a file is only words: it does not win against what is here
			return refused, conflict, nil
		}
	}
	if first := e.events[0]; here == nil && first.Plan != nil && first.Plan.Number == "" { // a row of a table
		first.Plan.Number = tx.NextNumber(strconv.Itoa(first.Plan.Created.Time().Year()))
	}
	if err := fits(e.id, e.stock, slices.Concat(here, onlyThere)); err != nil {
		conflict.Merged = false
		return refuse("%v", err)
	}
	if _, err := tx.Append(onlyThere...); err != nil {
		return refused, nil, err
	}
	t.events += len(onlyThere)
	if e.stock {
		t.containers = append(t.containers, e.id)
	} else if slices.ContainsFunc(onlyThere, func(ev *record.Event) bool { return len(ev.Uses) > 0 }) {
		t.batches = append(t.batches, e.id)
	}
	switch {
	case both:
		return further, conflict, nil
	case here == nil:
		return isNew, nil, nil
	}
	return further, nil, nil
}

func (e *entry) number() string {
	for _, ev := range e.events {
		switch {
		case ev.Plan != nil:
			return ev.Plan.Number
		case ev.Container != nil:
			return ev.Container.Number
		}
	}
	return e.id.String()
}

// compare divides the events of both sides by their ids; differs is one that both
// have and that is not stored alike.
func compare(here, there []*record.Event) (onlyHere, onlyThere []*record.Event, differs *record.Event, err error) {
	mine := map[record.ID]*record.Event{}
	for _, e := range here {
		mine[e.ID] = e
	}
	for _, e := range there {
		h := mine[e.ID]
		if h == nil {
			onlyThere = append(onlyThere, e)
			continue
		}
		delete(mine, e.ID)
		alike, err := storedAlike(h, e)
		if err != nil {
			return nil, nil, nil, err
		}
		if !alike {
			differs = e
		}
	}
	for _, e := range here {
		if mine[e.ID] != nil {
			onlyHere = append(onlyHere, e)
		}
	}
	return onlyHere, onlyThere, differs, nil
}

// storedAlike compares the stored bytes of two events. A row of a table that has no
// number gets one from each bench that imports it: the number is left aside.
func storedAlike(a, b *record.Event) (bool, error) {
	if a.Plan != nil && b.Plan != nil && a.Raw == nil && b.Raw == nil {
		plan, other := *b.Plan, *b
		plan.Number = a.Plan.Number
		other.Plan, b = &plan, &other
	}
	x, err := record.Encode(a)
	if err != nil {
		return false, err
	}
	y, err := record.Encode(b)
	return bytes.Equal(x, y), err
}

// fits returns an error if the events are not ones that this program would have
// written, or do not make a batch or a container that holds together.
func fits(id record.ID, stock bool, events []*record.Event) error {
	had := map[record.ID]bool{}
	for _, e := range events {
		if had[e.ID] {
			return fault.Usagef("the event %s is there twice", e.ID).Try("leave one of them out")
		}
		had[e.ID] = true
		if err := e.Check(); err != nil {
			return err
		}
		if !stock && e.Container != nil {
			return fault.Usagef("the event %s of a batch describes a container", e.ID).Try("leave it out")
		}
	}
	if !stock {
		return record.Replay(id, events).Fits()
	}
	c := record.ReplayContainer(id, events)
	if len(c.Faults) > 0 {
		return fault.Usagef("container %s does not hold together: %s", c.Number, c.Faults[0]).Try("leave it out")
	}
	return c.Check()
}

// agreesWithShelf returns an error if a batch that was taken over says that it used
// a container on this shelf and the container does not, or the other way round.
func (t *taker) agreesWithShelf(tx *store.Tx) error {
	booked := map[record.ID]map[record.ID]float64{} // by container and batch
	of := func(container record.ID) (map[record.ID]float64, error) {
		if sums := booked[container]; sums != nil {
			return sums, nil
		}
		events, err := tx.EventsOf(container, true)
		sums := map[record.ID]float64{}
		for _, e := range events {
			if e.Kind == record.StockUsed && !e.For.IsZero() {
				for _, u := range e.Uses {
					sums[e.For] += u.Amount
				}
			}
		}
		booked[container] = sums
		return sums, err
	}
	batches := map[record.ID]bool{}
	for _, id := range t.batches {
		batches[id] = true
	}
	for _, id := range t.containers {
		sums, err := of(id)
		if err != nil {
			return err
		}
		for batch := range sums {
			batches[batch] = true
		}
	}
	for id := range batches {
		name := id.String()
		used := map[record.ID]float64{}
		if tx.Has(id) {
			b, err := tx.Batch(id)
			if err != nil {
				return err
			}
			name = b.Number
			for _, u := range b.Uses {
				if tx.HasContainer(u.Container) {
					used[u.Container] += u.Amount
				}
			}
		}
		for _, container := range t.containers {
			if used[container] == 0 {
				used[container] = 0
			}
		}
		for container, amount := range used {
			sums, err := of(container)
			if err != nil {
				return err
			}
			if record.Tidy(sums[id]) != record.Tidy(amount) {
				return fault.Failuref("batch %s took %g from the container %s, and the shelf says %g; nothing was taken over", name, amount, container, sums[id]).
					Try("merge the whole journal of the other bench, or import its batches and its shelf in one file")
			}
		}
	}
	return nil
}

// keepTexts keeps the recipe and the sheet of a batch, or notes that they did not
// come with it.
func (t *taker) keepTexts(tx *store.Tx, e *entry, fresh bool) error {
	for _, ev := range e.events {
		if ev.Plan == nil {
			continue
		}
		for _, sum := range []record.Digest{ev.Plan.TextSHA, ev.Plan.SheetSHA} {
			text := e.texts[string(sum)]
			switch {
			case len(sum) == 0 || tx.HasBlob(sum) && !tx.Lacks(sum):
			case text != nil:
				if _, err := tx.PutBlob(text); err != nil {
					return err
				}
				t.filled = t.filled || !fresh
			case fresh && !tx.HasBlob(sum):
				if err := tx.Lack(sum); err != nil {
					return err
				}
			}
		}
	}
	return nil
}
