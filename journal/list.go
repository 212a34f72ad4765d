package journal

import (
	"iter"

	"hepar/journal/internal/query"
)

// List returns the batches that f asks for, with the text of their recipes and
// their sheets if f.Frozen is set. The file is held while they are read, for one
// page of batches at a time: one added meanwhile may or may not be among them, none
// comes twice. After an error it ends.
func (j *Journal) List(f Filter) iter.Seq2[Batch, error] {
	return func(yield func(Batch, error) bool) {
		err := j.View(func(tx *Tx) error {
			all, err := query.List(tx.Tx, f)
			if err != nil {
				return err
			}
			for b := range all {
				if !yield(*b, nil) {
					return nil
				}
			}
			return nil
		})
		if err != nil {
			yield(Batch{}, err)
		}
	}
}

// Count returns the number of batches that f asks for, leaving Offset and Limit aside.
func (j *Journal) Count(f Filter) (int, error) {
	return look(j, func(tx *Tx) (int, error) { return query.Count(tx.Tx, f) })
}

// Sum counts and adds up the batches that f asks for: all in one group, or with per
// one of Pers a group for each value, in the order of the values.
func (j *Journal) Sum(f Filter, per string) ([]Group, error) {
	return look(j, func(tx *Tx) ([]Group, error) { return query.Sum(tx.Tx, f, per) })
}
