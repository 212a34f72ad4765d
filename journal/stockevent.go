package journal

import (
	"fmt"
	"slices"
)

// apply brings c forward by one event. As that of a batch it is the only way in
// which a container ever changes, and must give the same answer for ever. It does
// no sums: an event of use says what is left.
func (c *containerRecord) apply(e *eventRecord) error {
	if e.Kind != StockAdded && e.Kind != StockSalvaged && c.ID != e.Batch {
		return fmt.Errorf("%w: event %d belongs to another container", errTangled, e.Seq)
	}
	switch e.Kind {
	case StockAdded:
		if c.ID != (id{}) || e.Stock == nil || e.Stock.ID != e.Batch {
			return fmt.Errorf("%w: event %d adds no container", errTangled, e.Seq)
		}
		*c = *e.Stock
	case StockChanged:
		if err := c.setField(e.Field, e.New, e.At); err != nil {
			return fmt.Errorf("%w: event %d: %w", errTangled, e.Seq, err)
		}
	case StockUsed:
		if e.Field != fieldLeft || len(e.Used) != 1 {
			return fmt.Errorf("%w: event %d uses nothing", errTangled, e.Seq)
		}
		if err := c.setField(fieldLeft, e.New, e.At); err != nil {
			return fmt.Errorf("%w: event %d: %w", errTangled, e.Seq, err)
		}
	case StockSalvaged:
		if err := c.salvaged(e); err != nil {
			return err
		}
	case StockEmptied:
		c.Left, c.Emptied = 0, &e.At
	default:
		return fmt.Errorf("%w: event %d is of the unknown kind %q", errTangled, e.Seq, e.Kind)
	}
	c.Events = append(slices.Clip(c.Events), e.Seq)
	return nil
}

// appendStock adds events to a container and writes it, as append does for a batch.
func (w *Writer) appendStock(c *containerRecord, events ...*eventRecord) error {
	containers, err := bucket(w.tx, containersBucket)
	if err != nil {
		return err
	}
	for _, e := range events {
		w.link(e)
		if err := c.apply(e); err != nil {
			return err
		}
		if err := w.keep(e); err != nil {
			return err
		}
	}
	return putRecord(containers, c.ID[:], c)
}
