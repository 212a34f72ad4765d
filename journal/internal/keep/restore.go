package keep

import (
	"cmp"
	"errors"
	"io/fs"
	"os"
	"strings"
	"time"

	"hepar/journal/internal/check"
	"hepar/journal/internal/record"
	"hepar/journal/internal/store"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

const mostLost = 200

// RestoreOptions say how far Restore may go. The zero value loses nothing.
type RestoreOptions struct {
	LoseEvents   bool // although the journal has events that the backup lacks
	OtherJournal bool // although it is a backup of another journal
	DryRun       bool // only look: the report says what would happen
}

// RestoreReport says what Restore did, or would do.
type RestoreReport struct {
	From string `json:"from"`
	Path string `json:"path"`
	check.Content

	Kept         string      `json:"kept"`          // where the old file is now; empty if there was none
	Backup       string      `json:"backup"`        // the backup that was made of it first; empty if it was not sound
	OtherJournal bool        `json:"other_journal"` // the old file was another journal
	OldDamage    string      `json:"old_damage"`    // why the old file could not be read to the end; empty if it could
	Lost         []LostEvent `json:"lost"`          // events of the old file that the backup lacks, at most 200
	LostCount    int         `json:"lost_count"`    // how many there are
}

// LostEvent is an event that a restore takes out of the journal. It stays in the
// file that was kept.
type LostEvent struct {
	Seq  uint64    `json:"seq"`
	ID   string    `json:"id"`
	Kind string    `json:"kind"`
	At   time.Time `json:"at"`
	By   string    `json:"by"`
	Of   string    `json:"of"` // the number of the batch or container, or its id
}

// Restore puts the backup at from in the place of the journal. It copies the backup
// beside and verifies it whole first. It refuses one that is not sound, and, unless o
// says otherwise, one of another journal or one that lacks events of the journal; the
// report comes with the refusal. It refuses to replace a file that is no journal.
//
// Before the exchange it makes a backup of the journal, unless that is not sound. The
// old file stays beside under a dated name. Numbers that were given out since the backup
// are not given out again. Watch is told how many events were verified; it may be nil.
func Restore(f *store.File, from string, o RestoreOptions, watch func(events int)) (report RestoreReport, err error) {
	if err := isBackup(f, from); err != nil {
		return RestoreReport{From: from, Path: f.Path, Lost: []LostEvent{}}, err
	}
	err = again(func() (err error) {
		report = RestoreReport{From: from, Path: f.Path, Lost: []LostEvent{}}
		copied, found, err := checkedCopy(store.Open(from, f.Wait, f.Now), f.Path, watch)
		report.Content = found.Content
		if err != nil {
			return err
		}
		defer copied.Drop()
		there, events := false, 0
		report.Kept, err = f.Exchange(func(old *os.File) (*store.File, error) {
			if there = old != nil; there {
				events, err = report.look(f, old, copied)
			}
			return copied, err
		}, func(*store.File) (string, error) {
			if o.DryRun {
				return "", store.ErrStop
			}
			if err := report.refusal(o); err != nil || !there {
				return "", err
			}
			if report.OldDamage == "" {
				b, err := backup(f, "", nil)
				if fault.KindOf(err) == fault.Damaged {
					report.OldDamage = err.Error()
				} else if err != nil {
					return "", err
				}
				report.Backup = b.Path
			}
			return dated(f.Path, f.Now(), events, ".before-restore"), nil
		})
		return err
	})
	return report, err
}

// again does work once more where somebody wrote to the journal meanwhile.
func again(work func() error) (err error) {
	for range 3 {
		if err = work(); !errors.Is(err, store.ErrChanged) {
			break
		}
	}
	return err
}

// isBackup returns an error if there is nothing at from, or the journal itself.
func isBackup(f *store.File, from string) error {
	info, err := os.Stat(from)
	if errors.Is(err, fs.ErrNotExist) {
		return fault.Failuref("there is no backup at %s", measure.Clean(from)).Try("see the backups there are with 'hepar journal backup --list'")
	}
	if err != nil {
		return fault.Failuref("the backup %s cannot be read", measure.Clean(from)).Because(store.Reason(err)).Try("see that the path is right and the file may be read")
	}
	if mine, err := os.Stat(f.Path); err == nil && os.SameFile(info, mine) {
		return fault.Usagef("%s is the journal itself", from).Try("name a backup of it")
	}
	return nil
}

// look says in the report what the copy lacks of the journal, and carries the numbers
// given out over to the copy. It returns how many events the journal has.
func (r *RestoreReport) look(f *store.File, old *os.File, copied *store.File) (events int, err error) {
	err = f.View(func(now *store.Tx) (broken error) {
		n, _ := now.Head()
		events = int(n)
		err := copied.UpdateExisting(func(then *store.Tx) error {
			if r.OtherJournal = now.About.Journal != then.About.Journal; !r.OtherJournal {
				broken = r.compare(now, then)
				then.Skip(now.Numbers())
			}
			return nil
		})
		return cmp.Or(err, broken)
	})
	if fault.KindOf(err) == fault.Damaged {
		info, err2 := old.Stat()
		if err2 != nil {
			return 0, f.Explain(err2)
		}
		if errors.Is(err, store.ErrNoJournal) && info.Size() > 0 && !check.HasFrames(old, info.Size()) {
			return 0, fault.Failuref("%s is not a journal, and is not replaced", f.Path).Try("name the journal with --journal, or move this file away")
		}
		r.OldDamage, err = err.Error(), nil
	}
	return events, err
}

// compare lists the events of now that then lacks.
func (r *RestoreReport) compare(now, then *store.Tx) error {
	known := map[record.ID]bool{}
	theirs, _ := then.Head()
	for seq := uint64(1); seq <= theirs; seq++ {
		known[then.Event(seq).ID] = true
	}
	var broken error
	mine, _ := now.Head()
	for seq := uint64(1); seq <= mine; seq++ {
		var e *record.Event
		if err := fault.Caught(func() { e = now.Event(seq) }); err != nil {
			broken = cmp.Or(broken, err)
			r.LostCount++
		} else if !known[e.ID] {
			if r.LostCount++; len(r.Lost) == mostLost {
				continue
			}
			lost := LostEvent{Seq: seq, ID: e.ID.String(), Kind: measure.Clean(e.Kind), At: e.At.Time(), By: measure.Clean(e.By)}
			if !e.Of.IsZero() {
				lost.Of = e.Of.String()
				_ = fault.Caught(func() { lost.Of = now.Thing(e.Of, now.HasContainer(e.Of)).Short() })
			}
			r.Lost = append(r.Lost, lost)
		}
	}
	return broken
}

func (r *RestoreReport) refusal(o RestoreOptions) error {
	switch {
	case r.OtherJournal && !o.OtherJournal:
		return fault.Usagef("%s is a backup of another journal (%s)", r.From, r.ID).
			Try("name a backup of this one, or put the other in its place with --other-journal")
	case r.LostCount > 0 && !o.LoseEvents:
		text := ""
		if len(r.Lost) > 0 {
			first := r.Lost[0]
			text = ", the first of " + first.At.Format("2006-01-02 15:04") + " (" + strings.TrimSpace(first.Kind+" "+first.Of) + ")"
		}
		return fault.Failuref("the journal has %d events that %s lacks%s", r.LostCount, r.From, text).
			Try("look at them with --dry-run; to go back all the same, add --lose-events (the present file is kept beside)")
	}
	return nil
}

// CompactReport says what Compact did.
type CompactReport struct {
	Path          string `json:"path"`
	Before        int64  `json:"before"` // size of the file in bytes
	After         int64  `json:"after"`
	check.Content        // the same before and after
}

// Compact writes the journal anew without the room that nothing uses. Every event
// stays as it is, byte by byte. The new file is verified before it takes the place
// of the old; writers need not wait for that. The error is of kind Busy if somebody
// keeps writing. On any error the journal stays as it was.
func Compact(f *store.File, watch func(events int)) (report CompactReport, err error) {
	report.Path = f.Path
	err = again(func() error {
		_, err := f.Exchange(func(old *os.File) (*store.File, error) {
			if old == nil {
				return nil, f.Explain(fs.ErrNotExist)
			}
			info, err := old.Stat()
			if err != nil {
				return nil, f.Explain(err)
			}
			report.Before = info.Size()
			return f.Compacted()
		}, func(small *store.File) (string, error) {
			found, err := sound(small, watch)
			report.Content, report.After = found.Content, found.Bytes
			return "", err
		})
		return err
	})
	return report, err
}
