package journal

import (
	"hepar/journal/internal/record"
	"hepar/journal/internal/store"
)

// WasteOf is a waste with the batch it comes from.
type WasteOf struct {
	Batch  string `json:"batch"`  // number
	Recipe string `json:"recipe"` // slug
	Waste
}

// AddWaste records what a batch left as waste and in which container it is kept. A
// zero At means now. A mistake in one is corrected by another entry that says so:
// nothing is overwritten.
func (v Verbs) AddWaste(ref string, w Waste) (Batch, error) {
	return v.add(ref, record.WasteAdded, w.By, w.At.Time(), func(_ *Tx, _ *Batch, e *Event) {
		w.By, w.At = e.By, e.At
		e.Waste = &w
	})
}

// ListWaste returns what went into a waste container (in any case of letters), or
// all waste if container is empty, in the order of the batches.
func (j *Journal) ListWaste(container string) ([]WasteOf, error) {
	return look(j, func(tx *Tx) (out []WasteOf) {
		names := []string{record.Fold(container)}
		if container == "" {
			names = tx.Values(record.ByWaste)
		}
		for _, name := range names {
			for id := range tx.Under(record.Key{Tag: record.ByWaste, Value: name}, ID{}, store.Highest, false) {
				b := tx.Batch(id)
				for _, w := range b.Waste {
					if record.Fold(w.Container) == name {
						out = append(out, WasteOf{Batch: b.Number, Recipe: b.Slug, Waste: w})
					}
				}
			}
		}
		return out
	})
}
