package journal

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"runtime/debug"

	bolt "go.etcd.io/bbolt"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// MergeOptions say how to merge.
type MergeOptions struct {
	By       string         // who does it; empty means the person of the journal
	DryRun   bool           // find out what would happen, and change nothing
	Progress func(done int) // told the number of batches looked at from time to time; may be nil
}

// MergeReport is what a merge did, or in a trial would do.
type MergeReport struct {
	New       int // batches that were not here
	Further   int // batches here to which more had happened there
	Same      int // batches that are here as they are there, or further
	Conflicts []Conflict
	More      int // conflicts beyond those listed
	Events    int // taken over
	DryRun    bool
}

// Merge takes over what is in the journal of another bench, and leaves that
// journal as it is. Which events are the same is told by their ids and what they
// say; none comes twice, and merging again changes nothing. A batch that both
// sides changed keeps the events of both, in the order of their ids, and is
// listed as a conflict for somebody to look at: it is what those events make of
// it, here as well as there once that side has merged too. A batch whose events
// cannot both be true (the same id, other words) stays as it is here and is
// listed. Short numbers stay; where both benches gave the same one, see number.go:
// both batches are written with an ending.
//
// The other journal must be sound, and is held for reading meanwhile. All is
// taken over or nothing.
func (j *Journal) Merge(other string, o MergeOptions) (MergeReport, error) {
	report := MergeReport{DryRun: o.DryRun}
	from := At(other, Options{Wait: j.wait, Now: j.now})
	if mine, err := os.Stat(j.path); err == nil {
		if theirs, err := os.Stat(other); err == nil && os.SameFile(mine, theirs) {
			return report, fault.Usagef("%s is this journal itself", measure.Clean(other)).Try("name the journal of the other bench")
		}
	}
	if p, err := peek(other); err == nil && p.about.Format != fileFormat {
		if p.about.Format < fileFormat {
			return report, from.otherOlder()
		}
		return report, from.newer()
	}
	checked, err := from.Verify()
	if err == nil {
		err = checked.Err()
	}
	if err != nil {
		return report, cannotMerge(err)
	}
	var head headRecord
	t := &takeover{j: j, how: howMerged, by: o.By, source: filepath.Base(other), dry: o.DryRun,
		digest: func() [32]byte { return head.Digest }, accept: func() error { return nil }}
	done := 0
	t.each = func(_ *foreign, became fate, c *Conflict) {
		switch became {
		case fateNew:
			report.New++
		case fateFurther:
			report.Further++
		case fateSame:
			report.Same++
		}
		if c != nil && len(report.Conflicts) < mostFindings {
			report.Conflicts = append(report.Conflicts, *c)
		} else if c != nil {
			report.More++
		}
		if done++; o.Progress != nil && done%1000 == 0 {
			o.Progress(done)
		}
	}
	err = from.read(func(tx *bolt.Tx) (err error) {
		if head, err = readHead(tx); err != nil {
			return err
		}
		var about aboutRecord
		if about, err = readAbout(tx); err != nil {
			return err
		}
		t.from = about.Journal
		r, err := newReader(tx)
		if err != nil {
			return err
		}
		return t.run(r.foreigners)
	})
	report.Events = int(t.events)
	return report, err
}

// cannotMerge says what to do about the journal of the other bench, which is not
// the one that the cures of other errors speak of.
func cannotMerge(err error) error {
	var f *fault.Error
	if !errors.As(err, &f) {
		return err
	}
	other := *f
	switch f.Kind {
	case fault.Damaged:
		other.Cure = "name the journal of the other bench; if it is the right file, salvage it there first and merge what was saved"
	case fault.Failure:
		other.Cure = "name the journal of the other bench"
	}
	return &other
}

// foreigners gives all batches, as another journal takes them.
func (r *reader) foreigners(yield func(*foreign, error) bool) {
	defer debug.SetPanicOnFault(debug.SetPanicOnFault(true)) // it may run beside the one who called
	give := func(s *standing) (*foreign, error) {
		b, events, err := r.replay(s)
		if err != nil {
			return nil, err
		}
		recipe, err := r.recipe(b)
		if err != nil {
			return nil, err
		}
		f := &foreign{id: b.ID, events: events, recipe: *recipe}
		recipes, err := bucket(r.tx, recipesBucket)
		if err != nil {
			return nil, err
		}
		if blobLost(recipes, b.Plan.Recipe) {
			if f.recipeLost, err = getBlob(recipes, b.Plan.Recipe, b.Plan.Recipe); err != nil {
				return nil, err
			}
			f.recipeLost = bytes.Clone(f.recipeLost)
		}
		f.sheet, err = r.sheet(b)
		return f, err
	}
	c := &keyCursor{cursor: r.batches.Cursor()}
	i, ok, err := c.seek(id{}, false)
	for ; ok && err == nil; i, ok, err = c.step(false) {
		var s standing
		if err = decodeStanding(i, c.value, &s); err != nil {
			break
		}
		f, bad := give(&s)
		if bad != nil {
			err = bad
			break
		}
		if !yield(f, nil) {
			return
		}
	}
	if err != nil {
		yield(nil, err)
	}
}
