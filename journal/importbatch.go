package journal

import (
	"crypto/sha256"
	"iter"
)

// ImportBatches adds whole batches, as Import does with the rows of a file: with
// their review and their result, at the times they carry, and with events that
// follow from these (Events is not read). A batch without an ID gets one that
// follows from what it says; one without a Number gets the next of its year. Format
// and Mapping of o are not looked at; a line is the place of a batch in the row, from 1.
func (j *Journal) ImportBatches(batches iter.Seq2[Batch, error], o ImportOptions) (ImportReport, error) {
	return j.importRows(func(yield func(int, rowOrError) bool) {
		line, digests := 0, &recipeDigests{}
		for b, err := range batches {
			line++
			got := rowOrError{err: err}
			if err == nil {
				if b.Events = nil; b.Logged.IsZero() {
					b.Logged = b.Created
				}
				v := b.View()
				v.Dip, v.SignedOff, v.Photos, v.Waste, v.Lots = nil, nil, nil, nil, nil
				got = guard(func() rowOrError { return finish(v, false, digests) })
			}
			if !yield(line, got) {
				return
			}
		}
	}, sha256.New(), o)
}
