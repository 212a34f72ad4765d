package journal

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"slices"
)

// errTangled means that records which must agree do not.
var errTangled = errors.New("its records do not agree")

// chainStart is the digest that the first event of a journal holds, so that not
// even the first can be moved to another journal.
func chainStart(journal id) [32]byte {
	return sha256.Sum256(append([]byte(magic+"\x00"), journal[:]...))
}

// apply brings b forward by one event. It is the only way in which a batch ever
// changes, when writing as in the check that replays all events, and it must
// give the same answer for an old event for ever.
func (b *batchRecord) apply(e *eventRecord) error {
	if e.Kind != Created && e.Kind != Salvaged && b.ID != e.Batch {
		return fmt.Errorf("%w: event %d belongs to another batch", errTangled, e.Seq)
	}
	switch e.Kind {
	case Created:
		if b.ID != (id{}) || e.Plan == nil {
			return fmt.Errorf("%w: event %d creates nothing", errTangled, e.Seq)
		}
		b.ID, b.State, b.Plan = e.Batch, Planned, *e.Plan
	case ReviewedEvent:
		if e.Review == nil {
			return fmt.Errorf("%w: event %d has no review", errTangled, e.Seq)
		}
		b.State, b.Review = b.State.reach(Reviewed), e.Review
	case LoggedEvent:
		if e.Result == nil {
			return fmt.Errorf("%w: event %d has no result", errTangled, e.Seq)
		}
		b.State, b.Result = b.State.reach(Logged), e.Result
		if e.Reason != "" {
			b.WithoutReview = e.Reason
		}
	case Amended:
		if err := b.amend(e); err != nil {
			return fmt.Errorf("%w: event %d: %w", errTangled, e.Seq, err)
		}
	case WithdrawnEvent:
		b.State = Withdrawn
	case Salvaged:
		if err := b.salvaged(e); err != nil {
			return err
		}
	default:
		if err := b.applyMore(e); err != nil {
			return err
		}
	}
	b.Events = append(b.Events, e.Seq)
	if e.By != "" && !slices.Contains(b.People, e.By) {
		b.People = append(b.People, e.By)
	}
	return nil
}

// replay applies the events of a batch, in the order of their ids. Those before a
// salvage cannot be applied, since others between them are lost: its event says
// how the batch stood.
func (b *batchRecord) replay(events []*eventRecord) error {
	from := 0
	for i, e := range events {
		if e.Kind == Salvaged {
			from = i
		}
	}
	for i, e := range events {
		if i < from {
			if e.Batch != events[from].Batch {
				return fmt.Errorf("%w: event %d belongs to another batch", errTangled, e.Seq)
			}
			b.Events = append(b.Events, e.Seq)
		} else if err := b.apply(e); err != nil {
			return err
		}
	}
	return nil
}

// reach gives the later of two states: a batch goes on and never back, also where
// the events of two benches are put in one order.
func (s State) reach(next State) State {
	states := States()
	if slices.Index(states, next) < slices.Index(states, s) {
		return s
	}
	return next
}

// public gives the event as it is shown.
func (e *eventRecord) public() Event {
	written := e.At
	if e.Written != nil {
		written = *e.Written
	}
	return Event{
		ID: e.ID.String(), Kind: e.Kind, At: e.At.Time(), Written: written.Time(), By: e.By,
		Reason: e.Reason, Field: e.Field, Old: e.Old, New: e.New, Loads: e.loads(), Uses: e.uses(),
	}
}

func (e *eventRecord) loads() int {
	if e.Dip == nil {
		return 0
	}
	return len(e.Dip.Loads)
}

func (e *eventRecord) uses() int {
	if e.Kind == StockUsed { // of the container itself
		return 0
	}
	return len(e.Used)
}
