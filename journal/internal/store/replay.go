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
}

// Replay returns the batch or, with stock, the container that the events make.
func Replay(id record.ID, events []*record.Event, stock bool) Replayed {
	if stock {
		return Replayed{Container: record.ReplayContainer(id, events)}
	}
	return Replayed{Batch: record.Replay(id, events)}
}

// Number returns its short number; empty if the event that gives it is missing.
func (r Replayed) Number() string {
	if r.Batch == nil {
		return r.Container.Number
	}
	return r.Batch.Number
}

// Name returns what messages call it.
func (r Replayed) Name() string {
	if r.Batch == nil {
		return "container " + r.Container.Number
	}
	return "batch " + r.Batch.Name()
}

// Faults returns what does not fit among the events.
func (r Replayed) Faults() []string {
	if r.Batch == nil {
		return r.Container.Faults
	}
	return r.Batch.Faults
}

// Newer returns what a newer hepar wrote and this one does not understand.
func (r Replayed) Newer() []string {
	if r.Batch == nil {
		return r.Container.Newer
	}
	return r.Batch.Newer
}

// Fits returns an error if the events do not hold together.
func (r Replayed) Fits() error {
	switch {
	case r.Batch != nil:
		return r.Batch.Fits()
	case len(r.Container.Faults) > 0:
		return fault.Usagef("container %s does not hold together: %s", r.Container.Number, r.Container.Faults[0]).Try("leave it out")
	}
	if len(r.Container.Newer) > 0 { // a newer hepar may have other limits
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
	if number := r.Number(); number != "" {
		keys = append(keys, record.Key{Tag: byNumber, Value: number})
	}
	return keys
}
