package journal

import (
	"fmt"

	"hepar/recipe/fault"
)

// What AddContainer, ChangeContainer, Use and Empty give back is the container as
// Journal.Container gives it.

// AddContainer puts a container on the shelf and gives it a number. It needs the
// substance and the amount as received, in g or in mL; nothing left means that it
// is full. ID, Number, Added, Emptied, ObservedAt and Events of c are not read.
func (j *Journal) AddContainer(c Container) (out Container, err error) {
	err = j.Update(func(w *Writer) error { out, err = w.AddContainer(c); return err })
	return out, err
}

// AddContainer is Journal.AddContainer within one transaction.
func (w *Writer) AddContainer(c Container) (Container, error) {
	w.now = w.j.now()
	record, err := w.cleanContainer(c)
	if err != nil {
		return w.doneStock(nil, err)
	}
	record.ID = idAfter(w.head.LastID, w.now)
	w.head.LastID = record.ID
	w.head.Container++
	w.head.Containers++
	record.Number = containerNumber(w.head.Container)
	if w.numbers.Get([]byte(record.Number)) != nil {
		return w.doneStock(nil, fmt.Errorf("%w: the number %s is taken already", errTangled, record.Number))
	}
	if err := w.numbers.Put([]byte(record.Number), record.ID[:]); err != nil {
		return w.doneStock(nil, err)
	}
	added := &containerRecord{}
	err = w.appendStock(added, &eventRecord{Batch: record.ID, Kind: StockAdded, By: record.By, Stock: record})
	return w.doneStock(added, err)
}

func (w *Writer) cleanContainer(c Container) (*containerRecord, error) {
	out := &containerRecord{Added: stampOf(w.now), Unit: unitGrams, Amount: float64(c.AmountG), Left: float64(c.LeftG)}
	grams, ml := c.AmountG != 0 || c.LeftG != 0, c.AmountML != 0 || c.LeftML != 0
	switch {
	case grams && ml:
		return nil, fault.Usagef("the container has an amount in g and one in mL").Try("give the one it is used by")
	case ml:
		out.Unit, out.Amount, out.Left = unitML, c.AmountML, c.LeftML
	}
	if err := within("amount", out.Unit, &out.Amount, 1e-6, mostInContainer); err != nil {
		return nil, err
	}
	if err := within("amount left", out.Unit, &out.Left, 0, out.Amount); err != nil {
		return nil, err
	}
	out.Amount, out.Left = tidy(out.Amount), tidy(out.Left)
	if out.Left == 0 {
		out.Left = out.Amount
	}
	for _, f := range []struct{ name, text string }{
		{fieldSubstance, c.Substance}, {"form", c.Form}, {fieldLot, c.Lot}, {"supplier", c.Supplier}, {"received", string(c.Received)},
		{"opened", string(c.Opened)}, {"expires", string(c.Expires)}, {fieldObserved, c.Observed}, {"sds", c.SDS.Place},
		{"sds-revised", string(c.SDS.Revised)}, {"sds-looked-at", string(c.SDS.LookedAt)}, {"place", c.Place}, {"note", c.Note},
	} {
		text, err := out.canonical(f.name, f.text)
		if err == nil && text != "" {
			err = out.setField(f.name, text, out.Added)
		}
		if err != nil {
			return nil, err
		}
	}
	var err error
	out.By, err = line("name", w.j.person(c.By))
	return out, err
}

// ChangeContainer changes one field of a container (see StockFields) and keeps the
// value before. Value is as people write it: "250 g", "2026-03-09", "pale". A
// correction of what was received, or of what is left, needs a reason; opening,
// looking and moving need none. A new lot or substance is amended in the batches
// that used the container as well, with an event in each. What is left, set above
// nothing, puts an emptied container back to use.
func (j *Journal) ChangeContainer(ref, field, value, reason, by string) (out Container, err error) {
	err = j.change(func(w *Writer) error { out, err = w.ChangeContainer(ref, field, value, reason, by); return err })
	return out, err
}

