package exchange

import (
	"crypto/sha256"
	"io"
	"iter"

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

// ImportOptions say what is read and how. A merge knows DryRun, By and Progress of them.
type ImportOptions struct {
	Format   string         // CSV, JSONLines or Sheet
	Mapping  *Mapping       // of a Sheet; see ReadMapping
	Source   string         // what the file is called; kept with what is taken over
	DryRun   bool           // find out what would happen, and change nothing
	KeepHere bool           // if a batch is another here and in the file, leave it as it is here and take the rest
	By       string         // who does it
	Progress func(done int) // told the number of rows or batches looked at from time to time; may be nil
	Max      int            // the most errors and conflicts listed; 0 means 100
}

// Import reads batches from r and takes over those that are not here: all of them,
// or none if a row is wrong or a batch is another here and in the file. The error then says how
// many, and the report which. What is here already is known by its id; the same
// file twice changes nothing. The error is of kind fault.Busy if somebody wrote to
// the journal meanwhile. Memory stays bounded, whatever is in the file.
func Import(file *store.File, r io.Reader, o ImportOptions) (ImportReport, error) {
	sum := sha256.New()
	t := newTaker(o, record.Source{How: "imported", File: o.Source})
	report := &t.report
	rows, err := o.rows(io.TeeReader(r, sum))
	if err != nil {
		return *report, err
	}
	refused := false
	err = t.run(file, func(yield func(*entry, error) bool) {
		for e, err := range rows {
			t.tell()
			if err != nil {
				t.wrong(e.line, err)
			} else if len(report.Errors) == 0 && !yield(e, nil) { // after an error only further errors are looked for
				return
			}
		}
		t.source.SHA256 = sum.Sum(nil)
		if report.Rows == 0 {
			yield(nil, fault.Failuref("there is nothing to import in %s", measure.Clean(o.Source)).Try("name a file that an export wrote, or a table with rows"))
		} else if refused = len(report.Errors) > 0 || len(report.Conflicts) > 0 && !o.KeepHere; refused {
			yield(nil, report.refusal())
		}
	})
	if err != nil {
		report.New, report.Further, report.Containers, report.Events, report.Aside = 0, 0, 0, 0, 0
	}
	if refused && o.DryRun {
		err = nil
	}
	return *report, err
}

func (o ImportOptions) rows(r io.Reader) (iter.Seq2[*entry, error], error) {
	switch {
	case o.Format == JSONLines:
		return lines(r), nil
	case o.Format == CSV:
		return exported.rows(r), nil
	case o.Format == Sheet && o.Mapping != nil:
		return o.Mapping.rows(r), nil
	case o.Format == Sheet:
		return nil, fault.Usagef("a sheet needs a mapping that says what its columns are").Try("begin one with 'hepar journal import --template'")
	}
	return nil, fault.Usagef("there is no import format %q", measure.Clean(o.Format)).Try("write %s, %s or %s", JSONLines, CSV, Sheet)
}

func (r *ImportReport) refusal() error {
	if n := len(r.Errors) + r.MoreErrors; n > 0 {
		return fault.Failuref("nothing was imported; wrong rows: %d of %d", n, r.Rows).Try("mend the rows that are listed and import the file again")
	}
	return fault.Failuref("nothing was imported; batches that are not the same here and in the file: %d", len(r.Conflicts)+r.More).
		Try("look at those that are listed; leave them as they are here with --keep-here")
}
