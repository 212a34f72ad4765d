// Package journal keeps the batches and the stock of a workshop, and every change made since.
//
// Begin with At, which names a file and opens nothing:
//
//	j := journal.At(path, journal.Options{By: "Ilse Tamm"})
//	b, err := j.Create(journal.Plan{Recipe: ..., Alloy: "sterling-925", Pieces: 48, Spares: 2}, sheet)
//	_, err = j.Review(b.Number, journal.Review{...})
//	_, err = j.Bench(b.Number, run.Entry{...}, "")
//	_, err = j.Log(b.Number, journal.Result{Good: 47, Reject: 1}, journal.LogOptions{})
//	for b, err := range j.List(journal.Filter{Recipe: "silver-black"}) { ... }
//
// All changes are Verbs, of the journal or of a Tx; Update runs several in one transaction. A verb of
// a batch goes through add: steps says whether the state allows the event that the verb fills in.
//
// What it promises:
//
//   - When a change returns nil, it is on the disk; with an error the file is as it was.
//   - Nothing is deleted or overwritten: each change is an event, linked to the one before by its digest.
//   - A saved batch is not dipped or logged without a valid safety review, or a reason, which is kept.
//   - The file is held for one transaction at a time. A call waits for another process and then names it.
//   - A damaged file returns an error of kind fault.Damaged, never a panic and never a wrong batch.
//   - Short numbers ("2026-014") and ids are never given out twice.
//
// Every error is a *fault.Error. FORMAT.md describes the file, RECORD.md says what such a record answers.
package journal
