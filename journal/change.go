package journal

import (
	"time"

	"hepar/recipe/fault"
)

// What Create, LogNew, Review, Log, Amend and Withdraw give back is the batch as
// Get gives it, without the text of the recipe and the sheet.

// Create adds a planned batch. It reads Recipe, Alloy, Shape, Pieces, Spares,
// Sheet, By, Note and Created of b (zero Created means now) and gives the batch
// back with its id and number. The number counts within the year of Created at
// the bench and is never given out twice.
func (j *Journal) Create(b Batch) (out Batch, err error) {
	err = j.Update(func(w *Writer) error { out, err = w.Create(b); return err })
	return out, err
}

// Create is Journal.Create within one transaction.
func (w *Writer) Create(b Batch) (Batch, error) {
	record, event, err := w.plan(b)
	if err == nil {
		err = w.append(record, event)
	}
	return w.done(record, err)
}

// LogNew is LogNewWith without options.
func (j *Journal) LogNew(b Batch, r Result) (out Batch, err error) {
	err = j.Update(func(w *Writer) error { out, err = w.LogNew(b, r); return err })
	return out, err
}

// LogNew is Journal.LogNew within one transaction.
func (w *Writer) LogNew(b Batch, r Result) (Batch, error) { return w.LogNewWith(b, r, LogOptions{}) }

// LogNewWith adds a result without a saved sheet: a new batch, planned and logged
// in one. It reads what Create reads; the result counts as had at b.Created, by
// b.By, unless o says otherwise. There was no sheet to review, so there is no
// gate; a reason for that is kept where one is given.
func (j *Journal) LogNewWith(b Batch, r Result, o LogOptions) (out Batch, err error) {
	err = j.Update(func(w *Writer) error { out, err = w.LogNewWith(b, r, o); return err })
	return out, err
}

// LogNewWith is Journal.LogNewWith within one transaction.
func (w *Writer) LogNewWith(b Batch, r Result, o LogOptions) (Batch, error) {
	record, created, err := w.plan(b)
	if err != nil {
		return w.done(nil, err)
	}
	by, at := created.By, created.Plan.Created
	if o.By != "" {
		if by, err = line("name", o.By); err != nil {
			return w.done(nil, err)
		}
	}
	if !o.At.IsZero() {
		if err := cleanTime("result", o.At); err != nil {
			return w.done(nil, err)
		}
		at = stampOf(o.At)
	}
	logged, err := logEvent(created.Batch, r, by, at)
	if err != nil {
		return w.done(nil, err)
	}
	if logged.Reason, err = note("reason to go without a review", o.WithoutReview); err != nil {
		return w.done(nil, err)
	}
	trial := batchRecord{Plan: *created.Plan, Result: logged.Result}
	if err = trial.fits(); err == nil {
		err = w.append(record, created, logged)
	}
	return w.done(record, err)
}

// Review records that somebody has read the safety points of a batch and taken
// them on. It may be done again until the batch is logged.
func (j *Journal) Review(ref string, a Acknowledgement) (out Batch, err error) {
	err = j.change(func(w *Writer) error { out, err = w.Review(ref, a); return err })
	return out, err
}

// Review is Journal.Review within one transaction.
func (w *Writer) Review(ref string, a Acknowledgement) (Batch, error) {
	b, err := w.begin(ref)
	if err != nil {
		return w.done(nil, err)
	}
	event, err := w.reviewEvent(b, a)
	if err == nil {
		err = w.append(b, event)
	}
	return w.done(b, err)
}

func (w *Writer) reviewEvent(b *batchRecord, a Acknowledgement) (*eventRecord, error) {
	if err := usable(b, "reviewed", Planned, Reviewed, Dipped); err != nil {
		return nil, err
	}
	by, err := line("name of the reviewer", w.j.person(a.By))
	if err != nil {
		return nil, err
	}
	digest, err := line("digest of the recipe", a.Digest)
	if err != nil {
		return nil, err
	}
	if len(a.Points) > maxPoints {
		return nil, fault.Usagef("there are %d points in the review", len(a.Points)).Try("keep to %d", maxPoints)
	}
	points := make([]string, len(a.Points))
	for i, p := range a.Points {
		if points[i], err = line("code of a point", p); err != nil {
			return nil, err
		}
	}
	at := a.At
	if at.IsZero() {
		at = w.now
	}
	if err := cleanTime("review", at); err != nil {
		return nil, err
	}
	if err := w.notAhead("review", at); err != nil {
		return nil, err
	}
	review := &reviewRecord{By: by, At: stampOf(at), Digest: digest, Points: points}
	return &eventRecord{Batch: b.ID, Kind: ReviewedEvent, At: review.At, By: by, Review: review}, nil
}

// Log is LogWith without a reason to go without a review.
func (j *Journal) Log(ref string, r Result, by string, at time.Time) (out Batch, err error) {
	err = j.change(func(w *Writer) error { out, err = w.Log(ref, r, by, at); return err })
	return out, err
}

