package keep

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
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

// BackupReport says what Backup did.
type BackupReport struct {
	Path string `json:"path"`
	check.Content
	Bytes  int64    `json:"bytes"`
	Pruned []string `json:"pruned"` // older backups that were removed
	Left   int      `json:"left"`   // backups of this journal that there are now
}

// Dir returns where backups go when no folder is named: "backups" beside the journal.
func Dir(f *store.File) string { return filepath.Join(filepath.Dir(f.Path), "backups") }

// Backup writes a copy of the journal into dir (empty means Dir), which it makes if it is
// missing, and verifies it while others may write. Only a sound copy gets its name, such as
//
//	hepar.journal-20261125T071502Z-1834.backup
//
// which says when it was made (UTC) and how many events it has. Then older backups are
// pruned: see Dropped. The error is of kind Damaged if the journal is not sound; nothing
// is kept or pruned then.
func Backup(f *store.File, dir string) (BackupReport, error) {
	report, err := backup(f, dir)
	if err == nil {
		err = fault.Caught(func() { report.prune(f, dir) })
	}
	return report, err
}

func backup(f *store.File, dir string) (report BackupReport, err error) {
	report.Pruned = []string{}
	path := filepath.Join(cmp.Or(dir, Dir(f)), filepath.Base(f.Path))
	if _, err := f.Size(); err != nil {
		return report, err // before a folder is made
	}
	if err := store.MakeFolder(filepath.Dir(path)); err != nil {
		return report, store.NoRoom(path, err)
	}
	err = f.Beside(path, func(made *store.File) {
		made.Copy(f)
		found := sound(made)
		report.Content, report.Bytes = found.Content, found.Bytes
		report.Path = fault.Must(store.Give(made.Path, dated(f, path, report.Events, ending), 1000))
	})
	return report, err
}

// sound verifies a copy, and stops at one that is not sound.
func sound(copied *store.File) check.Report {
	found := fault.Must(check.Verify(copied))
	found.Path = copied.Called
	fault.Check(found.Err())
	return found
}

// dated returns the name of a copy: path, the time in UTC, the number of events.
func dated(f *store.File, path string, events int, ending string) string {
	return fmt.Sprintf("%s-%s-%d%s", path, f.Now().UTC().Format(stamp), events, ending)
}

// BackupFile is a backup that was made earlier.
type BackupFile struct {
	Path   string    `json:"path"`
	Made   time.Time `json:"made"` // by its name, in UTC
	Events int       `json:"events"`
	ID     string    `json:"id"` // of the journal
	Bytes  int64     `json:"bytes"`
}

// Backups returns the backups of the journal in dir (empty means Dir, which need not be
// there), newest first: the files that have the name of one, the id of this journal (any,
// if it cannot be read), and as many events as their name says.
func Backups(f *store.File, dir string) ([]BackupFile, error) {
	in := cmp.Or(dir, Dir(f))
	entries, err := os.ReadDir(in)
	if dir == "" && errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, fault.Failuref("the folder %s cannot be read", in).Because(store.Reason(err)).Try("check that it is there and that you may read it")
	}
	mine, _, _ := peek(f)
	// What dated makes; the second copy of the same second is called .2
	names := regexp.MustCompile(`^` + regexp.QuoteMeta(filepath.Base(f.Path)) + `-([0-9]{8}T[0-9]{6}Z)-([0-9]{1,18})(\.[2-9]|\.[1-9][0-9]+)?\` + ending + `$`)
	var all []BackupFile
	for _, e := range entries {
		part := names.FindStringSubmatch(e.Name())
		info, err := e.Info()
		if part == nil || err != nil || !info.Mode().IsRegular() {
			continue
		}
		b := BackupFile{Path: filepath.Join(in, e.Name()), Bytes: info.Size()}
		b.Made, err = time.Parse(stamp, part[1])
		id, events, unread := peek(store.Open(b.Path, -1, f.Now))
		if b.ID, b.Events = id, events; err == nil && unread == nil && strconv.Itoa(events) == part[2] && (mine == "" || id == mine) {
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
		id, events = tx.About.Journal.String(), int(tx.Head.Seq)
		return nil
	})
	return id, events, err
}

// Dropped says which of the backups made at the given times, newest first, may go. The
// last ten stay, the newest of each of thirty days, and of every month there ever was;
// days and months are those of UTC. A choice of ours: at a megabyte or two for a year's
// work, twenty years stay below a gigabyte. What is dated after now stays: the clock was
// wrong, then or now.
func Dropped(made []time.Time, now time.Time) []bool {
	day := func(t time.Time) int { return int(t.Unix() / (24 * 3600)) }
	drop := make([]bool, len(made))
	days, months, past := map[int]bool{}, map[string]bool{}, 0
	for i, t := range made {
		if t.After(now) {
			continue
		}
		month := t.UTC().Format("2006-01")
		drop[i] = past >= 10 && (days[day(t)] || day(now)-day(t) >= 30) && months[month]
		days[day(t)], months[month] = true, true
		past++
	}
	return drop
}

// prune removes the backups in dir that may go, and never the one that was just made.
func (r *BackupReport) prune(f *store.File, dir string) {
	all := fault.Must(Backups(f, dir))
	var times []time.Time
	for _, b := range all {
		times = append(times, b.Made)
	}
	r.Left = len(all)
	for i, drop := range Dropped(times, f.Now()) {
		if !drop || all[i].Path == r.Path || all[i].ID != r.ID {
			continue
		}
		if err := os.Remove(all[i].Path); err != nil {
			fault.Check(fault.Failuref("the backup is made, but the old one %s cannot be removed", all[i].Path).Because(store.Reason(err)).
				Try("check that you may write to the folder, or remove it by hand"))
		}
		r.Pruned = append(r.Pruned, all[i].Path)
		r.Left--
	}
}
