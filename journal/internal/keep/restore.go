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

// mostLost is how many lost events a report lists.
const mostLost = 200

// RestoreOptions say how far Restore may go. The zero value loses nothing.
type RestoreOptions struct {
	LoseEvents   bool             // although the journal has events that the backup lacks
	OtherJournal bool             // although it is a backup of another journal
	DryRun       bool             // only look: the report says what would happen
	Backups      string           // where a backup of the journal is put first; empty means Dir
	Watch        func(events int) // told how many events of the backup were verified; may be nil
}

// RestoreReport says what Restore did, or would do.
type RestoreReport struct {
	From string `json:"from"`
	Path string `json:"path"`
	Content

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
	Of   string    `json:"of"` // the number of the batch or container
}

// Restore puts the backup at from in the place of the journal. The backup is copied
// beside the journal and verified whole first. Restore refuses one that is not sound,
// one of another journal, and one that lacks events of the journal, the last two
// unless o says otherwise; the report comes with the refusal. It refuses to replace
// a file that is no journal.
//
// Before the exchange it makes a backup of the journal, unless that is not sound.
// The old file stays beside under a dated name in any case. Numbers that were given
// out since the backup are not given out again.
func Restore(f *store.File, from string, o RestoreOptions) (report RestoreReport, err error) {
	for range attempts {
		if report, err = restore(f, from, o); !errors.Is(err, errChanged) {
			return report, err
		}
	}
	return report, fault.Busyf("somebody keeps writing to the journal %s", f.Path).Try("try again when nobody else is at work; nothing was changed")
}

// errChanged means that somebody wrote to the journal since it was looked at.
var errChanged = errors.New("the journal was written to meanwhile")

func restore(f *store.File, from string, o RestoreOptions) (RestoreReport, error) {
	report := RestoreReport{From: from, Path: f.Path, Lost: []LostEvent{}}
	if err := isBackup(f, from); err != nil {
		return report, err
	}
	var size int64
	copied, err := checkedCopy(store.Open(from, f.Wait, f.Now), f.Path, o.Watch, &report.Content, &size)
	if err != nil {
		return report, err
	}
	defer copied.Drop()
	old, events, err := look(f, copied, &report)
	if err != nil {
		return report, err
	}
	if err := report.refusal(o); err != nil || o.DryRun {
		return report, err
	}
	if old != (store.State{}) && report.OldDamage == "" {
		b, err := Backup(f, o.Backups, BackupOptions{Keep: KeepAll()})
		if fault.KindOf(err) == fault.Damaged {
			report.OldDamage = err.Error()
		} else if err != nil {
			return report, err
		}
		report.Backup = b.Path
	}
	report.Kept, err = f.Replace(copied, dated(f.Path, f.Now(), events, ".before-restore"), func(now *os.File) error {
		if store.StateOf(now) != old {
			return errChanged
		}
		return nil
	})
	return report, err
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

// look looks at the journal that is to be replaced: it says in the report what the
// copy lacks, and carries the numbers given out over to the copy. It returns the
// state in which the file was, zero if there is none, and how many events it has.
func look(f, copied *store.File, report *RestoreReport) (state store.State, events int, err error) {
	file, err := f.Hold(false)
	if errors.Is(err, fs.ErrNotExist) {
		return state, 0, nil
	}
	if err != nil {
		return state, 0, err
	}
	defer file.Close()
	state = store.StateOf(file)
	var numbers map[string]uint64
	err = f.View(func(now *store.Tx) error {
		n, _ := now.Head()
		events, numbers = int(n), now.Numbers()
		return copied.View(func(then *store.Tx) error {
			if report.OtherJournal = now.About.Journal != then.About.Journal; report.OtherJournal {
				return nil
			}
			return report.compare(now, then)
		})
	})
	if fault.KindOf(err) == fault.Damaged {
		info, err2 := file.Stat()
		if err2 != nil {
			return state, 0, f.Explain(err2)
		}
		if store.IsNoJournal(err) && info.Size() > 0 && !check.HasFrames(file, info.Size()) {
			return state, 0, fault.Failuref("%s is not a journal, and is not replaced", f.Path).Try("name the journal with --journal, or move this file away")
		}
		report.OldDamage, err = err.Error(), nil
	}
	if err == nil && !report.OtherJournal {
		err = copied.UpdateExisting(func(tx *store.Tx) error {
			for of, n := range numbers {
				tx.Skip(of, n)
			}
			return nil
		})
	}
	return state, events, err
}

// compare lists the events of now that then lacks.
func (r *RestoreReport) compare(now, then *store.Tx) error {
	known := map[record.ID]bool{}
	theirs, _ := then.Head()
	for seq := uint64(1); seq <= theirs; seq++ {
		e, err := then.Event(seq)
		if err != nil {
			return err
		}
		known[e.ID] = true
	}
	var broken error
	mine, _ := now.Head()
	for seq := uint64(1); seq <= mine; seq++ {
		e, err := now.Event(seq)
		if err != nil {
			broken = cmp.Or(broken, err)
			r.LostCount++
		} else if !known[e.ID] {
			if r.LostCount++; len(r.Lost) < mostLost {
				r.Lost = append(r.Lost, LostEvent{Seq: seq, ID: e.ID.String(), Kind: measure.Clean(e.Kind), At: e.At.Time(), By: measure.Clean(e.By), Of: numberOf(now, e.Of)})
			}
		}
	}
	return broken
}

// numberOf returns the number of a batch or a container, or its id.
func numberOf(tx *store.Tx, id record.ID) string {
	if id.IsZero() { // of the journal
		return ""
	}
	if c, err := tx.Container(id); err == nil {
		return c.Number
	}
	if b, err := tx.Batch(id); err == nil {
		return b.Number
	}
	return id.String()
}

// refusal says why the restore may not go on.
func (r *RestoreReport) refusal(o RestoreOptions) error {
	switch {
	case o.DryRun:
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
