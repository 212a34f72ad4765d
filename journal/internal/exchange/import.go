// Package exchange brings batches and containers out of a journal and in from elsewhere: JSON Lines,
// tables in CSV, tables that people kept by hand, and the journal of another bench.
//
// What comes in becomes entries, each a batch or a container with its events, which pass the checks of package
// record; import.go compares them by their ids with those that are here. All is taken over or nothing: the work is
// done on a copy of the journal, which is verified.
package exchange

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"io"
	"iter"
	"os"
	"slices"
	"strconv"

	"hepar/journal/internal/check"
	"hepar/journal/internal/record"
	"hepar/journal/internal/store"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// The formats of Export and Import.
const (
	CSV       = "csv"   // RFC 4180, one row a batch, units in the headings
	JSONLines = "jsonl" // one batch a line, with its events
	Sheet     = "sheet" // a table kept by hand, for Import: a Mapping says what its columns are
)

// ImportOptions say what is read and how. A merge knows DryRun and By of them.
type ImportOptions struct {
	Format   string   // CSV, JSONLines or Sheet
	Mapping  *Mapping // of a Sheet; see ReadMapping
	Source   string   // what the file is called; kept with what is taken over
	DryRun   bool     // find out what would happen, and change nothing
	KeepHere bool     // if a batch differs here and in the file, keep it as it is here and take the rest
	By       string   // who does it
	Max      int      // the most errors and conflicts listed; 0 means 100
}

// Import reads batches from r and takes over those that are not here: all of them, or none if a row is wrong or a batch
// differs here and in the file. The error then says how many, and the report which. The same file twice changes nothing.
// The error is of kind fault.Busy if somebody wrote to the journal meanwhile. Memory stays bounded, whatever comes.
func Import(file *store.File, r io.Reader, o ImportOptions) (ImportReport, error) {
	sum := sha256.New()
	r = io.TeeReader(r, sum)
	t := newTaker(o, record.Source{How: "imported", File: o.Source})
	report := &t.report
	var rows iter.Seq2[*entry, error]
	switch {
	case o.Format == JSONLines:
		rows = lines(r)
	case o.Format == CSV:
		rows = exported.rows(r)
	case o.Format == Sheet && o.Mapping != nil:
		rows = o.Mapping.rows(r)
	case o.Format == Sheet:
		return *report, fault.Usagef("a sheet needs a mapping that says what its columns are").
			Try("print one with 'hepar journal import --template'")
	default:
		return *report, fault.Usagef("there is no import format %q", measure.Clean(o.Format)).Try("write %s, %s or %s", JSONLines, CSV, Sheet)
	}
	var refusal error // a dry run tells of it in the report alone
	err := t.run(file, func(yield func(*entry, error) bool) {
		for e, err := range rows {
			report.Rows++
			if err != nil {
				t.wrong(e.line, err)
			} else if len(report.Errors) == 0 && !yield(e, nil) { // after an error only further errors are looked for
				return
			}
		}
		t.source.SHA256 = sum.Sum(nil)
		wrong, others := len(report.Errors)+report.MoreErrors, len(report.Conflicts)+report.More
		switch {
		case report.Rows == 0:
			yield(nil, fault.Failuref("there is nothing to import in %s", measure.Clean(o.Source)).Try("name a file that an export wrote, or a table with rows"))
		case wrong > 0:
			refusal = fault.Failuref("nothing was imported; wrong rows: %d of %d", wrong, report.Rows).
				Try("correct the listed rows and import the file again")
		case others > 0 && !o.KeepHere:
			refusal = fault.Failuref("nothing was imported; batches that differ here and in the file: %d", others).
				Try("check the listed batches; to keep them as they are here, add --keep-here")
		}
		if refusal != nil {
			yield(nil, refusal)
		}
	})
	if err != nil {
		report.New, report.Further, report.Containers, report.Events, report.Aside = 0, 0, 0, 0, 0
	}
	if refusal != nil && o.DryRun {
		err = nil
	}
	return *report, err
}

// entry is a batch or a container from elsewhere.
type entry struct {
	line   int  // of the file; 0 in a merge
	last   bool // nothing can be read after it
	id     record.ID
	stock  bool
	events []*record.Event
	texts  map[string][]byte // that came with it, by their SHA-256

	says  map[string]string // of a row of a table, by the names of columns: it has no events of its own
	batch record.Batch      // which the row makes
}

// taker takes entries over into a journal, all or nothing.
type taker struct {
	ImportOptions
	source record.Source
	merge  bool // a batch that both sides changed keeps the events of both
	report ImportReport

	filled bool // a text came that had been missing
}

