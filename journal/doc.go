// Package journal keeps the batches of a workshop: what was planned, who
// reviewed it, how it turned out, and every change made since.
//
// Begin with At, which names a file and opens nothing:
//
//	j := journal.At(path, journal.Options{By: "Ilka Brandt"})
//	b, err := j.Create(journal.Batch{Recipe: ..., Alloy: "sterling-925", Pieces: 48, Spares: 2})
//	_, err = j.Review(b.Number, journal.Acknowledgement{...})
//	_, err = j.Dip(b.Number, journal.DipRecord{Used: []journal.Use{{Container: "S-012", Grams: 12.5}}}, journal.Gate{})
//	_, err = j.LogWith(b.Number, journal.Result{Good: 47, Reject: 1}, journal.LogOptions{})
//	for b, err := range j.List(journal.Filter{Recipe: "antique-black-silver"}) { ... }
//
// LogNew adds a result that has no saved sheet, Amend mends a batch and keeps
// what was there, Withdraw takes it out of the count, SignOff is the word of a
// second person, AddPhoto and AddWaste add what their names say. AddContainer and
// the calls beside it keep the shelf, and Shelf says what is left of a substance.
// Export writes CSV or JSON Lines, and ExportContainers the shelf; Verify proves
// the file sound, and Update makes several changes at once. Batch.View is a batch
// as machines read it. RECORD.md says what such a record answers.
//
// What it promises:
//
//   - When a call that changes something returns nil, the change is on the disk.
//     When it returns an error, the file is as it was.
//   - Nothing is ever deleted or overwritten: each change is an event, linked to
//     the one before by its digest, and a batch is what its events make of it.
//   - A saved batch is not dipped or logged without a safety review that holds
//     (see Ready), unless a reason is given, which is kept.
//   - The file is held for one transaction at a time. A call waits for another
//     process (five seconds, see Options.Wait) and then names it.
//   - A damaged file gives an error of kind fault.Damaged, never a panic and
//     never a wrong batch: every record has a checksum.
//   - Short numbers ("2026-014") and ids are never given out twice. Order is the
//     order of writing, even where the clock went back.
//
// Import takes over what Export writes, or the table of people who kept a log by
// hand (see Mapping), all of it or nothing; Merge takes over the journal of another
// bench. Schema and ContainerSchema are the JSON Schemas of a line of an export, and
// FORMAT.md shows how such lines load into a database.
//
// Backup, Backups, Restore, Compact and Upgrade work on copies beside the file and
// exchange them in one step; Salvage makes a new journal of what can be read of a
// damaged one, and both it and the new journal say exactly what is lost.
//
// Every error is a *fault.Error. The stored format is described in FORMAT.md.
package journal
