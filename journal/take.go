package journal

import (
	"bytes"
	"fmt"
	"slices"

	"hepar/recipe/fault"
)

// fate is what became of a batch from elsewhere.
type fate int

const (
	fateNew     fate = iota // it was not here
	fateFurther             // it was here, and more has happened to it there
	fateSame                // it is here as it is there, or more has happened to it here
	fateMerged              // both sides changed it: all events of both are kept, in the order of their ids
	fateRefused             // it cannot be what is here; nothing was changed
)

// Conflict is a batch that is not the same here and there.
type Conflict struct {
	Line   int    // of the file it was read from; 0 in a merge
	Number string // of the batch here
	ID     string
	What   string
	Merged bool    // the events of both sides were kept; if not, what is here was kept
	Here   []Event // that are only here
	There  []Event // that are only there
}

// bring brings a batch from elsewhere into the journal.
func (w *Writer) bring(f *foreign) (fate, *Conflict, error) {
	if w.bulk != nil {
		// What was gathered is looked at like all else.
		_, twice := w.bulk.states[f.id]
		number := ""
		if f.events[0].Plan != nil {
			number = f.events[0].Plan.Number
		}
		if _, twin := w.bulk.numbers[number]; twice || twin {
			if err := w.settle(); err != nil {
				return fateRefused, nil, err
			}
		}
	}
	here := f.id
	if w.batches.Get(f.id[:]) == nil {
		known, there, err := w.alike(f)
		if err != nil {
			return fateRefused, nil, err
		}
		if !there {
			return fateNew, nil, w.takeNew(f)
		}
		if f.near == nearClock {
			return fateSame, nil, nil // the rest of its id is all that the row says
		}
		here = known
	}
	b, err := w.batch(here)
	if err != nil {
		return fateRefused, nil, err
	}
	if f.row != nil {
		if what, err := w.rowDiffers(b, f); err != nil || what == "" {
			return fateSame, nil, err
		} else if len(f.row.events) == 0 {
			return fateRefused, b.conflict(f, what), nil
		}
	}
	events, err := w.eventsOf(b)
	if err != nil {
		return fateRefused, nil, err
	}
	onlyHere, onlyThere, what, err := compareEvents(events, f)
	switch {
	case err != nil:
		return fateRefused, nil, err
	case what != "":
		return fateRefused, b.conflict(f, what), nil
	case len(onlyThere) == 0:
		return fateSame, nil, nil
	}
	conflict := b.conflict(f, "both sides changed it")
	conflict.Merged, conflict.Here, conflict.There = true, publicEvents(onlyHere, false), publicEvents(onlyThere, false)
	if len(onlyHere) > 0 && f.row != nil {
		conflict.Merged = false
		return fateRefused, conflict, nil // a file is only words: it does not win against what is here
	}
	if err := w.adopt(b, events, onlyThere); err != nil {
		return fateRefused, nil, err
	}
	if len(onlyHere) > 0 {
		return fateMerged, conflict, nil
	}
	return fateFurther, nil, nil
}

func (b *batchRecord) conflict(f *foreign, what string) *Conflict {
	return &Conflict{Line: f.line, Number: b.number(), ID: b.ID.String(), What: what}
}

// rowDiffers says in what the batch here differs from the row of a file.
func (w *Writer) rowDiffers(b *batchRecord, f *foreign) (string, error) {
	here, err := w.public(b, detail{events: true, frozen: true})
	if err != nil {
		return "", err
	}
	v := here.View()
	if len(f.row.events) > 0 && !slices.EqualFunc(v.Events, f.row.Events, func(a, b EventView) bool { return a.ID == b.ID }) {
		return "its events are others", nil
	}
	return f.row.difference(v), nil
}