func newTaker(o ImportOptions, source record.Source) *taker {
	o.Max = cmp.Or(o.Max, 100)
	return &taker{ImportOptions: o, source: source, report: ImportReport{
		MergeReport: MergeReport{DryRun: o.DryRun, Conflicts: []Conflict{}}, Errors: []LineError{}, Recipes: map[string]int{}, Alloys: map[string]int{}}}
}

// run takes over all entries. An error that they yield ends it, and the journal stays as it was.
func (t *taker) run(file *store.File, entries iter.Seq2[*entry, error]) error {
	there, err := file.Exists()
	if err != nil {
		return err
	}
	if t.DryRun && !there { // not even a folder is made
		dir, err := os.MkdirTemp("", "hepar-")
		if err != nil {
			return store.NoRoom(os.TempDir(), err)
		}
		defer os.RemoveAll(dir)
		file = store.Open(dir+"/dry-run", file.Wait, file.Now)
	}
	return file.Rebuild(func(copy *store.File) error {
		store.InParts(copy, entries, t.put)
		fault.Check(copy.UpdateExisting(t.sign))
		found, err := check.Verify(copy) // that the shelf says the same as the batches, among all else
		fault.Check(err)
		if !found.Sound() {
			return fault.Failuref("nothing was imported, because the journal would be damaged: %s: %s", found.Findings[0].Where, found.Findings[0].What).
				Try("merge the whole journal of the other bench, or import its batches and its shelf in one file")
		}
		if t.DryRun {
			return store.ErrStop
		}
		return nil
	})
}

// put takes an entry over and returns about how many bytes it wrote.
func (t *taker) put(tx *store.Tx, e *entry, err error) (weight int) {
	fault.Check(err)
	c := Conflict{Line: e.line, ID: e.id, Here: []*record.Event{}, There: []*record.Event{}}
	var counted *int
	if err := fault.Caught(func() { counted = t.take(tx, e, &c) }); err != nil {
		c.What = err.Error()
	}
	if counted != nil {
		*counted++
	}
	if c.What != "" {
		c.Number = cmp.Or(c.Number, record.ReplayAs(e.id, e.events, e.stock).Short(), e.id.String())
		c.What, c.Merged = measure.Clean(c.What), counted != nil
		if t.report.More++; len(t.report.Conflicts) < t.Max {
			t.report.More--
			t.report.Conflicts = append(t.report.Conflicts, c)
		}
	}
	weight = 1024 * len(e.events)
	for _, text := range e.texts {
		weight += len(text)
	}
	return weight
}

// sign closes what was taken over with an event that says where it came from.
func (t *taker) sign(tx *store.Tx) error {
	if t.report.Events == 0 && !t.filled {
		return store.ErrStop
	}
	t.source.Events = uint64(t.report.Events)
	e := &record.Event{ID: tx.NewID(), Kind: record.TakenOver, At: record.StampOf(tx.Now), By: t.By, Source: &t.source}
	fault.Check(e.Clean())
	tx.Append(e)
	return nil
}

// take takes over the events of an entry that are not here, and returns the count of the report that it belongs to. It
// stops, and nothing is taken over, if the entry cannot be what is here; c then says more.
func (t *taker) take(tx *store.Tx, e *entry, c *Conflict) (counted *int) {
	same := &t.report.Same
	if e.stock {
		same = new(int) // is not told
	}
	here := tx.EventsOf(e.id)
	fault.Need(here == nil || slices.ContainsFunc(here, (*record.Event).OfStock) == e.stock, fault.Failuref("its id belongs to something else here"))
	onlyHere, onlyThere, differs := divide(here, e.events)
	if e.says != nil && here != nil && (differs != nil || len(onlyThere) > 0) {
		b := tx.Batch(e.id)
		c.Number = b.Number
		e.sameAs(b)
		return same
	}
	if differs != nil {
		fault.Check(fault.Failuref("its event %s (%s) differs there", differs.ID, differs.Kind))
	}
	t.keepTexts(tx, e, here == nil)
	if len(onlyThere) == 0 {
		return same
	}
	if len(onlyHere) > 0 {
		c.What, c.Here, c.There = "it was changed on both sides", onlyHere, onlyThere
		if !t.merge { // a file is only words: it does not win against what is here
			return nil
		}
	}
	if first := e.events[0]; here == nil && e.says != nil && first.Plan.Number == noNumber {
		first.Plan.Number = tx.NextNumber(strconv.Itoa(first.Plan.Created.Time().Year()))
	}
	made := fits(e.id, e.stock, slices.Concat(here, onlyThere))
	tx.Append(onlyThere...)
	t.report.Events += len(onlyThere)
	switch {
	case e.stock:
		return &t.report.Containers
	case here != nil:
		return &t.report.Further
	}
	t.tally(e, made.(*record.Batch))
	return &t.report.New
}

