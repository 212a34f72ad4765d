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
		b.Review = e.Review
		if b.Dip == nil {
			b.State = Reviewed
		}
	case LoggedEvent:
		if e.Result == nil {
			return fmt.Errorf("%w: event %d has no result", errTangled, e.Seq)
		}
		b.State, b.Result = Logged, e.Result
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

// public gives the event as it is shown.
func (e *eventRecord) public() Event {
	written := e.At
	if e.Written != nil {
		written = *e.Written
	}
	return Event{
		ID: e.ID.String(), Kind: e.Kind, At: e.At.Time(), Written: written.Time(), By: e.By,
		Reason: e.Reason, Field: e.Field, Old: e.Old, New: e.New,
	}
}
