package check

import (
	"fmt"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// mostListed is how many entries a list of a report has; the rest are only counted.
const mostListed = 200

// Finding is one thing that is wrong with a journal, or lost of it.
type Finding struct {
	Where string `json:"where"` // the pages, an event, a batch
	What  string `json:"what"`
}

// Report is what Verify found.
type Report struct {
	Path       string    `json:"path"`
	Format     int       `json:"format"`
	ID         string    `json:"id"`    // of the journal
	Bytes      int64     `json:"bytes"` // size of the file
	Events     int       `json:"events"`
	Batches    int       `json:"batches"`
	Containers int       `json:"containers"`
	Head       string    `json:"head"` // SHA-256 of the last event: whoever noted it can tell later that nothing before it was changed
	Findings   []Finding `json:"findings"`
	More       int       `json:"more"` // findings beyond those listed

	Missing     []Finding `json:"missing"` // what was lost before the journal was salvaged: no fault of this file
	MoreMissing int       `json:"more_missing"`
	Newer       []Finding `json:"newer"` // what a newer hepar wrote and this one does not understand
	MoreNewer   int       `json:"more_newer"`
}

// Sound says that nothing is wrong.
func (r Report) Sound() bool { return len(r.Findings) == 0 }

// Err returns nil for a sound journal, and else a fault of kind Damaged.
func (r Report) Err() error {
	if r.Sound() {
		return nil
	}
	f := r.Findings[0]
	return fault.Damagedf("the journal %s is not sound: %s: %s (%d findings)", r.Path, f.Where, f.What, len(r.Findings)+r.More).
		Try("write nothing more to it: copy the file, then restore the last backup or run 'hepar journal salvage'")
}

func (r *Report) add(where, format string, args ...any) {
	list(&r.Findings, &r.More, where, format, args...)
}

func (r *Report) missing(where, format string, args ...any) {
	list(&r.Missing, &r.MoreMissing, where, format, args...)
}

func (r *Report) newer(where, format string, args ...any) {
	list(&r.Newer, &r.MoreNewer, where, format, args...)
}

// list adds an entry to a list that has an end. What comes from a file is cleaned.
func list(to *[]Finding, more *int, where, format string, args ...any) {
	if len(*to) == mostListed {
		*more++
		return
	}
	*to = append(*to, Finding{Where: measure.Clean(where), What: measure.Clean(fmt.Sprintf(format, args...))})
}
