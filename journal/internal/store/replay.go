package store

import (
	"hepar/journal/internal/record"
	"hepar/recipe/fault"
)

// Replayed is what the events of one list make: a batch or a container, and the
// other one is nil.
type Replayed struct {
	Batch     *record.Batch
	Container *record.Container

	Number string   // empty if the event that gives it is missing
	Faults []string // what does not fit among the events
	Newer  []string // what a newer hepar wrote and this one does not understand
}

// Replay returns the batch or, with stock, the container that the events make.
func Replay(id record.ID, events []*record.Event, stock bool) Replayed {
	if stock {
		c := record.ReplayContainer(id, events)
		return Replayed{Container: c, Number: c.Number, Faults: c.Faults, Newer: c.Newer}
	}
	b := record.Replay(id, events)
	return Replayed{Batch: b, Number: b.Number, Faults: b.Faults, Newer: b.Newer}
}

// Fits returns an error if the events do not hold together.
func (r Replayed) Fits() error {
	switch {
	case r.Batch != nil:
		return r.Batch.Fits()
	case len(r.Faults) > 0:
		return fault.Usagef("container %s does not hold together: %s", r.Number, r.Faults[0]).Try("leave it out")
	case len(r.Newer) > 0: // a newer hepar may have other limits
		return nil
	}
	return r.Container.Check()
}

// Keys returns every key of the index under which it is found.
func (r Replayed) Keys() []record.Key {
	keys := []record.Key{allContainers}
	if r.Batch != nil {
		keys = append(r.Batch.Keys(), allBatches)
	}
	if r.Number != "" {
		keys = append(keys, record.Key{Tag: byNumber, Value: r.Number})
	}
	return keys
}