// compareEvents divides the events of both sides; what says how an event that
// both have differs.
func compareEvents(here []*eventRecord, f *foreign) (onlyHere, onlyThere []*eventRecord, what string, err error) {
	find := func(all []*eventRecord, want *eventRecord) *eventRecord {
		i := slices.IndexFunc(all, func(e *eventRecord) bool { return e.ID == want.ID })
		if i < 0 {
			return nil
		}
		return all[i]
	}
	for _, e := range f.events {
		mine := find(here, e)
		if mine == nil {
			onlyThere = append(onlyThere, e)
			continue
		}
		if f.row != nil && (e.Kind == Created || e.Kind == ReviewedEvent || e.Kind == SignedOffEvent) && mine.Kind == e.Kind && mine.At == e.At {
			continue // a file may leave out the recipe and the sheet, and all reviews but the last
		}
		if same, err := sameContent(mine, e); err != nil || !same {
			return nil, nil, fmt.Sprintf("its event %s (%s) says something else there", e.ID, e.Kind), err
		}
	}
	for _, e := range here {
		if find(f.events, e) == nil {
			onlyHere = append(onlyHere, e)
		}
	}
	return onlyHere, onlyThere, "", nil
}

// takeNew adds a batch that is not here.
func (w *Writer) takeNew(f *foreign) error {
	b := &batchRecord{}
	if err := b.replay(f.events); err != nil {
		return err
	}
	plan := b.Plan
	if err := w.takeFrozen(f, plan); err != nil {
		return err
	}
	at := plan.Created.Time()
	if f.id.millis() < millisOf(at) {
		return fault.Failuref("batch %s has an id from before it was created", f.id).Try("leave it out")
	}
	w.head.LagMS = max(w.head.LagMS, f.id.millis()-millisOf(at))
	var err error
	twin := false
	if plan.Number == "" { // only a row of a table may be without; its first event is the plan
		if f.events[0].Plan.Number, err = w.nextNumber(at.Year(), f.id); err != nil {
			return err
		}
	} else if twin, err = w.shareNumber(plan.Number, f.id); err != nil {
		return err
	}
	w.head.Batches++
	return w.adopt(&batchRecord{Twin: twin}, nil, f.events)
}

// takeFrozen stores the frozen recipe and sheet of a batch from elsewhere, or that
// they were lost there.
func (w *Writer) takeFrozen(f *foreign, plan planRecord) error {
	if f.recipeLost != nil {
		recipes, err := bucket(w.tx, recipesBucket)
		if err != nil {
			return err
		}
		if recipes.Get(plan.Recipe) == nil {
			err = putRecord(recipes, plan.Recipe, blobRecord{Length: len(f.recipeLost), Data: f.recipeLost, Lost: true})
		}
		if err != nil {
			return err
		}
	} else if w.frozen(plan.Recipe) {
		// It is here, under the digest of what it says.
	} else if key, err := w.freeze(f.recipe); err != nil {
		return err
	} else if !bytes.Equal(key, plan.Recipe) {
		return fmt.Errorf("%w: batch %s comes with another recipe than it was made from", errTangled, f.id)
	}
	if f.sheet == nil && plan.Sheet != nil && f.row == nil {
		sheets, err := bucket(w.tx, sheetsBucket)
		if err != nil {
			return err
		}
		return putRecord(sheets, f.id[:], blobRecord{Data: []byte{}, Lost: true})
	}
	digest, err := w.freezeSheet(f.id, f.sheet)
	if err == nil && !bytes.Equal(digest, plan.Sheet) {
		err = fmt.Errorf("%w: batch %s comes with another sheet than it was made from", errTangled, f.id)
	}
	return err
}

// adopt adds events from elsewhere to b. They keep their ids, times and words and
// get a place in the chain here.
func (w *Writer) adopt(b *batchRecord, here, events []*eventRecord) error {
	before, err := w.keysOf(b)
	if err != nil {
		return err
	}
	for _, e := range events {
		w.chain(e)
		if err := w.keep(e); err != nil {
			return err
		}
	}
	all := slices.Concat(here, events)
	slices.SortStableFunc(all, func(a, b *eventRecord) int { return a.ID.compare(b.ID) })
	again := batchRecord{Twin: b.Twin}
	if err := again.replay(all); err != nil {
		return err
	}
	return w.putBatch(&again, before)
}