// Log is Journal.Log within one transaction.
func (w *Writer) Log(ref string, r Result, by string, at time.Time) (Batch, error) {
	return w.LogWith(ref, r, LogOptions{By: by, At: at})
}

// LogWith adds the result of a batch. A batch is logged once; Amend mends it
// after. The counts may not exceed the pieces and spares, nor the causes the
// pieces to rework and rejected. A batch that was dipped (see Dip) was gated then;
// any other must have been ready at o.At, see Ready, or there must be a reason.
func (j *Journal) LogWith(ref string, r Result, o LogOptions) (out Batch, err error) {
	err = j.change(func(w *Writer) error { out, err = w.LogWith(ref, r, o); return err })
	return out, err
}

// LogWith is Journal.LogWith within one transaction.
func (w *Writer) LogWith(ref string, r Result, o LogOptions) (Batch, error) {
	by, at := o.By, o.At
	b, err := w.begin(ref)
	if err != nil {
		return w.done(nil, err)
	}
	if err := usable(b, "logged again", Planned, Reviewed, Dipped); err != nil {
		return w.done(nil, err)
	}
	if at.IsZero() {
		at = w.now
	}
	if err := cleanTime("result", at); err != nil {
		return w.done(nil, err)
	}
	if by, err = line("name", w.j.person(by)); err != nil {
		return w.done(nil, err)
	}
	event, err := logEvent(b.ID, r, by, stampOf(at))
	if err != nil {
		return w.done(nil, err)
	}
	trial := batchRecord{Plan: b.Plan, Result: event.Result}
	if err = trial.fits(); err == nil {
		event.Reason, err = w.logGate(b, at, o.WithoutReview)
	}
	if err == nil {
		err = w.append(b, event)
	}
	return w.done(b, err)
}

func logEvent(batch id, r Result, by string, at stamp) (*eventRecord, error) {
	clean, err := r.clean()
	if err != nil {
		return nil, err
	}
	return &eventRecord{Batch: batch, Kind: LoggedEvent, At: at, By: by, Result: clean.record(at)}, nil
}

// plan makes the first event of a new batch, and draws its id and number.
func (w *Writer) plan(b Batch) (*batchRecord, *eventRecord, error) {
	plan, recipe, err := w.cleanPlan(b)
	if err != nil {
		return nil, nil, err
	}
	w.now = w.j.now()
	created, batch := w.now, idAfter(w.head.LastID, w.now)
	if b.Created.IsZero() {
		w.head.LastID = batch
	} else {
		// An entry about the past takes its place in the past.
		created = b.Created
		if err := cleanTime("batch", created); err != nil {
			return nil, nil, err
		}
		batch = idAt(created)
	}
	plan.Created = stampOf(created)
	if ahead := batch.millis() - min(batch.millis(), millisOf(created)); ahead > w.head.LagMS {
		w.head.LagMS = ahead
	}
	if plan.Number, err = w.nextNumber(created.Year(), batch); err != nil {
		return nil, nil, err
	}
	if plan.Recipe, err = w.freeze(recipe); err != nil {
		return nil, nil, err
	}
	if plan.Sheet, err = w.freezeSheet(batch, b.Sheet); err != nil {
		return nil, nil, err
	}
	w.head.Batches++
	return &batchRecord{}, &eventRecord{Batch: batch, Kind: Created, At: plan.Created, By: plan.By, Plan: plan}, nil
}

func (w *Writer) cleanPlan(b Batch) (plan *planRecord, recipe recipeContent, err error) {
	plan = &planRecord{Pieces: b.Pieces, Spares: b.Spares}
	recipe = recipeContent{Revision: b.Recipe.Revision, Text: b.Recipe.Text}
	if err := count("pieces", b.Pieces, 1); err != nil {
		return nil, recipe, err
	}
	if err := count("spares", b.Spares, 0); err != nil {
		return nil, recipe, err
	}
	for _, f := range []struct {
		what string
		from string
		to   *string
	}{
		{"name of the recipe", b.Recipe.Slug, &recipe.Slug},
		{"title of the recipe", b.Recipe.Title, &recipe.Title},
		{"kind of the recipe", b.Recipe.Kind, &recipe.Kind},
		{"digest of the recipe", b.Recipe.Digest, &recipe.Digest},
		{"alloy", b.Alloy, &plan.Alloy},
		{"shape", b.Shape, &plan.Shape},
		{"name", w.j.person(b.By), &plan.By},
	} {
		if *f.to, err = line(f.what, f.from); err != nil {
			return nil, recipe, err
		}
	}
	if plan.Note, err = note("note", b.Note); err != nil {
		return nil, recipe, err
	}
	switch {
	case recipe.Slug == "":
		return nil, recipe, fault.Usagef("the batch names no recipe").Try("name the recipe it is made by")
	}
	return plan, recipe, cleanFrozen(recipe.Text, b.Sheet)
}
