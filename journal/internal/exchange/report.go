package exchange

import (
	"hepar/journal/internal/record"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// mostListed is how many errors and conflicts a report lists unless it is told
// another number, and mostWords how many recipes and metals it counts.
const (
	mostListed = 100
	mostWords  = 1000
)

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

	most int
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

func newReport(dry bool, most int) MergeReport {
	if most <= 0 {
		most = mostListed
	}
	return MergeReport{DryRun: dry, Conflicts: []Conflict{}, most: most}
}

// add counts what became of an entry; c says in what it differs, if it does.
func (r *MergeReport) add(e *entry, became fate, c *Conflict) {
	switch {
	case became == refused:
	case e.stock && became != same:
		r.Containers++
	case e.stock:
	case became == isNew:
		r.New++
	case became == further:
		r.Further++
	default:
		r.Same++
	}
	switch {
	case c.What == "":
	case len(r.Conflicts) < r.most:
		c.What, c.Merged = measure.Clean(c.What), became != refused
		r.Conflicts = append(r.Conflicts, *c)
	default:
		r.More++
	}
}

// wrong lists an error.
func (r *ImportReport) wrong(line int, err error) {
	if len(r.Errors) >= r.most {
		r.MoreErrors++
		return
	}
	cure := fault.CureOf(err)
	if cure == "" {
		cure = "mend the line, or take it as it was exported"
	}
	r.Errors = append(r.Errors, LineError{Line: line, What: measure.Clean(err.Error()), Cure: measure.Clean(cure)})
}

func tally(counts map[string]int, word string) {
	if _, there := counts[word]; there || len(counts) < mostWords {
		counts[word]++
	}
}
