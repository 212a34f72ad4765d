package journal

import (
	"hepar/recipe/fault"
)

// Amend changes one field of a batch (see Fields) and keeps the value before
// and the reason, which is required. Value is as people write it: "71 C",
// "1 min 30 s", "48", "patchy=2, too-light=1"; the empty text clears a field
// that may be empty. The counts must fit one another after each amendment.
func (j *Journal) Amend(ref, field, value, reason, by string) (out Batch, err error) {
	err = j.change(func(w *Writer) error { out, err = w.Amend(ref, field, value, reason, by); return err })
	return out, err
}

// Amend is Journal.Amend within one transaction.
func (w *Writer) Amend(ref, field, value, reason, by string) (Batch, error) {
	b, err := w.begin(ref)
	if err != nil {
		return w.done(nil, err)
	}
	event, err := w.amendEvent(b, field, value, reason, by)
	if err == nil {
		err = w.append(b, event)
	}
	return w.done(b, err)
}

func (w *Writer) amendEvent(b *batchRecord, field, value, reason, by string) (*eventRecord, error) {
	text, err := canonical(field, value)
	if err != nil {
		return nil, err
	}
	if err := usable(b, "amended", Planned, Reviewed, Dipped, Logged); err != nil {
		return nil, err
	}
	old, err := b.field(field)
	if err != nil {
		return nil, err
	}
	if old == text {
		return nil, fault.Usagef("the %s of batch %s is %q already", field, b.Plan.Number, text).Try("look at the batch with 'hepar journal show %s'", b.Plan.Number)
	}
	trial := *b
	if err := trial.setField(field, text); err != nil {
		return nil, err
	}
	if err := trial.fits(); err != nil {
		return nil, err
	}
	e := &eventRecord{Batch: b.ID, Kind: Amended, Field: field, Old: old, New: text}
	return e, w.because(e, reason, by)
}

// Withdraw marks a batch as one that does not count: planned and never made, or
// entered by mistake. Nothing of it is deleted. The reason is required.
func (j *Journal) Withdraw(ref, reason, by string) (out Batch, err error) {
	err = j.change(func(w *Writer) error { out, err = w.Withdraw(ref, reason, by); return err })
	return out, err
}

// Withdraw is Journal.Withdraw within one transaction.
func (w *Writer) Withdraw(ref, reason, by string) (Batch, error) {
	b, err := w.begin(ref)
	if err != nil {
		return w.done(nil, err)
	}
	if err := usable(b, "withdrawn again", Planned, Reviewed, Dipped, Logged); err != nil {
		return w.done(nil, err)
	}
	e := &eventRecord{Batch: b.ID, Kind: WithdrawnEvent}
	if err = w.because(e, reason, by); err == nil {
		err = w.append(b, e)
	}
	return w.done(b, err)
}

// because puts the reason and the person into an event that must have a reason.
func (w *Writer) because(e *eventRecord, reason, by string) (err error) {
	if e.Reason, err = note("reason", reason); err != nil {
		return err
	}
	if e.Reason == "" {
		return fault.Usagef("no reason is given").Try("say in a few words why; it is kept with the batch")
	}
	e.By, err = line("name", w.j.person(by))
	return err
}

// done gives the batch of a change, without what is frozen, or remembers that the
// change failed.
func (w *Writer) done(b *batchRecord, err error) (Batch, error) {
	if err != nil {
		return Batch{}, w.fail(err)
	}
	out, err := w.public(b, detail{events: true})
	return out, w.fail(err)
}
