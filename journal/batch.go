package journal

import (
	"bytes"
	"encoding/json"
	"errors"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"hepar/journal/internal/record"
	"hepar/recipe/bath/run"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// Gate is what is said where work goes on that should have been reviewed.
type Gate struct {
	// WithoutReview is the reason to go on although there is no valid review. It
	// is kept in the event. Empty means there is none.
	WithoutReview string
}

// LogOptions is what Log and LogNew may be told beyond the result.
type LogOptions struct {
	By            string    // who did it; empty means the person of the options of the journal
	At            time.Time // when the result was had; zero means now
	WithoutReview string    // see Gate
}

// Create adds a planned batch and returns it with its id and number. A zero
// Created means now; Number and the digests of p are not read. Sheet is the frozen
// sheet as JSON, nil if there is none. The number counts within the year of Created
// at the bench.
func (j *Journal) Create(p Plan, sheet []byte) (Batch, error) {
	return change(j, true, func(tx *Tx) (Batch, error) { return tx.Create(p, sheet) })
}

// Create is Journal.Create within one transaction.
func (tx *Tx) Create(p Plan, sheet []byte) (Batch, error) {
	e, err := tx.plan(p, sheet)
	if err != nil {
		return Batch{}, err
	}
	return tx.batch(e)
}

// plan makes the event that plans a batch.
func (tx *Tx) plan(p Plan, sheet []byte) (*Event, error) {
	at := tx.Now
	if !p.Created.IsZero() {
		at = p.Created.Time()
	}
	if err := record.Year("batch", at); err != nil {
		return nil, err
	}
	e, err := tx.event(tx.NewBatchID(at), record.Created, p.By, at)
	if err != nil {
		return nil, err
	}
	p.Created, p.By, p.TextSHA, p.SheetSHA = e.At, e.By, nil, nil
	for what, text := range map[string]*string{"name of the recipe": &p.Slug, "title of the recipe": &p.Title, "kind of the recipe": &p.Kind,
		"digest of the recipe": &p.Digest, "metal": &p.Alloy, "shape": &p.Shape} {
		if *text, err = record.Line(what, *text); err != nil {
			return nil, err
		}
	}
	if p.Order, err = record.Note("order", p.Order); err != nil {
		return nil, err
	}
	if err := cleanFrozen(p.Text, sheet); err != nil {
		return nil, err
	}
	if p.Text != "" {
		if p.TextSHA, err = tx.PutBlob([]byte(p.Text)); err != nil {
			return nil, err
		}
	}
	if sheet != nil {
		var plain bytes.Buffer // an export writes it without spaces, and its digest must fit
		if err := json.Compact(&plain, sheet); err != nil {
			return nil, err
		}
		if p.SheetSHA, err = tx.PutBlob(plain.Bytes()); err != nil {
			return nil, err
		}
	}
	p.Number, p.Text = tx.NextNumber(strconv.Itoa(at.Year())), ""
	e.Plan = &p
	return e, nil
}

// cleanFrozen refuses a recipe or a sheet that could be frozen and not be exported.
func cleanFrozen(recipe string, sheet []byte) error {
	switch {
	case len(recipe) > record.MaxText:
		return fault.Usagef("the recipe is %d bytes long", len(recipe)).Try("keep a recipe to %d KiB", record.MaxText>>10)
	case !utf8.ValidString(recipe) || strings.ContainsRune(recipe, 0):
		return fault.Usagef("the text of the recipe is not valid UTF-8, or holds the character zero").Try("write it again as plain text")
	case len(sheet) > record.MaxSheet:
		return fault.Usagef("the sheet is %d bytes long", len(sheet)).Try("keep a sheet to %d MiB", record.MaxSheet>>20)
	case len(sheet) > 0 && (!json.Valid(sheet) || !utf8.Valid(sheet)):
		return fault.Usagef("the sheet is not JSON").Try("freeze the sheet as it was printed with --json")
	}
	return nil
}

// Review records that somebody went through the safety points of a batch. It may be
// done again until the batch is logged. By and At default to the person of the
// options and now.
func (j *Journal) Review(ref string, r Review) (Batch, error) {
	return change(j, false, func(tx *Tx) (Batch, error) { return tx.Review(ref, r) })
}

// Review is Journal.Review within one transaction.
func (tx *Tx) Review(ref string, r Review) (Batch, error) {
	b, err := tx.begin(ref, "reviewed", Planned, Reviewed, Dipped)
	if err != nil {
		return Batch{}, err
	}
	at := r.At.Time()
	if err := tx.notAhead("review", at); err != nil {
		return Batch{}, err
	}
	e, err := tx.event(b.ID, record.Reviewed, r.By, at)
	if err != nil {
		return Batch{}, err
	}
	r.By, r.At = e.By, e.At
	e.Review = &r
	return tx.batch(e)
}

// notAhead refuses a time that the clock has not reached, with which a review
// could be made to last longer.
func (tx *Tx) notAhead(what string, at time.Time) error {
	if at.Sub(tx.Now) > record.Slack {
		return fault.Usagef("the time of the %s, %s, is ahead of the clock", what, at.Format("2006-01-02 15:04")).
			Try("give the time it was, or set the clock right")
	}
	return nil
}

// Dip records loads of a batch, and books what they used off the shelf, all or
// nothing. A load without a number gets the next; the Number of a use names its
// container. The gate is looked at for d.Started (zero means now). It may be called
// again until the batch is logged, which adds loads.
func (j *Journal) Dip(ref string, d Dip, uses []Use, g Gate) (Batch, error) {
	return change(j, false, func(tx *Tx) (Batch, error) { return tx.Dip(ref, d, uses, g) })
}

// Dip is Journal.Dip within one transaction.
func (tx *Tx) Dip(ref string, d Dip, uses []Use, g Gate) (Batch, error) {
	b, err := tx.begin(ref, "dipped", Planned, Reviewed, Dipped)
	if err != nil {
		return Batch{}, err
	}
	at := d.Started.Time()
	if at.IsZero() {
		at = tx.Now
	}
	if err := tx.notAhead("dip", at); err != nil {
		return Batch{}, err
	}
	e, err := tx.event(b.ID, record.Dipped, d.By, at)
	if err != nil {
		return Batch{}, err
	}
	if e.Reason, err = gate(b, at, g.WithoutReview); err != nil {
		return Batch{}, err
	}
	d.By, d.Started = e.By, e.At
	if d.Loads, err = numberLoads(b, d.Loads); err != nil {
		return Batch{}, err
	}
	e.Dip = &d
	if e.Uses, err = tx.take(uses); err != nil {
		return Batch{}, err
	}
	out, err := tx.batch(e)
	if err != nil {
		return Batch{}, err
	}
	return out, tx.bookOff(b.ID, e.By, e.Uses)
}

// Bench writes down one thing that was done at the bench. An entry that is there already
// (by its key) changes nothing. A zero At of the entry means now; an earlier one, as of a
// tablet that was out of reach, is kept beside the clock. The gate is looked at for that
// time. It returns an error of kind Usage if the entry cannot follow those before it: a
// load that somebody else wrote down.
func (j *Journal) Bench(ref string, entry run.Entry, g Gate) (Batch, error) {
	return change(j, false, func(tx *Tx) (Batch, error) { return tx.Bench(ref, entry, g) })
}

// Bench is Journal.Bench within one transaction.
func (tx *Tx) Bench(ref string, entry run.Entry, g Gate) (Batch, error) {
	b, err := tx.begin(ref, "dipped", Planned, Reviewed, Dipped)
	if err != nil {
		return Batch{}, err
	}
	log := run.Replay(b.Bench)
	if log.Has(entry.Key) {
		return *b, nil
	}
	if entry.Note, err = record.Note("note", entry.Note); err != nil {
		return Batch{}, err
	}
	if err := log.Check(entry); err != nil {
		return Batch{}, err
	}
	if (entry.Do == run.In || entry.Do == run.Out) && entry.Pieces > b.Made() {
		return Batch{}, fault.Usagef("load %d is of %d pieces and batch %s has %d, spares included", entry.Load, entry.Pieces, b.Number, b.Made()).Try("count again")
	}
	at := entry.At
	if at.IsZero() {
		at = tx.Now
	}
	if err := tx.notAhead("entry", at); err != nil {
		return Batch{}, err
	}
	e, err := tx.event(b.ID, record.Bench, entry.By, at)
	if err != nil {
		return Batch{}, err
	}
	if e.Reason, err = gate(b, at, g.WithoutReview); err != nil {
		return Batch{}, err
	}
	if e.Reason == b.WithoutReview {
		e.Reason = "" // it is kept already
	}
	e.Bench = &entry
	return tx.batch(e)
}

// gate refuses work on a batch that has no valid review, unless there is a reason.
func gate(b *Batch, at time.Time, reason string) (string, error) {
	reason, err := record.Note("reason to go without a review", reason)
	if err != nil || reason != "" {
		return reason, err
	}
	return "", b.Ready(at)
}

// numberLoads gives new loads of a batch their numbers and cleans their notes.
func numberLoads(b *Batch, loads []Load) ([]Load, error) {
	next := 1
	if b.Dip != nil {
		for _, l := range b.Dip.Loads {
			next = max(next, l.Number+1)
		}
	}
	loads = slices.Clone(loads)
	for i := range loads {
		if loads[i].Number == 0 {
			loads[i].Number = next
		}
		next = max(next, loads[i].Number+1)
		var err error
		if loads[i].Note, err = record.Note("note of a load", loads[i].Note); err != nil {
			return nil, err
		}
	}
	return loads, nil
}

// Log adds the result of a batch. A batch is logged once; Amend corrects it. The
// counts may not exceed pieces and spares, nor the causes the pieces to rework and
// rejected. A batch that was dipped passed the gate then; any other must have had a
// valid review at o.At, or there must be a reason.
func (j *Journal) Log(ref string, r Result, o LogOptions) (Batch, error) {
	return change(j, false, func(tx *Tx) (Batch, error) { return tx.Log(ref, r, o) })
}

// Log is Journal.Log within one transaction.
func (tx *Tx) Log(ref string, r Result, o LogOptions) (Batch, error) {
	b, err := tx.begin(ref, "logged again", Planned, Reviewed, Dipped)
	if err != nil {
		return Batch{}, err
	}
	e, err := tx.result(b.ID, r, o.By, o.At)
	if err != nil {
		return Batch{}, err
	}
	if b.Dip != nil {
		e.Reason, err = record.Note("reason to go without a review", o.WithoutReview)
	} else if e.Reason, err = gate(b, e.At.Time(), o.WithoutReview); err != nil {
		var refusal *fault.Error
		if errors.As(err, &refusal) && refusal.Kind == fault.Safety {
			err = refusal.Try("not run yet: hepar review %s; run within a day of its review: log it with the time, --at; run without one: say why, --without-review", b.Number)
		}
	}
	if err != nil {
		return Batch{}, err
	}
	return tx.batch(e)
}

// result makes the event that logs a result.
func (tx *Tx) result(of ID, r Result, by string, at time.Time) (*Event, error) {
	e, err := tx.event(of, record.Logged, by, at)
	if err != nil {
		return nil, err
	}
	causes := map[string]int{}
	for name, n := range r.Causes {
		clean, err := record.CauseName(name)
		if err != nil {
			return nil, err
		}
		causes[clean] += n
	}
	r.Causes = causes
	if len(causes) == 0 {
		r.Causes = nil
	}
	b := &Batch{Result: &r}
	for _, f := range record.Fields() {
		if !f.OfResult {
			continue
		}
		fixed, err := f.Parse(f.Get(b))
		if err == nil {
			err = f.Set(b, fixed)
		}
		if err != nil {
			return nil, err
		}
	}
	r.Logged = e.At
	e.Result = &r
	return e, nil
}

// LogNew adds a result without a saved sheet: a new batch, planned and logged in
// one. The result counts as had at p.Created, by p.By, unless o says otherwise.
// There was no sheet to review; a reason for that is kept if one is given.
func (j *Journal) LogNew(p Plan, r Result, o LogOptions) (Batch, error) {
	return change(j, true, func(tx *Tx) (Batch, error) { return tx.LogNew(p, r, o) })
}

// LogNew is Journal.LogNew within one transaction.
func (tx *Tx) LogNew(p Plan, r Result, o LogOptions) (Batch, error) {
	planned, err := tx.plan(p, nil)
	if err != nil {
		return Batch{}, err
	}
	if o.By == "" {
		o.By = planned.By
	}
	if o.At.IsZero() {
		o.At = planned.At.Time()
	}
	logged, err := tx.result(planned.Of, r, o.By, o.At)
	if err != nil {
		return Batch{}, err
	}
	if logged.Reason, err = record.Note("reason to go without a review", o.WithoutReview); err != nil {
		return Batch{}, err
	}
	return tx.batch(planned, logged)
}

// Amend corrects one field of a batch (see Fields) and keeps the value before and
// the reason, which is required. Value is as people write it: "71 C", "48",
// "patchy=2"; the empty text clears a field that may be empty.
func (j *Journal) Amend(ref, field, value, reason, by string) (Batch, error) {
	return change(j, false, func(tx *Tx) (Batch, error) { return tx.Amend(ref, field, value, reason, by) })
}

// Amend is Journal.Amend within one transaction.
func (tx *Tx) Amend(ref, field, value, reason, by string) (Batch, error) {
	b, err := tx.begin(ref, "amended", Planned, Reviewed, Dipped, Logged)
	if err != nil {
		return Batch{}, err
	}
	f, ok := FieldNamed(field)
	if !ok {
		return Batch{}, fault.Usagef("a batch has no field %q to amend", measure.Clean(field)).Try("name one of %s", strings.Join(FieldNames(), ", "))
	}
	if f.OfResult && b.Result == nil {
		return Batch{}, fault.Failuref("batch %s has no result yet, so its %s cannot be amended", b.Number, f.Label).Try("log the batch first")
	}
	fixed, err := f.Parse(value)
	if err != nil {
		return Batch{}, err
	}
	e, err := tx.reasoned(b.ID, record.Amended, reason, by)
	if err != nil {
		return Batch{}, err
	}
	e.Field, e.Old, e.New = field, f.Get(b), fixed
	if e.Old == e.New {
		return Batch{}, fault.Usagef("batch %s already has %q as its %s", b.Number, fixed, f.Label).Try("nothing is left to do")
	}
	return tx.batch(e)
}

// reasoned begins an event whose reason is required.
func (tx *Tx) reasoned(of ID, kind, reason, by string) (*Event, error) {
	e, err := tx.event(of, kind, by, time.Time{})
	if err != nil {
		return nil, err
	}
	if e.Reason, err = record.Note("reason", reason); err == nil && e.Reason == "" {
		err = fault.Usagef("--reason is required").Try("say why: --reason \"counted again under the lamp\" or \"order cancelled\"")
	}
	return e, err
}

// Withdraw marks a batch as one that does not count: planned and never made, or
// entered by mistake. Nothing of it is deleted. The reason is required.
func (j *Journal) Withdraw(ref, reason, by string) (Batch, error) {
	return change(j, false, func(tx *Tx) (Batch, error) { return tx.Withdraw(ref, reason, by) })
}

// Withdraw is Journal.Withdraw within one transaction.
func (tx *Tx) Withdraw(ref, reason, by string) (Batch, error) {
	b, err := tx.begin(ref, "withdrawn", Planned, Reviewed, Dipped, Logged)
	if err != nil {
		return Batch{}, err
	}
	e, err := tx.reasoned(b.ID, record.Withdrawn, reason, by)
	if err != nil {
		return Batch{}, err
	}
	return tx.batch(e)
}

// SignOff records that a second person has looked through the record of a logged
// batch. It refuses whoever logged or amended it, and a batch that is signed off
// and was not amended since.
func (j *Journal) SignOff(ref, by, note string) (Batch, error) {
	return change(j, false, func(tx *Tx) (Batch, error) { return tx.SignOff(ref, by, note) })
}

// SignOff is Journal.SignOff within one transaction.
func (tx *Tx) SignOff(ref, by, note string) (Batch, error) {
	b, err := tx.begin(ref, "signed off", Logged)
	if err != nil {
		return Batch{}, err
	}
	if b.SignOff != nil && !b.SignOff.AmendedSince {
		return Batch{}, fault.Failuref("batch %s is already signed off by %s", b.Number, b.SignOff.By).
			Try("nothing is left to do; only an amendment makes room for another")
	}
	e, err := tx.event(b.ID, record.SignedOff, by, time.Time{})
	if err != nil {
		return Batch{}, err
	}
	if e.By == "" {
		return Batch{}, fault.Usagef("--by is required").Try("name the second person")
	}
	if e.Note, err = record.Note("note", note); err != nil {
		return Batch{}, err
	}
	others := false
	for _, had := range b.Events {
		same := record.Fold(had.By) == record.Fold(e.By)
		if (had.Kind == record.Logged || had.Kind == record.Amended) && same {
			return Batch{}, fault.Failuref("batch %s was %s by %s, who cannot sign it off as well", b.Number, had.Kind, had.By).
				Try("let a second person look through it and sign with a name of their own")
		}
		others = others || had.By != "" && !same
	}
	if !others {
		return Batch{}, fault.Failuref("nobody else is named in the record of batch %s, so nobody can be its second person", b.Number).
			Try("name who did the work with --by when it is logged")
	}
	return tx.batch(e)
}
