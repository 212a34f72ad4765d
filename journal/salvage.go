package journal

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	"hepar/recipe/fault"
)

// SalvageReport says what Salvage found, and exactly what is lost. Each list has
// at most 200 entries; the counts are of all.
type SalvageReport struct {
	From  string `json:"from"`
	Into  string `json:"into"`
	Bytes int64  `json:"bytes"` // size of the damaged file
	Pages int    `json:"pages"`

	ID    string `json:"id"`     // of the journal
	NewID bool   `json:"new_id"` // the old one is lost

	Events     int `json:"events"`  // saved
	Batches    int `json:"batches"` // in the new journal, complete or not
	Containers int `json:"containers"`

	Damage      []Finding `json:"damage"` // pages and records that cannot be read
	DamageCount int       `json:"damage_count"`

	LostEvents uint64       `json:"lost_events"` // events that are missing
	Gaps       []EventRange `json:"gaps"`        // where they are missing
	GapCount   int          `json:"gap_count"`
	KnownGaps  int          `json:"known_gaps"` // gaps that an earlier salvage left: not counted here
	TailLost   bool         `json:"tail_lost"`  // whether events were lost after the last one cannot be told
	SetAside   int          `json:"set_aside"`  // sound copies of events that do not belong to the chain, such as those of a write that never ended

	Incomplete      []Finding `json:"incomplete"` // batches and containers of which something is lost, and what
	IncompleteCount int       `json:"incomplete_count"`
	LostRecipes     []string  `json:"lost_recipes"` // SHA-256 of frozen recipes
	LostRecipeCount int       `json:"lost_recipe_count"`
	LostSheets      []string  `json:"lost_sheets"` // numbers of batches whose frozen sheet is lost
	LostSheetCount  int       `json:"lost_sheet_count"`
	LostNumbers     []string  `json:"lost_numbers"` // numbers that were given out and of which nothing else is left
	LostNumberCount int       `json:"lost_number_count"`

	Verified Report `json:"verified"` // of the new journal
}

// EventRange is a row of events, both ends included. Where To is below From no
// event is missing, but that numbered From does not follow from the one before.
type EventRange struct {
	From uint64 `json:"from"`
	To   uint64 `json:"to"`
}

// Whole says that nothing was lost.
func (r SalvageReport) Whole() bool {
	return r.LostEvents == 0 && r.GapCount == 0 && !r.TailLost && !r.NewID && r.IncompleteCount == 0 && r.LostRecipeCount == 0 && r.LostSheetCount == 0 && r.LostNumberCount == 0
}

// Salvage reads what can be read of the journal, which may be damaged in any way,
// into a new one at into, where there must be nothing yet. The damaged file is
// only read. Salvage goes through all pages of the file and not by the tree that
// leads to them, so that every record whose pages are intact is found, and of each
// takes the newest sound copy that belongs to the chain of events.
//
// The events keep their bytes, numbers and digests. Where some are missing, the
// new journal says so (see FORMAT.md): Verify finds it sound, and tells of each gap.
// What batches and containers were is made anew from their events; where events of
// one are lost it is put into the state that its own record tells, by an event of
// kind Salvaged. Frozen recipes and sheets that are lost are marked as lost.
//
// It needs room for the new journal and about half as much again beside it while
// it works, and little memory however large the file is.
func (j *Journal) Salvage(into string) (SalvageReport, error) {
	report := SalvageReport{From: j.path, Into: into}
	if _, err := os.Lstat(into); err == nil {
		return report, fault.Usagef("there is something at %s already", into).Try("name a file that does not exist yet")
	} else if !errors.Is(err, fs.ErrNotExist) {
		return report, noRoom(into, err)
	}
	file, err := j.hold(false)
	if err != nil {
		return report, err
	}
	defer file.Close()
	dir := filepath.Dir(into)
	if err := makeFolder(dir); err != nil {
		return report, noRoom(into, err)
	}
	s := &salvage{journal: j, file: file, report: &report}
	defer s.remove()
	if s.stage, err = newBulk(dir, ".salvage-*"); err != nil {
		return report, noRoom(into, err)
	}
	if s.out, err = newBulk(dir, "."+filepath.Base(into)+".new-*"); err != nil {
		return report, noRoom(into, err)
	}
	if err := s.run(); err != nil {
		return report, noRoom(into, err)
	}
	if report.Events+report.Batches+report.Containers == 0 && report.NewID {
		return report, fault.Damagedf("nothing of a journal can be read in %s", j.path).Try("restore the last backup")
	}
	if report.Verified, err = At(s.out.path, Options{Wait: j.wait, Now: j.now}).Verify(); err != nil {
		return report, err
	}
	report.Verified.Path = into
	if err := os.Link(s.out.path, into); err != nil {
		if err := os.Rename(s.out.path, into); err != nil {
			return report, noRoom(into, err)
		}
	}
	if err := syncFolder(dir); err != nil {
		return report, noRoom(into, err)
	}
	return report, report.Verified.Err()
}

