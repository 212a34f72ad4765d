package keep

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"hepar/journal/internal/check"
	"hepar/journal/internal/store"
	"hepar/recipe/fault"
)

// ending ends the name of every backup. Only such files are ever pruned.
const ending = ".backup"

const stamp = "20060102T150405Z"

// BackupOptions say how a backup is made. The zero value is good.
type BackupOptions struct {
	Keep  Keep             // which older ones stay; the zero value means DefaultKeep
	Watch func(events int) // told how many events of the copy were verified; may be nil
}

// BackupReport says what Backup did.
type BackupReport struct {
	Path    string   `json:"path"`
	ID      string   `json:"id"` // of the journal
	Bytes   int64    `json:"bytes"`
	Events  int      `json:"events"`
	Batches int      `json:"batches"`
	Head    string   `json:"head"`   // SHA-256 of the last event
	Pruned  []string `json:"pruned"` // older backups that were removed
	Left    int      `json:"left"`   // backups of this journal that there are now
}

// Dir returns where backups go when no folder is named: "backups" beside the journal.
func Dir(f *store.File) string { return filepath.Join(filepath.Dir(f.Path), "backups") }

// Backup writes a copy of the journal into dir (empty means Dir), which it makes if
// it is missing. Writers wait while the bytes are copied, and not while the copy is
// verified. Only a sound copy gets its name, such as
//
//	hepar.journal-20261125T071502Z-1834.backup
//
// which says when it was made (UTC) and how many events it has. It returns an error
// of kind Damaged if the journal is not sound; nothing is kept or pruned then.
//
// Then older backups are pruned by o.Keep.
func Backup(f *store.File, dir string, o BackupOptions) (BackupReport, error) {
	report := BackupReport{Pruned: []string{}}
	if dir == "" {
		dir = Dir(f)
	}
	file, err := f.Hold(false)
	if err != nil {
		return report, err
	}
	defer file.Close()
	beside := filepath.Join(dir, filepath.Base(f.Path))
	if err := store.MakeFolder(dir); err != nil {
		return report, store.NoRoom(beside, err)
	}
	copied, err := store.Beside(beside, file)
	if err != nil {
		return report, err
	}
	file.Close() // from here on others may write
	defer copied.Drop()
	copied.Called, copied.Now = f.Path, f.Now
	found, err := sound(copied, o.Watch)
	if err != nil {
		return report, err
	}
	report.ID, report.Bytes, report.Events, report.Batches, report.Head = found.ID, found.Bytes, found.Events, found.Batches, found.Head
	now := f.Now()
	if report.Path, err = store.Give(copied.Path, dated(beside, now, found.Events, ending)); err != nil {
		return report, store.NoRoom(beside, err)
	}
	return report, prune(f, dir, o.Keep, now, &report)
}

// sound verifies a copy, and returns an error of kind Damaged if it is not sound.
func sound(copied *store.File, watch func(int)) (check.Report, error) {
	found, err := check.Verify(copied, watch)
	found.Path = copied.Called
	if err == nil {
		err = found.Err()
	}
	return found, err
}

// dated returns the name of a copy: path, the time in UTC, the number of events.
func dated(path string, at time.Time, events int, ending string) string {
	return fmt.Sprintf("%s-%s-%d%s", path, at.UTC().Format(stamp), events, ending)
}

// readDated reads the name of a backup of the journal called base.
func readDated(name, base string) (at time.Time, events int, ok bool) {
	rest, ok1 := strings.CutPrefix(name, base+"-")
	rest, ok2 := strings.CutSuffix(rest, ending)
	text, count, ok3 := strings.Cut(rest, "-")
	count, again, more := strings.Cut(count, ".") // the second of the same second is called .2
	at, err1 := time.Parse(stamp, text)
	events, err2 := strconv.Atoi(count)
	if more {
		if n, err := strconv.Atoi(again); err != nil || n < 2 {
			return at, 0, false
		}
	}
	return at, events, ok1 && ok2 && ok3 && err1 == nil && err2 == nil
}

// BackupFile is a backup that was made earlier.
type BackupFile struct {
	Path   string    `json:"path"`
	Made   time.Time `json:"made"` // by its name, in UTC
	Events int       `json:"events"`
	ID     string    `json:"id"` // of the journal
	Bytes  int64     `json:"bytes"`
}

// Backups returns the backups of the journal in dir (empty means Dir), newest first:
// the files that have the name of one, hold the id of this journal, and have as many
// events as their name says. With dir empty it is the folder beside the journal,
// which need not be there. If the journal
// itself cannot be read, the backups of any journal of its name are returned.
func Backups(f *store.File, dir string) ([]BackupFile, error) {
	named := dir != ""
	if !named {
		dir = Dir(f)
	}
	entries, err := os.ReadDir(dir)
	if !named && errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, fault.Failuref("the folder %s cannot be read", dir).Because(store.Reason(err)).Try("see that it is there and may be read")
	}
	mine, _, _ := peek(f)
	var all []BackupFile
	for _, e := range entries {
		at, events, ok := readDated(e.Name(), filepath.Base(f.Path))
		info, err := e.Info()
		if !ok || err != nil || !info.Mode().IsRegular() {
			continue
		}
		b := BackupFile{Path: filepath.Join(dir, e.Name()), Made: at, Events: events, Bytes: info.Size()}
		var has int
		if b.ID, has, err = peek(store.Open(b.Path, -1, f.Now)); err == nil && has == events && (mine == "" || b.ID == mine) {
			all = append(all, b)
		}
	}
	slices.SortFunc(all, func(a, b BackupFile) int {
		return cmp.Or(b.Made.Compare(a.Made), cmp.Compare(b.Events, a.Events), cmp.Compare(len(b.Path), len(a.Path)), strings.Compare(b.Path, a.Path))
	})
	return all, nil
}

// peek returns the id of a journal and how many events it has.
func peek(f *store.File) (id string, events int, err error) {
	err = f.View(func(tx *store.Tx) error {
		n, _ := tx.Head()
		id, events = tx.About.Journal.String(), int(n)
		return nil
	})
	return id, events, err
}
