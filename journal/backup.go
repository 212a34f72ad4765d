package journal

import (
	"cmp"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"hepar/recipe/fault"
)

// backupEnding ends the name of every backup. Only such files are ever pruned.
const backupEnding = ".backup"

// BackupOptions say how a backup is made. The zero value is good.
type BackupOptions struct {
	Keep Keep // which older ones stay; the zero value means DefaultKeep
}

// BackupReport says what Backup did.
type BackupReport struct {
	Path    string        `json:"path"`
	ID      string        `json:"id"` // of the journal
	Bytes   int64         `json:"bytes"`
	Events  int           `json:"events"`
	Batches int           `json:"batches"`
	Head    string        `json:"head"`       // SHA-256 of the last event
	Copying time.Duration `json:"copying_ns"` // how long writers had to wait for it at most
	Pruned  []string      `json:"pruned"`     // older backups that were taken away
	Left    int           `json:"left"`       // backups of this journal that there are now
}

// BackupDir is where backups go when no folder is named: "backups" beside the journal.
func (j *Journal) BackupDir() string { return filepath.Join(filepath.Dir(j.path), "backups") }

// Backup writes a copy of the journal into dir (empty means BackupDir), which it
// makes where it is missing. Others may go on reading meanwhile; writers wait
// while the bytes are copied, and not while the copy is made durable and put to
// the full test of Verify. Only a sound copy gets its name, such as
//
//	hepar.journal-20261125T071502Z-1834.backup
//
// which says when it was made (UTC) and how many events it has. A journal that is
// not sound gives an error of kind fault.Damaged, and nothing is kept or pruned.
//
// Then older backups are pruned by o.Keep. A file is only pruned if its name is
// that of a backup of this journal, and it holds this journal's id and as many
// events as its name says.
func (j *Journal) Backup(dir string, o BackupOptions) (BackupReport, error) {
	var report BackupReport
	if dir == "" {
		dir = j.BackupDir()
	}
	if there, err := j.Exists(); err != nil {
		return report, err
	} else if !there {
		return report, j.fileFault(fs.ErrNotExist, false)
	}
	if err := makeFolder(dir); err != nil {
		return report, noRoom(filepath.Join(dir, "x"), err)
	}
	file, err := j.newBeside(dir)
	if err != nil {
		return report, err
	}
	defer os.Remove(file.Name())
	defer file.Close()
	copied, held, err := j.snapshot(file)
	report.Copying = held
	if err != nil {
		return report, err
	}
	if err := file.Close(); err != nil {
		return report, noRoom(file.Name(), err)
	}
	found, err := j.proven(file.Name())
	if err != nil {
		return report, err
	}
	report.ID, report.Bytes, report.Events, report.Batches, report.Head = found.ID, found.Bytes, found.Events, found.Batches, found.Head
	now := j.now()
	name := filepath.Join(dir, j.datedName(now, copied.head.Seq, backupEnding))
	if report.Path, err = nameFile(file.Name(), name); err != nil {
		return report, noRoom(name, err)
	}
	if err := syncFolder(dir); err != nil {
		return report, noRoom(name, err)
	}
	return report, j.prune(dir, o.Keep, now, &report)
}

// proven puts a copy of the journal to the full test.
func (j *Journal) proven(path string) (Report, error) {
	made := At(path, Options{Wait: j.wait, Now: j.now, Watch: j.watch})
	made.alone = true
	report, err := made.Verify()
	if err != nil {
		return report, err
	}
	if !report.Sound() {
		f := report.Findings[0]
		return report, j.damaged("a copy of it has %d findings, the first: %s: %s", len(report.Findings)+report.More, f.Where, f.What)
	}
	return report, nil
}

// BackupFile is a backup that was made earlier.
type BackupFile struct {
	Path   string    `json:"path"`
	Made   time.Time `json:"made"` // by its name, in UTC
	Events int       `json:"events"`
	ID     string    `json:"id"` // of the journal
	Bytes  int64     `json:"bytes"`
}

// Backups gives the backups of this journal in dir (empty means BackupDir), newest
// first. A folder that is not there has none. Where the journal itself cannot be
// read, the backups of any journal of its name are given.
func (j *Journal) Backups(dir string) ([]BackupFile, error) {
	if dir == "" {
		dir = j.BackupDir()
	}
	entries, err := os.ReadDir(dir)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, fault.Failuref("the folder %s cannot be read", dir).Because(reason(err)).Try("see that it is there and may be read")
	}
	mine := ""
	if p, err := peek(j.path); err == nil {
		mine = p.about.Journal.String()
	}
	var all []BackupFile
	for _, e := range entries {
		at, events, ok := j.parseDated(e.Name(), backupEnding)
		if !ok || !e.Type().IsRegular() {
			continue
		}
		b := BackupFile{Path: filepath.Join(dir, e.Name()), Made: at, Events: int(events)}
		p, err := peek(b.Path)
		if err != nil || p.head.Seq != events || mine != "" && p.about.Journal.String() != mine {
			continue
		}
		if info, err := e.Info(); err == nil {
			b.Bytes = info.Size()
		}
		b.ID = p.about.Journal.String()
		all = append(all, b)
	}
	slices.SortFunc(all, func(a, b BackupFile) int {
		return cmp.Or(b.Made.Compare(a.Made), cmp.Compare(b.Events, a.Events), cmp.Compare(len(b.Path), len(a.Path)), strings.Compare(b.Path, a.Path))
	})
	return all, nil
}

// parseDated reads what datedName and nameFile wrote.
func (j *Journal) parseDated(name, ending string) (at time.Time, events uint64, ok bool) {
	rest, ok := strings.CutPrefix(name, filepath.Base(j.path)+"-")
	if !ok {
		return at, 0, false
	}
	if rest, ok = strings.CutSuffix(rest, ending); !ok {
		return at, 0, false
	}
	stamp, count, ok := strings.Cut(rest, "-")
	if !ok {
		return at, 0, false
	}
	count, again, more := strings.Cut(count, ".")
	if more {
		if n, err := strconv.ParseUint(again, 10, 16); err != nil || n < 2 {
			return at, 0, false
		}
	}
	at, err := time.Parse(stampFormat, stamp)
	if err != nil {
		return at, 0, false
	}
	events, err = strconv.ParseUint(count, 10, 63)
	return at, events, err == nil
}