// salvage is one run of Salvage.
type salvage struct {
	journal  *Journal
	file     *os.File
	size     int64 // of the file
	pageSize int64
	sure     bool   // both header pages are sound
	whole    bool   // the tree can be gone to its end
	moment   uint64 // transaction that the header is of
	live     []bool // pages to which the tree leads, as far as it can be gone
	stage    *bulk  // where each record is in the damaged file, in an order of use
	out      *bulk  // the new journal
	report   *SalvageReport

	about    *aboutRecord
	head     *headRecord
	headLive bool // the head is that of the tree, and not one from before
	old      int  // sound events of format 1

	top    uint64   // last event there was, as far as can be told
	saved  uint64   // sequence number of the last event saved
	digest [32]byte // of that event
	added  bool     // an event of ours follows the old ones
	made   int      // batches and containers put into a state
	new    headRecord
	frozen map[string]string // slug by key of the recipes in the new journal
}

func (s *salvage) run() error {
	if err := s.measure(); err != nil {
		return err
	}
	for _, step := range []func() error{s.scan, s.ofFormat, s.choose, s.begin, s.events, s.batches, s.containers, s.close} {
		if err := step(); err != nil {
			return err
		}
	}
	return nil
}

// ofFormat refuses a file of another format. What it is made of says which it has,
// where the record that does is lost.
func (s *salvage) ofFormat() error {
	switch {
	case s.about != nil && s.about.Format > fileFormat:
		return s.journal.newer()
	case s.about != nil && s.about.Format < fileFormat:
	case s.about == nil && s.old > 0 && s.top == 0:
	default:
		return nil
	}
	return s.journal.older().Try("'hepar journal upgrade' brings it to the present format if it is sound; if not, %s; it was not touched", oldDamage)
}

func (s *salvage) remove() {
	for _, b := range []*bulk{s.stage, s.out} {
		if b != nil {
			b.drop()
		}
	}
}

func (r *SalvageReport) damage(where, what string) {
	r.DamageCount++
	if len(r.Damage) < mostFindings {
		r.Damage = append(r.Damage, Finding{where, what})
	}
}

func (r *SalvageReport) incomplete(where, what string) {
	r.IncompleteCount++
	if len(r.Incomplete) < mostFindings {
		r.Incomplete = append(r.Incomplete, Finding{where, what})
	}
}

func (r *SalvageReport) gap(from, to uint64) {
	r.GapCount++
	r.LostEvents += to + 1 - from
	if len(r.Gaps) < mostFindings {
		r.Gaps = append(r.Gaps, EventRange{from, to})
	}
}

// lost adds one to a list and to its count.
func lost(list *[]string, count *int, what string) {
	*count++
	if len(*list) < mostFindings {
		*list = append(*list, what)
	}
}
