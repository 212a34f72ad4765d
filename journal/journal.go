// Package journal keeps the batches and the stock of a workshop, and every change made since.
//
// Begin with At, which names a file and opens nothing:
//
//	j := journal.At(path, journal.Options{By: "Ilse Tamm"})
//	b, err := j.Create(journal.Plan{Recipe: ..., Alloy: "sterling-925", Pieces: 48, Spares: 2}, sheet)
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

import (
	"cmp"
	_ "embed" // for the schemas and the template
	"io"
	"time"

	"hepar/journal/internal/check"
	"hepar/journal/internal/exchange"
	"hepar/journal/internal/keep"
	"hepar/journal/internal/store"
	"hepar/recipe/fault"
)

// Options are the few things that differ between a bench and a test.
type Options struct {
	Wait  time.Duration    // for another process: zero five seconds, below zero not at all
	Now   func() time.Time // with the local offset of the bench; nil means time.Now
	By    string           // the person named in an event if the call names nobody
	Watch func(events int) // told from time to time how many events were read or written; may be nil
}

// Journal is the path of a journal file. It holds nothing open; several goroutines may use it at once.
type Journal struct {
	Verbs
	file *store.File
	o    Options
}

// At returns the journal at path, which the first batch written makes, with its folders. A link is followed.
func At(path string, o Options) *Journal {
	file := store.Open(path, o.Wait, o.Now)
	file.Watch = o.Watch
	return of(file, o)
}

func of(file *store.File, o Options) *Journal {
	return &Journal{file: file, o: o, Verbs: Verbs{func(make bool, fn func(*Tx) error) error {
		update := file.UpdateExisting
		if make {
			update = file.Update
		}
		return update(func(tx *store.Tx) error { return fn(within(tx, o.By)) })
	}}}
}

// Verbs are the changes: of a Journal each is a transaction of its own, of a Tx they are part of one.
type Verbs struct {
	// in runs fn in the transaction. Without make, a journal that is not there is an error and is not made.
	in func(make bool, fn func(*Tx) error) error
}

// Path returns the path of the file, with links followed.
func (j *Journal) Path() string { return j.file.Path }

// Exists says whether there is something at the path. It does not open it.
func (j *Journal) Exists() (bool, error) { return j.file.Exists() }

// Network names the network file system of the journal, if it lies on one: its locks and syncs cannot be trusted.
func (j *Journal) Network() string { return store.Network(j.file.Path) }

// Tx is one transaction of a journal.
type Tx struct {
	*store.Tx
	Verbs
	by string
}

func within(tx *store.Tx, by string) *Tx {
	out := &Tx{Tx: tx, by: by}
	out.in = func(_ bool, fn func(*Tx) error) error { return fn(out) }
	return out
}

// Update runs fn in one transaction, on the disk when it returns nil; on an error nothing of it is
// kept. It makes the journal if there is none. Others wait meanwhile: do nothing slow in fn.
func (j *Journal) Update(fn func(*Tx) error) error { return j.in(true, fn) }

// Rebuild is Update for long work in many transactions: fn works on a copy, which takes the place of the
// journal in the end. It returns a fault of kind Busy if somebody wrote to the journal meanwhile.
func (j *Journal) Rebuild(fn func(copy *Journal) error) error {
	return j.file.Rebuild(func(copy *store.File) error { return fn(of(copy, j.o)) })
}

// change runs a verb and returns what it has changed.
func change[T any](v Verbs, make bool, fn func(*Tx) T) (out T, err error) {
	err = fault.Caught(func() { fault.Check(v.in(make, func(tx *Tx) error { out = fn(tx); return nil })) })
	return out, err
}

// look answers one question.
func look[T any](j *Journal, fn func(*Tx) T) (out T, err error) {
	err = j.file.View(func(tx *store.Tx) error { out = fn(within(tx, j.o.By)); return nil })
	return out, err
}

// event begins an event at a time, or now. By is the person of the options if it names nobody.
func (tx *Tx) event(of ID, kind, by string, at time.Time) *Event {
	e := &Event{ID: tx.NewID(), Of: of, Kind: kind, By: cmp.Or(by, tx.by), At: StampOf(tx.Now)}
	if at := StampOf(at); at != "" && at != e.At {
		e.Written, e.At = e.At, at
	}
	return e
}

// Verify reads the whole journal and returns what is wrong with it. See check.Verify.
func (j *Journal) Verify() (Report, error) { return check.Verify(j.file) }

// Salvage makes a new journal at into of everything that is whole in this one. See check.Salvage.
func (j *Journal) Salvage(into string) (SalvageReport, error) { return check.Salvage(j.file, into) }

// Backup writes a verified copy into dir (empty: the folder backups beside the journal). See keep.Backup.
func (j *Journal) Backup(dir string) (BackupReport, error) { return keep.Backup(j.file, dir) }

// Backups returns the backups of this journal in dir, as of Backup, newest first.
func (j *Journal) Backups(dir string) ([]BackupFile, error) { return keep.Backups(j.file, dir) }

// Restore puts the backup at from in the place of the journal, which stays beside. See keep.Restore.
func (j *Journal) Restore(from string, o RestoreOptions) (RestoreReport, error) {
	return keep.Restore(j.file, from, o)
}

// Compact writes the journal anew without the room that nothing uses. See keep.Compact.
func (j *Journal) Compact() (CompactReport, error) { return keep.Compact(j.file) }

// The JSON Schemas (draft 2020-12) of a line of an export of batches and of the stock; a mapping that explains itself.
var (
	//go:embed schema.json
	Schema string
	//go:embed schemastock.json
	ContainerSchema string
	//go:embed mapping.toml
	MappingTemplate string
)

// Export writes the batches of f to w as CSV or JSONLines, these with recipes and sheets if f.Frozen, and returns how many.
func (j *Journal) Export(w io.Writer, format string, f Filter) (int, error) {
	return exchange.Export(w, format, j.List(f))
}

// ExportContainers writes the containers of f to w as CSV or JSONLines and returns how many.
func (j *Journal) ExportContainers(w io.Writer, format string, f ContainerFilter) (int, error) {
	all, err := j.ListContainers(f)
	if err != nil {
		return 0, err
	}
	return exchange.Export(w, format, func(yield func(Container, error) bool) {
		for i := 0; i < len(all) && yield(all[i], nil); i++ {
		}
	})
}

// Import takes over the batches of a file, all or nothing; see exchange.Import. By defaults to Options.By.
func (j *Journal) Import(r io.Reader, o ImportOptions) (ImportReport, error) {
	o.By = cmp.Or(o.By, j.o.By)
	return exchange.Import(j.file, r, o)
}

// Merge takes over the journal of another bench, all or nothing; see exchange.Merge. By defaults to Options.By.
func (j *Journal) Merge(other string, o ImportOptions) (MergeReport, error) {
	o.By = cmp.Or(o.By, j.o.By)
	return exchange.Merge(j.file, other, o)
}
