package keep

import (
	"cmp"
	"errors"
	"io"
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
// are not given out again.
func Restore(f *store.File, from string, o RestoreOptions) (RestoreReport, error) {
	r := RestoreReport{From: from, Path: f.Path, Lost: []LostEvent{}}
	if err := isBackup(f, from); err != nil {
		return r, err
	}
	kept, err := f.Exchange(func(made *store.File, there bool) (keep string) {
		made.Called = from
		made.Copy(store.Open(from, f.Wait, f.Now))
		r.Content = sound(made).Content
		events := 0
		if there {
			events = r.look(f, made)
		}
		if o.DryRun {
			fault.Check(store.ErrStop)
		}
		fault.Check(r.refusal(o))
		if !there {
			return ""
		}
		if r.OldDamage == "" {
			b, err := backup(f, "")
			if r.Backup = b.Path; fault.KindOf(err) == fault.Damaged {
				r.OldDamage, err = err.Error(), nil
			}
			fault.Check(err)
		}
		return dated(f, f.Path, events, ".before-restore")
	})
	r.Kept = kept
	return r, err
}

// isBackup returns an error if there is nothing at from, or the journal itself.
func isBackup(f *store.File, from string) error {
	info, err := os.Stat(from)
	if errors.Is(err, fs.ErrNotExist) {
		return fault.Failuref("there is no backup at %s", measure.Clean(from)).Try("see the backups there are with 'hepar journal backup --list'")
	}
	if err != nil {
		return fault.Failuref("the backup %s cannot be read", measure.Clean(from)).Because(store.Reason(err)).Try("check the path and that you may read the file")
	}
	if mine, err := os.Stat(f.Path); err == nil && os.SameFile(info, mine) {
		return fault.Usagef("%s is the journal itself", from).Try("name a backup of it")
	}
	return fault.Caught(func() {
		fault.Need(!isForeign(store.Open(from, f.Wait, f.Now)), fault.Damagedf("%s is not a journal, nor a backup of one", measure.Clean(from)).
			Try("see the backups there are with 'hepar journal backup --list'"))
	})
}

// look says in the report what the copy lacks of the journal, and carries the numbers
// given out over to the copy. It returns how many events the journal has.
func (r *RestoreReport) look(f, copied *store.File) (events int) {
	err := f.View(func(now *store.Tx) error {
		events = int(now.Head.Seq)
		return copied.UpdateExisting(func(then *store.Tx) error {
			if r.OtherJournal = now.About.Journal != then.About.Journal; !r.OtherJournal {
				r.compare(f, now, then)
				then.Skip(now.Head.Numbers)
			}
			return nil
		})
	})
	if fault.KindOf(err) == fault.Damaged {
		if errors.Is(err, store.ErrNoJournal) && isForeign(f) {
			fault.Check(fault.Failuref("%s is not a journal, and is not replaced", f.Path).Try("name the journal with --journal, or move this file away"))
		}
		r.OldDamage, err = err.Error(), nil
	}
	fault.Check(err)
	return events
}

// isForeign says whether there is something in a file, and nothing of a journal.
func isForeign(f *store.File) bool {
	file := fault.Must(f.Hold(false))
	defer file.Close()
	size := fault.Must(file.Seek(0, io.SeekEnd))
	for _, err := range store.ScanFrames(file, size) {
		if err == nil {
			return false
		}
	}
	return size > 0
}

// compare lists the events of now that then lacks.
func (r *RestoreReport) compare(f *store.File, now, then *store.Tx) {
	known := map[record.ID]bool{}
	for seq := uint64(1); seq <= then.Head.Seq; seq++ {
		known[then.Event(seq).ID] = true
	}
	for seq := uint64(1); seq <= now.Head.Seq; seq++ {
		var e *record.Event
		if err := fault.Caught(func() { e = now.Event(seq) }); err != nil {
			r.OldDamage = cmp.Or(r.OldDamage, f.Explain(err).Error())
			r.LostCount++
		} else if !known[e.ID] {
			if r.LostCount++; len(r.Lost) == mostLost {
				continue
			}
			lost := LostEvent{Seq: seq, ID: e.ID.String(), Kind: measure.Clean(e.Kind), At: e.At.Time(), By: measure.Clean(e.By)}
			if !e.Of.IsZero() {
				lost.Of = e.Of.String()
				_ = fault.Caught(func() { lost.Of = now.Thing(e.Of).Short() })
			}
			r.Lost = append(r.Lost, lost)
		}
	}
}

func (r *RestoreReport) refusal(o RestoreOptions) error {
	switch {
	case r.OtherJournal && !o.OtherJournal:
		return fault.Usagef("%s is a backup of another journal (%s)", r.From, r.ID).
			Try("name a backup of this one, or, to restore it all the same, add --other-journal")
	case r.LostCount > 0 && !o.LoseEvents:
		text := ""
		if len(r.Lost) > 0 {
			first := r.Lost[0]
			text = ", the first of " + first.At.Format("2006-01-02 15:04") + " (" + strings.TrimSpace(strings.ReplaceAll(first.Kind, "-", " ")+" "+first.Of) + ")"
		}
		return fault.Failuref("the journal has %s that %s lacks%s", measure.Counted(r.LostCount, "event", "events"), r.From, text).
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
// wrote meanwhile. On any error the journal stays as it was.
func Compact(f *store.File) (report CompactReport, err error) {
	report.Path = f.Path
	if report.Before, err = f.Size(); err != nil {
		return report, err
	}
	_, err = f.Exchange(func(made *store.File, _ bool) (keep string) {
		made.Compact(f)
		found := sound(made)
		report.Content, report.After = found.Content, found.Bytes
		return ""
	})
	return report, err
}
