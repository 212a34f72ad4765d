package journal

import (
	"slices"
	"strings"
	"time"

	"hepar/journal/internal/record"
	"hepar/journal/internal/store"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// ContainerFilter says which containers to list. Its zero value is all that are not empty.
type ContainerFilter struct {
	Substance string // in any case of letters
	Lot       string // likewise
	Empty     bool   // those that are empty as well
}

// AddContainer puts a container on the shelf and gives it a number. Nothing left means that it is full.
func (v Verbs) AddContainer(p ContainerPlan, by string) (Container, error) {
	return change(v, true, func(tx *Tx) Container {
		p.Number = tx.NextNumber("S")
		if p.Left == 0 {
			p.Left = p.Amount
		}
		p.Amount, p.Left = record.Tidy(p.Amount), record.Tidy(p.Left)
		fault.Need(p.Amount > 0, fault.Usagef("the jar holds nothing").Try("give the amount as received, as in 500g"))
		fault.Need(p.Left <= p.Amount, fault.Usagef("more is left in the jar than it held").
			Try("give the amount received and the amount left"))
		e := tx.event(tx.NewID(), record.StockAdded, by, time.Time{})
		e.Container = &p
		return written[Container](tx, e)
	})
}

// Container reads one container. Ref is its number ("S-012", "s-12", "12") or the beginning of its id.
func (j *Journal) Container(ref string) (Container, error) {
	return look(j, func(tx *Tx) Container { return *tx.container(ref) })
}

// ListContainers returns the containers of f with their events, in the order they were added.
func (j *Journal) ListContainers(f ContainerFilter) ([]Container, error) {
	return look(j, func(tx *Tx) (all []Container) {
		for id := range tx.Under(record.AllContainers, ID{}, store.Highest, false) {
			c := tx.Container(id)
			if (f.Substance == "" || record.Fold(f.Substance) == record.Fold(c.Substance)) &&
				(f.Lot == "" || record.Fold(f.Lot) == record.Fold(c.Lot)) && (f.Empty || !c.Empty()) {
				all = append(all, *c)
			}
		}
		return all
	})
}

// ChangeContainer changes one field of a container (see StockFields) and keeps the value before; some need a reason. A new
// lot or substance is amended in the batches that used it as well. An amount left puts an emptied one back to use.
func (v Verbs) ChangeContainer(ref, field, value, reason, by string) (Container, error) {
	return change(v, false, func(tx *Tx) Container {
		c := tx.container(ref)
		f, ok := Named(StockFields(), field)
		fault.Need(ok, fault.Usagef("a jar has no field %q", measure.Clean(field)).
			Try("name one of %s", strings.Join(Names(StockFields()), ", ")))
		e := tx.event(c.ID, record.StockChanged, by, time.Time{})
		correct(e, c, f, "jar "+c.Number, value)
		e.Reason = strings.TrimSpace(reason)
		fault.Need(e.Reason != "" || !f.NeedsReason || e.Old == "",
			fault.Usagef("--reason is required to correct the %s of jar %s", f.Label, c.Number).Try("give the reason"))
		out := written[Container](tx, e)
		if field == "lot" || field == "substance" {
			used := tx.Under(record.Key{Tag: record.ByContainer, Value: c.ID.String()}, ID{}, store.Highest, false)
			for _, id := range slices.Collect(used) {
				too := *e
				too.ID, too.Of, too.Kind, too.For = tx.NewID(), id, record.Amended, c.ID
				written[Batch](tx, &too)
			}
		}
		return out
	})
}

// Use books an amount off a container, for a batch or none (a test, a spill). The batch then names container and lot.
func (v Verbs) Use(u Use, batch, by string) (Container, error) {
	return change(v, false, func(tx *Tx) Container {
		c := tx.container(u.Number)
		fault.Need(u.Unit == c.Unit, fault.Usagef("jar %s is counted in %s", c.Number, c.Unit).Try("give the amount in %s", c.Unit))
		u = Use{Container: c.ID, Number: c.Number, Substance: c.Substance, Lot: c.Lot, Amount: record.Tidy(u.Amount), Unit: c.Unit}
		fault.Check(u.Check())
		fault.Need(!c.Empty(), fault.Failuref("jar %s is empty", c.Number).
			Try("name the one it was taken from, or correct the amount left in %s first", c.Number))
		left := record.Tidy(c.Left - u.Amount)
		fault.Need(left >= 0, fault.Failuref("%s is more than the %s left in %s", u.Text(), record.AmountText(c.Left, c.Unit), c.Number).
			Try("weigh what is left and correct it first: hepar stock change %s left=...", c.Number))
		var b Batch
		var err error
		if batch != "" {
			b, err = tx.add(batch, record.Used, by, time.Time{}, func(_ *Tx, _ *Batch, e *Event) { e.Uses = []Use{u} })
			fault.Check(err)
		}
		e := tx.leaves(c, record.StockUsed, by, left)
		e.Uses, e.For = []Use{u}, b.ID
		return written[Container](tx, e)
	})
}

// leaves begins an event after which so much is left in a container.
func (tx *Tx) leaves(c *Container, kind, by string, left float64) *Event {
	e := tx.event(c.ID, kind, by, time.Time{})
	e.Field, e.Old, e.New = "left", record.AmountText(c.Left, c.Unit), record.AmountText(left, c.Unit)
	return e
}

// Empty marks a container as used up, spent or thrown out. The reason may be empty.
func (v Verbs) Empty(ref, reason, by string) (Container, error) {
	return change(v, false, func(tx *Tx) Container {
		c := tx.container(ref)
		fault.Need(!c.Empty(), fault.Failuref("jar %s is already empty", c.Number).Try("there is nothing to do"))
		e := tx.leaves(c, record.StockEmptied, by, 0)
		e.Reason = reason
		return written[Container](tx, e)
	})
}
