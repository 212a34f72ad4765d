package journal

import (
	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// Use books an amount off a container. Batch (number or id) is the batch it went
// into, whose record then names the container and its lot; empty means none: a
// test, a spill. What a batch took when it was dipped is booked by Dip.
func (j *Journal) Use(u Use, batch, by string) (out Container, err error) {
	err = j.change(func(w *Writer) error { out, err = w.Use(u, batch, by); return err })
	return out, err
}

// Use is Journal.Use within one transaction.
func (w *Writer) Use(u Use, batch, by string) (Container, error) {
	w.now = w.j.now()
	by, err := line("name", w.j.person(by))
	if err != nil {
		return w.doneStock(nil, err)
	}
	used, err := w.take([]Use{u})
	if err != nil {
		return w.doneStock(nil, err)
	}
	var b *batchRecord
	if batch != "" {
		if b, err = w.find(batch); err == nil {
			err = usable(b, "given anything", Planned, Reviewed, Dipped, Logged)
		}
		if err == nil && len(b.Used) >= maxLoads {
			err = fault.Usagef("batch %s has used %d containers", b.Plan.Number, len(b.Used)).Try("keep to %d", maxLoads)
		}
		if err == nil {
			err = w.append(b, &eventRecord{Batch: b.ID, Kind: UsedEvent, By: by, Used: used})
		}
	}
	switch {
	case err != nil:
	case b != nil:
		err = w.bookOff(b.ID, by, used)
	default:
		err = w.bookOff(id{}, by, used)
	}
	if err != nil {
		return w.doneStock(nil, err)
	}
	c, err := w.containerByID(used[0].Container)
	return w.doneStock(c, err)
}

// take looks up what is to be used and checks that it is there.
func (w *Writer) take(uses []Use) ([]usedRecord, error) {
	if len(uses) > maxLoads {
		return nil, fault.Usagef("there are %d containers", len(uses)).Try("keep to %d", maxLoads)
	}
	var out []usedRecord
	for _, u := range uses {
		c, err := w.container(u.Container)
		if err != nil {
			return nil, err
		}
		r := usedRecord{Container: c.ID, Substance: c.Substance, Lot: c.Lot, Amount: float64(u.Grams), Unit: unitGrams}
		if u.ML != 0 {
			r.Amount, r.Unit = u.ML, unitML
		}
		if u.Grams != 0 && u.ML != 0 || r.Unit != c.Unit {
			return nil, fault.Usagef("container %s is counted in %s", c.Number, c.Unit).Try("give what was taken in %s alone", c.Unit)
		}
		if err := within("amount taken from "+c.Number, c.Unit, &r.Amount, 1e-6, mostInContainer); err != nil {
			return nil, err
		}
		r.Amount = tidy(r.Amount)
		out = append(out, r)
	}
	return out, nil
}

// bookOff takes what was used off the containers, for a batch or, with no id, for none.
func (w *Writer) bookOff(batch id, by string, used []usedRecord) error {
	for _, u := range used {
		c, err := w.containerByID(u.Container) // anew each time: one may be named twice
		if err != nil {
			return err
		}
		if c.Emptied != nil {
			return fault.Failuref("container %s is empty", c.Number).Try("name the one it was taken from; or set what is left of %s first", c.Number)
		}
		left := tidy(c.Left - u.Amount)
		if left < 0 {
			return fault.Failuref("%s is more than the %s left in %s", amountText(u.Amount, u.Unit), amountText(c.Left, c.Unit), c.Number).
				Try("weigh what is left and set it first: hepar stock change %s left", c.Number)
		}
		e := &eventRecord{
			Batch: c.ID, Kind: StockUsed, By: by, Field: fieldLeft, Old: amountText(c.Left, c.Unit), New: amountText(left, c.Unit), Used: []usedRecord{u},
		}
		if batch != (id{}) {
			e.For = &batch
		}
		if err := w.appendStock(c, e); err != nil {
			return err
		}
	}
	return nil
}

// use gives what was taken as callers see it.
func (r *reader) use(u usedRecord) (Use, error) {
	name, err := r.containerName(u.Container)
	if err != nil {
		return Use{}, err
	}
	out := Use{Container: name, ContainerID: u.Container.String(), Substance: u.Substance, Lot: u.Lot}
	if u.Unit == unitML {
		out.ML = u.Amount
	} else {
		out.Grams = measure.Grams(u.Amount)
	}
	return out, nil
}

// containerName gives the number of a container, or its id where it stands on the
// shelf of another bench, whose batches were merged into this journal.
func (r *reader) containerName(i id) (string, error) {
	containers, err := bucket(r.tx, containersBucket)
	if err != nil {
		return "", err
	}
	if containers.Get(i[:]) == nil {
		return i.String(), nil
	}
	c, err := r.containerByID(i)
	if err != nil {
		return "", err
	}
	return c.Number, nil
}
