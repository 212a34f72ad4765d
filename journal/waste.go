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
func (j *Journal) AddWaste(ref string, w Waste) (Batch, error) {
	return change(j, false, func(tx *Tx) (Batch, error) { return tx.AddWaste(ref, w) })
}

// AddWaste is Journal.AddWaste within one transaction.
func (tx *Tx) AddWaste(ref string, w Waste) (Batch, error) {
	b, err := tx.begin(ref, "given a waste", Planned, Reviewed, Dipped, Logged)
	if err != nil {
		return Batch{}, err
	}
	e, err := tx.event(b.ID, record.WasteAdded, w.By, w.At.Time())
	if err != nil {
		return Batch{}, err
	}
	if w.Container, err = record.Line("name of the waste container", w.Container); err != nil {
		return Batch{}, err
	}
	if w.Went, err = record.Note("place the waste went to", w.Went); err != nil {
		return Batch{}, err
	}
	w.By, w.At = e.By, e.At
	e.Waste = &w
	return tx.batch(e)
}

// ListWaste returns what went into a waste container (in any case of letters), or
// all waste if container is empty, in the order of the batches.
func (j *Journal) ListWaste(container string) ([]WasteOf, error) {
	return look(j, func(tx *Tx) ([]WasteOf, error) {
		names := []string{record.Fold(container)}
		if container == "" {
			var err error
			if names, err = tx.Values(record.ByWaste); err != nil {
				return nil, err
			}
		}
		var out []WasteOf
		for _, name := range names {
			for id, err := range tx.Under(record.Key{Tag: record.ByWaste, Value: name}, ID{}, store.Highest, false) {
				if err != nil {
					return nil, err
				}
				b, err := tx.Batch(id)
				if err != nil {
					return nil, err
				}
				for _, w := range b.Waste {
					if record.Fold(w.Container) == name {
						out = append(out, WasteOf{Batch: b.Number, Recipe: b.Slug, Waste: w})
					}
				}
			}
		}
		return out, nil
	})
}
