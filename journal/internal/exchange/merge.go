package exchange

import (
	"cmp"
	"errors"
	"os"
	"path/filepath"

	"hepar/journal/internal/check"
	"hepar/journal/internal/record"
	"hepar/journal/internal/store"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// Merge takes over the journal of another bench, which must be sound, is held for reading meanwhile and stays as it is.
// No event comes twice. A batch that both sides changed keeps the events of both; one of which the events cannot both be
// true stays as it is here; both are listed. All is taken over or nothing.
func Merge(file *store.File, path string, o ImportOptions) (MergeReport, error) {
	t := newTaker(o, record.Source{How: "merged", File: filepath.Base(path)})
	t.merge = true
	err := fault.Caught(func() {
		other := store.Open(path, file.Wait, file.Now)
		if err := store.Regular(path); err != nil {
			fault.Check(fault.Failuref("%s cannot be merged", measure.Clean(path)).Because(store.Reason(err)).
				Try("name the journal of the other bench"))
		}
		mine, _ := os.Stat(file.Path)
		theirs, _ := os.Stat(other.Path)
		fault.Need(!os.SameFile(mine, theirs), fault.Usagef("%s is this journal itself", measure.Clean(path)).Try("name the journal of the other bench"))
		found, err := check.Verify(other)
		fault.Check(cannotMerge(cmp.Or(err, found.Err())))
		var merged error // of this journal; what View returns is of the other
		fault.Check(cannotMerge(other.View(func(tx *store.Tx) error {
			t.source.Journal = tx.About.Journal
			t.source.SHA256 = tx.Head.Digest
			merged = t.run(file, func(yield func(*entry, error) bool) {
				if err := fault.Caught(func() { everything(tx, yield) }); err != nil {
					yield(nil, cannotMerge(other.Explain(err)))
				}
			})
			return nil
		})))
		fault.Check(merged)
	})
	return t.report.MergeReport, err
}

// everything yields the batches and the containers of a journal, with their texts.
func everything(tx *store.Tx, yield func(*entry, error) bool) {
	texts := recipes{}
	for id := range tx.Everything() {
		made := tx.Thing(id)
		e := &entry{id: id, events: made.Past().Events}
		if b, ok := made.(*record.Batch); ok {
			tx.Frozen(b)
			e.brings(b, texts)
		} else {
			e.stock = true
		}
		if !yield(e, nil) {
			return
		}
	}
}

// cannotMerge replaces the cure of a damaged journal of the other bench: the usual one is about your own.
func cannotMerge(err error) error {
	var f *fault.Error
	if errors.As(err, &f) && f.Kind == fault.Damaged {
		f.Cure = "name the journal of the other bench; if it is the right file, run hepar journal salvage there and merge the new file"
	}
	return err
}