// ChangeContainer is Journal.ChangeContainer within one transaction.
func (w *Writer) ChangeContainer(ref, field, value, reason, by string) (Container, error) {
	w.now = w.j.now()
	c, err := w.container(ref)
	if err != nil {
		return w.doneStock(nil, err)
	}
	text, err := c.canonical(field, value)
	if err != nil {
		return w.doneStock(nil, err)
	}
	old, _ := c.field(field)
	if old == text && field != fieldObserved { // to see the same again is news
		return w.doneStock(nil, fault.Usagef("the %s of %s is %q already", field, c.Number, text).Try("nothing is left to do"))
	}
	if field == fieldLeft || field == fieldAmount {
		trial := *c
		if err := trial.setField(field, text, stamp{}); err != nil {
			return w.doneStock(nil, err)
		}
		if trial.Left > trial.Amount || trial.Amount == 0 {
			return w.doneStock(nil, fault.Usagef("%s would have %s left of %s", c.Number, amountText(trial.Left, c.Unit), amountText(trial.Amount, c.Unit)).
				Try("put the amount received right before what is left, or add the rest as a container of its own"))
		}
	}
	e := &eventRecord{Batch: c.ID, Kind: StockChanged, Field: field, Old: old, New: text}
	if needsReason(field) && old != "" || reason != "" {
		err = w.because(e, reason, by)
	} else {
		e.By, err = line("name", w.j.person(by))
	}
	if err == nil {
		err = w.appendStock(c, e)
	}
	if err == nil && (field == fieldLot || field == fieldSubstance) {
		err = w.amendUses(c, e)
	}
	return w.doneStock(c, err)
}

// amendUses amends the batches that used a container whose lot or substance was
// put right.
func (w *Writer) amendUses(c *containerRecord, change *eventRecord) error {
	seen := map[id]bool{}
	for _, seq := range c.Events {
		e, err := w.event(seq)
		if err != nil {
			return err
		}
		if e.Kind != StockUsed || e.For == nil || seen[*e.For] {
			continue
		}
		seen[*e.For] = true
		b, err := w.batch(*e.For)
		if err != nil {
			return err
		}
		amended := &eventRecord{
			Batch: b.ID, Kind: Amended, Container: &c.ID, Field: change.Field, Old: change.Old, New: change.New, Reason: change.Reason, By: change.By,
		}
		if err := w.append(b, amended); err != nil {
			return err
		}
	}
	return nil
}

// Empty marks a container as empty: used up, spent, thrown out. What was left goes
// to nothing; the reason is kept where one is given.
func (j *Journal) Empty(ref, reason, by string) (out Container, err error) {
	err = j.change(func(w *Writer) error { out, err = w.Empty(ref, reason, by); return err })
	return out, err
}

// Empty is Journal.Empty within one transaction.
func (w *Writer) Empty(ref, reason, by string) (Container, error) {
	w.now = w.j.now()
	c, err := w.container(ref)
	if err != nil {
		return w.doneStock(nil, err)
	}
	if c.Emptied != nil {
		return w.doneStock(nil, fault.Failuref("container %s is empty already", c.Number).Try("nothing is left to do"))
	}
	e := &eventRecord{Batch: c.ID, Kind: StockEmptied, Field: fieldLeft, Old: amountText(c.Left, c.Unit), New: amountText(0, c.Unit)}
	if e.Reason, err = note("reason", reason); err == nil {
		e.By, err = line("name", w.j.person(by))
	}
	if err == nil {
		err = w.appendStock(c, e)
	}
	return w.doneStock(c, err)
}

func (w *Writer) doneStock(c *containerRecord, err error) (Container, error) {
	if err != nil {
		return Container{}, w.fail(err)
	}
	out, err := w.publicContainer(c)
	return out, w.fail(err)
}
