package journal

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"hash"
	"io"
	"iter"
	"strings"

	"hepar/recipe/fault"
	"hepar/recipe/strict"
)

// Sheet is the format of Import for the table of people who kept a log by hand;
// a Mapping says what its columns are. CSV and JSONLines are those of Export.
const Sheet = "sheet"

// ImportOptions say what is read and how.
type ImportOptions struct {
	Format   string         // CSV, JSONLines or Sheet
	Mapping  *Mapping       // of a Sheet; see DecodeMapping
	Source   string         // what the file is called; kept with what was taken over
	DryRun   bool           // find out what would happen, and change nothing
	KeepHere bool           // where a batch is another here and in the file, leave it as it is here and take the rest
	By       string         // who does it; empty means the person of the journal
	Progress func(done int) // told the number of rows read from time to time; may be nil
	Max      int            // the most errors and conflicts listed; 0 means 100
}

// LineError is what is wrong with one row of an import.
type LineError struct {
	Line int // of the file, from 1: where the row begins
	What string
	Cure string
}

// ImportReport is what an import did, or in a trial would do.
type ImportReport struct {
	Rows        int // read, those with errors among them
	New         int // batches that were not here
	Further     int // batches here to which more had happened in the file
	Same        int // batches that are here already
	Events      int // taken over
	Errors      []LineError
	MoreErrors  int // errors beyond those listed
	Conflicts   []Conflict
	More        int // conflicts beyond those listed
	WithoutText int // batches new here whose recipe came without its text
	Aside       int // batches new here of which a CSV tells more than an import reads: a review, a dip, lots, waste, photos, a sign-off
	DryRun      bool
	Recipes     map[string]int // new batches by recipe and by alloy, as they are written
	Alloys      map[string]int // after the names of a mapping: for whoever knows which there are
}

// Import reads batches from r and adds those that are not here, all of them or,
// where a row is wrong or a batch is another here and in the file, none: the
// error then says how many, and the report which, each with its line. What is here
// already is known by its id and not added again; the same file twice changes
// nothing. A row without an id gets one that follows from what it says.
//
// Long imports are built beside the journal and take its place in one step. If
// something was logged meanwhile, the error is of kind fault.Busy and nothing was
// changed. Memory stays bounded, whatever is in the file.
func (j *Journal) Import(r io.Reader, o ImportOptions) (ImportReport, error) {
	sum := sha256.New()
	r = io.TeeReader(r, sum)
	var rows iter.Seq2[int, rowOrError]
	switch o.Format {
	case JSONLines:
		rows = jsonRows(r)
	case CSV:
		rows = csvRows(r)
	case Sheet:
		if o.Mapping == nil {
			return ImportReport{DryRun: o.DryRun}, fault.Usagef("a sheet needs a mapping that says what its columns are").Try("begin with 'hepar journal import --template'")
		}
		rows = o.Mapping.rows(r)
	default:
		return ImportReport{DryRun: o.DryRun}, fault.Usagef("there is no import format %q", strict.Excerpt(o.Format)).Try("name %s, %s or %s", JSONLines, CSV, Sheet)
	}
	return j.importRows(rows, sum, o)
}

// importRows imports rows; sum has been given the bytes they were read from when
// the last of them has been given.
func (j *Journal) importRows(rows iter.Seq2[int, rowOrError], sum hash.Hash, o ImportOptions) (ImportReport, error) {
	im := &importer{o: o, report: ImportReport{DryRun: o.DryRun}, most: o.Max, sum: sum}
	if im.most <= 0 {
		im.most = 100
	}
	t := &takeover{j: j, how: howImported, by: o.By, source: o.Source, dry: o.DryRun,
		digest: func() (d [32]byte) { im.sum.Sum(d[:0]); return d }, each: im.each, accept: im.accept}
	err := t.run(im.foreigners(rows))
	im.report.Events = int(t.events)
	if err != nil {
		im.report.New, im.report.Further, im.report.Events, im.report.Aside = 0, 0, 0, 0
	}
	if errors.Is(err, errRefused) {
		if err = im.refusal(); o.DryRun {
			err = nil
		}
	}
	return im.report, err
}