// divide divides the events of both sides by their ids; differs is one that is not stored alike.
func divide(here, there []*record.Event) (onlyHere, onlyThere []*record.Event, differs *record.Event) {
	onlyHere = slices.Clone(here)
	for _, e := range there {
		i := slices.IndexFunc(onlyHere, func(h *record.Event) bool { return h.ID == e.ID })
		if i < 0 {
			onlyThere = append(onlyThere, e)
			continue
		}
		if !bytes.Equal(stored(onlyHere[i]), stored(e)) {
			differs = e
		}
		onlyHere = slices.Delete(onlyHere, i, i+1)
	}
	return onlyHere, onlyThere, differs
}

// stored is an event as it is stored, without the number: a row of a table without one gets one from each bench.
func stored(e *record.Event) []byte {
	if e.Plan != nil && e.Raw == nil {
		plan, bare := *e.Plan, *e
		plan.Number, bare.Plan = "", &plan
		e = &bare
	}
	return fault.Must(record.Encode(e))
}

// fits returns what the events make, and stops if this program would not have made it.
func fits(id record.ID, stock bool, events []*record.Event) record.Thing {
	for _, e := range events {
		fault.Check(e.Check())
		fault.Need(stock || e.Container == nil, fault.Usagef("the event %s of a batch describes a jar", e.ID).Try("leave it out"))
	}
	made := record.ReplayAs(id, events, stock)
	fault.Check(made.Fits())
	return made
}

// keepTexts keeps the recipe and the sheet of a batch, or notes that they did not come with it.
func (t *taker) keepTexts(tx *store.Tx, e *entry, fresh bool) {
	for _, ev := range e.events {
		for _, sum := range ev.Texts() {
			text := e.texts[string(sum)]
			switch {
			case tx.HasBlob(sum):
			case text != nil:
				tx.PutBlob(text)
				t.filled = t.filled || !fresh
			case fresh && !tx.Noted(sum):
				tx.Lack(sum)
			}
		}
	}
}

// LineError is what is wrong with one row of an import.
type LineError struct {
	Line int    `json:"line"` // of the file, from 1: where the row begins
	What string `json:"what"`
	Cure string `json:"do"`
}

// Conflict is a batch or a container that is not the same here and there.
type Conflict struct {
	Line   int             `json:"line,omitempty"` // of the file; 0 in a merge
	Number string          `json:"number"`
	ID     record.ID       `json:"id"`
	What   string          `json:"what"`
	Merged bool            `json:"merged"` // the events of both sides are kept; if not, what is here stays
	Here   []*record.Event `json:"only_here"`
	There  []*record.Event `json:"only_there"`
}

// MergeReport is what a merge did, or in a dry run would do.
type MergeReport struct {
	DryRun     bool       `json:"dry_run"`
	New        int        `json:"new"`        // batches that were not here
	Further    int        `json:"further"`    // batches here to which more had happened there
	Same       int        `json:"same"`       // batches that are here as they are there, or further
	Containers int        `json:"containers"` // containers that are new here or to which more had happened there
	Events     int        `json:"events"`     // taken over
	Conflicts  []Conflict `json:"conflicts"`
	More       int        `json:"more_conflicts"` // beyond those listed
}

// ImportReport is what an import did, or in a dry run would do.
type ImportReport struct {
	MergeReport
	Rows        int            `json:"rows"` // read, those with errors among them
	Errors      []LineError    `json:"errors"`
	MoreErrors  int            `json:"more_errors"`         // beyond those listed
	WithoutText int            `json:"without_recipe_text"` // new batches whose recipe came without its text
	Aside       int            `json:"aside"`               // new batches of which the table says more than an import reads
	Recipes     map[string]int `json:"recipes"`             // new batches by recipe and by metal, as they are
	Alloys      map[string]int `json:"alloys"`              // written after the names of a mapping
}

// tally notes what is worth knowing of a batch that is new here.
func (t *taker) tally(e *entry, b *record.Batch) {
	count := func(counts map[string]int, word string) {
		if _, there := counts[word]; there || len(counts) < 1000 {
			counts[word]++
		}
	}
	count(t.report.Recipes, b.Slug)
	count(t.report.Alloys, b.Alloy)
	if e.says == nil && len(b.TextSHA) > 0 && e.texts[string(b.TextSHA)] == nil {
		t.report.WithoutText++
	}
	if slices.ContainsFunc(aside[2:], func(key string) bool { return e.says[key] != "" }) { // the first two follow from the rest
		t.report.Aside++
	}
}

// wrong lists what is wrong with a row.
func (t *taker) wrong(line int, err error) {
	if t.report.MoreErrors++; len(t.report.Errors) < t.Max {
		t.report.MoreErrors--
		cure := cmp.Or(fault.CureOf(err), "correct the line, or use it as exported")
		t.report.Errors = append(t.report.Errors, LineError{Line: line, What: measure.Clean(err.Error()), Cure: measure.Clean(cure)})
	}
}
