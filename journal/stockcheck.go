package journal

import (
	"bytes"
	"fmt"
	"slices"
)

// containers checks each container against its events, its number and the batches
// it went into. What batches say they used is counted in allBatches.
func (c *contentCheck) containers() error {
	containers, err := bucket(c.tx, containersBucket)
	if err != nil {
		return err
	}
	numbers, err := bucket(c.tx, numbersBucket)
	if err != nil {
		return err
	}
	err = containers.ForEach(func(key, value []byte) error {
		c.shelved++
		r, err := decodeContainer(key, value)
		if err != nil {
			c.wrong("containers", "%v", err)
			return nil
		}
		where := "container " + r.Number
		if err := c.replayContainer(r, value); err != nil {
			c.wrong(where, "%v", err)
		}
		if !bytes.Equal(numbers.Get([]byte(r.Number)), key) {
			c.wrong(where, "its number does not lead to it")
		}
		if r.Unit != unitGrams && r.Unit != unitML || !(r.Left >= 0 && r.Left <= r.Amount) {
			c.wrong(where, "it has %g %q left of %g", r.Left, r.Unit, r.Amount)
		}
		return nil
	})
	if err == nil && c.shelved != c.head.Containers {
		c.wrong("containers", "there are %d and the head says %d", c.shelved, c.head.Containers)
	}
	return err
}

// replayContainer makes the container anew from its events and compares.
func (c *contentCheck) replayContainer(r *containerRecord, stored []byte) error {
	var again containerRecord
	events, from, err := c.history(r.ID, r.Events)
	if err != nil {
		return err
	}
	for i, e := range events {
		if i < from {
			again.Events = append(again.Events, e.Seq)
		} else if err := again.apply(e); err != nil {
			return err
		}
		if e.Kind == StockSalvaged {
			c.missing("container "+r.Number, "%s", e.Reason)
		}
		if e.Kind != StockUsed || e.For == nil {
			continue
		}
		c.booked++
		b, err := c.batch(*e.For)
		if err != nil {
			return err
		}
		if !slices.ContainsFunc(b.Used, func(u usedRecord) bool {
			return u.Container == r.ID && u.Amount == e.Used[0].Amount && u.Unit == e.Used[0].Unit
		}) {
			c.missing("container "+r.Number, "batch %s does not say that it used it (event %d)", b.Plan.Number, e.Seq)
		}
	}
	record, err := seal(&again)
	if err != nil {
		return err
	}
	if !bytes.Equal(record, stored) {
		return fmt.Errorf("its events do not lead to it as it stands")
	}
	return nil
}