// importer is one import at work.
type importer struct {
	o      ImportOptions
	report ImportReport
	most   int
	sum    hash.Hash
	wrong  int
}

// rowOrError is a row of a file or what is wrong with it.
type rowOrError struct {
	row *row
	f   *foreign
	err error
}

// errRefused ends an import that has errors.
var errRefused = &fault.Error{Kind: fault.Failure, What: "refused"}

func (im *importer) refusal() error {
	conflicts := len(im.report.Conflicts) + im.report.More
	if im.wrong > 0 {
		return fault.Failuref("nothing was imported: %d of %d rows are wrong", im.wrong, im.report.Rows).
			Try("mend the rows that are listed and import the file again")
	}
	are := fmt.Sprintf("%d batches are", conflicts)
	if conflicts == 1 {
		are = "1 batch is"
	}
	return fault.Failuref("nothing was imported: %s not the same here and in the file", are).
		Try("look at those that are listed; leave them as they are here with --keep-here")
}

// foreigners turns the rows into batches and notes what is wrong. After the first
// error it reads on only to find the others.
func (im *importer) foreigners(rows iter.Seq2[int, rowOrError]) iter.Seq2[*foreign, error] {
	return func(yield func(*foreign, error) bool) {
		for line, got := range rows {
			im.report.Rows++
			if im.o.Progress != nil && im.report.Rows%1000 == 0 {
				im.o.Progress(im.report.Rows)
			}
			if got.err != nil {
				im.note(line, got.err)
			} else if im.wrong == 0 {
				got.f.line = line
				if !yield(got.f, nil) {
					return
				}
			}
		}
		if im.wrong > 0 {
			yield(nil, errRefused)
		}
	}
}

func (im *importer) note(line int, err error) {
	im.wrong++
	if len(im.report.Errors) >= im.most {
		im.report.MoreErrors++
		return
	}
	cure := fault.CureOf(err)
	if cure == "" {
		cure = "mend the line, or take it as it was exported"
	}
	im.report.Errors = append(im.report.Errors, LineError{Line: line, What: oneLine(err.Error()), Cure: oneLine(cure)})
}

// oneLine keeps a message that tells of foreign text to one line that prints.
func oneLine(text string) string { return strict.Plain(strings.ReplaceAll(text, "\n", " ")) }

func (im *importer) each(f *foreign, became fate, c *Conflict) {
	switch became {
	case fateNew:
		im.report.New++
		tally(&im.report.Recipes, f.recipe.Slug)
		if plan := f.events[0].Plan; plan != nil {
			tally(&im.report.Alloys, plan.Alloy)
		}
		if f.recipe.Text == "" {
			im.report.WithoutText++
		}
		if f.row != nil && f.row.aside {
			im.report.Aside++
		}
	case fateFurther:
		im.report.Further++
	case fateSame:
		im.report.Same++
	}
	switch {
	case c == nil:
	case len(im.report.Conflicts) < im.most:
		c.What = oneLine(c.What)
		im.report.Conflicts = append(im.report.Conflicts, *c)
	default:
		im.report.More++
	}
}

// mostWords is how many different words a tally counts: far more than a workshop has.
const mostWords = 1000

func tally(counts *map[string]int, word string) {
	if *counts == nil {
		*counts = map[string]int{}
	}
	if _, there := (*counts)[word]; there || len(*counts) < mostWords {
		(*counts)[strings.Clone(word)]++
	}
}

func (im *importer) accept() error {
	if im.wrong > 0 || len(im.report.Conflicts) > 0 && !im.o.KeepHere {
		return errRefused
	}
	return nil
}

// finish checks a row and makes a batch of it.
func finish(v View, loose bool, digests *recipeDigests) rowOrError {
	r, err := cleanView(v)
	if err != nil {
		return rowOrError{err: err}
	}
	r.loose = loose
	f, err := r.foreign(digests)
	return rowOrError{row: r, f: f, err: err}
}

// guard turns a panic, which is a fault of ours and must not end the bench, into
// an error of the row.
func guard(fn func() rowOrError) (got rowOrError) {
	defer func() {
		if trouble := recover(); trouble != nil {
			got = rowOrError{err: fmt.Errorf("the row could not be read: %v", trouble)}
		}
	}()
	return fn()
}
