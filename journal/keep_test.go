package journal_test

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"hepar/journal"
	"hepar/journal/internal/keep"
	"hepar/journal/internal/record"
	"hepar/journal/internal/store"
	"hepar/journal/journaltest"
	"hepar/recipe/fault"
)

// namesIn returns the names in a folder.
func namesIn(t testing.TB, dir string) []string {
	t.Helper()
	var all []string
	for _, e := range must[[]os.DirEntry](t)(os.ReadDir(dir)) {
		all = append(all, e.Name())
	}
	return all
}

func text(t testing.TB, j *journal.Journal) string {
	t.Helper()
	return must[string](t)(everything(j))
}

func verified(t testing.TB, j *journal.Journal) journal.Report {
	t.Helper()
	report := must[journal.Report](t)(j.Verify())
	if err := report.Err(); err != nil {
		t.Fatal(err)
	}
	return report
}

func TestBackup(t *testing.T) {
	j, clock := at(t)
	busyBook(t, j, 2)
	want := text(t, j)
	clock.Set(time.Date(2026, 11, 25, 0, 15, 2, 0, bench)) // an hour before, in UTC: the day before
	report := must[journal.BackupReport](t)(j.Backup(""))
	now := verified(t, j)
	if base := filepath.Base(report.Path); base != fmt.Sprintf("hepar.journal-20261124T231502Z-%d.backup", now.Events) || filepath.Dir(report.Path) != backupDir(j) {
		t.Errorf("it is called %s", report.Path)
	}
	if report.Head != now.Head || report.Events != now.Events || report.Batches != now.Batches || report.ID != now.ID || report.Left != 1 {
		t.Errorf("the report says %+v, the journal %+v", report, now)
	}
	if got := text(t, journaltest.Open(t, report.Path, journal.Options{})); got != want {
		t.Error("the backup is not the journal")
	}
	again := must[journal.BackupReport](t)(j.Backup(""))
	if again.Path == report.Path || again.Left != 2 {
		t.Errorf("a second one in the same second: %+v", again)
	}
	list := must[[]journal.BackupFile](t)(j.Backups(""))
	if len(list) != 2 || list[0].Path != again.Path || list[1].Path != report.Path || list[0].Events != now.Events {
		t.Errorf("listed %+v", list)
	}
	if left := namesIn(t, backupDir(j)); len(left) != 2 {
		t.Errorf("left behind: %v", left)
	}
}

func TestBackupRefuses(t *testing.T) {
	dir := t.TempDir()
	_, err := journal.At(filepath.Join(dir, "hepar.journal"), journal.Options{}).Backup("")
	kind(t, err, fault.Failure, "there is no journal")
	if left := namesIn(t, dir); len(left) != 0 {
		t.Errorf("it made %v", left)
	}
	j := journal.At(filepath.Join(dir, "hepar.journal"), journal.Options{})
	busyBook(t, j, 1)
	tamper(t, j.Path(), func(tx *store.Tx) error { tx.PutBlobFrame(make([]byte, 32), []byte("no frame")); return nil })
	_, err = j.Backup("")
	kind(t, err, fault.Damaged, "text 00000000")
	_, err = j.Compact()
	kind(t, err, fault.Damaged, "text 00000000")
	if left := namesIn(t, backupDir(j)); len(left) != 0 || strings.Contains(err.Error(), ".new-") {
		t.Errorf("left behind: %v; %v", left, err)
	}
}

func backupDir(j *journal.Journal) string { return filepath.Join(filepath.Dir(j.Path()), "backups") }

func count(j *journal.Journal, f journal.Filter) (n int, err error) {
	for _, err := range j.List(f) {
		if err != nil {
			return n, err
		}
		n++
	}
	return n, nil
}

// tamper changes a journal behind its back.
func tamper(t testing.TB, path string, fn func(tx *store.Tx) error) {
	t.Helper()
	if err := store.Open(path, 0, nil).Update(fn); err != nil {
		t.Fatal(err)
	}
}

// TestPruneLeavesStrangers prunes only files that are backups of this journal by
// name and by content.
func TestPruneLeavesStrangers(t *testing.T) {
	j, clock := at(t)
	backups := t.TempDir()
	clock.Set(time.Date(2020, 1, 1, 12, 0, 0, 0, time.UTC))
	other := journaltest.Open(t, filepath.Join(t.TempDir(), "hepar.journal"), journal.Options{Now: clock.Now})
	backup := func(j *journal.Journal) string {
		t.Helper()
		clock.Add(time.Second)
		return filepath.Base(must[journal.BackupReport](t)(j.Backup(backups)).Path)
	}
	busyBook(t, j, 1)
	busyBook(t, other, 1)
	old := backup(j)
	worked := backup(j)
	must[journal.Batch](t)(journal.At(filepath.Join(backups, worked), journal.Options{}).Create(tokens(), nil)) // somebody works in a backup: it is none any more
	strangers := []string{worked, backup(other)}
	var newer []string
	for range 9 {
		newer = append(newer, backup(j))
	}
	data := must[[]byte](t)(os.ReadFile(filepath.Join(backups, old)))
	for name, data := range map[string][]byte{
		"hepar.journal-20200101T115900Z-3.backup": data, // another count of events than it has
		"hepar.journal-20200101T115901Z-9.backup": []byte("notes of mine"),
		"hepar.journal-20200101T115902Z.backup":   data,
		"my.hepar.journal-20200101T115903Z-9":     data,
	} {
		if err := os.WriteFile(filepath.Join(backups, name), data, 0o600); err != nil {
			t.Fatal(err)
		}
		strangers = append(strangers, name)
	}
	clock.Add(50 * 365 * 24 * time.Hour)
	want := slices.Concat(strangers, newer, []string{backup(j)})
	slices.Sort(want)
	if left := namesIn(t, backups); !slices.Equal(left, want) {
		t.Errorf("left are\n%s\nwant\n%s", strings.Join(left, "\n"), strings.Join(want, "\n"))
	}
	if slices.Contains(namesIn(t, backups), old) {
		t.Error("the old backup was not pruned: the test proves nothing")
	}
}

// TestPruneRule compares the rule for pruning with its wording.
func TestPruneRule(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		now := time.Date(2026, 3, 1, 7, 30, 0, 0, time.UTC)
		ages := rapid.SliceOfN(rapid.IntRange(-3600, 400*24*3600), 0, 60).Draw(t, "ages")
		slices.Sort(ages)
		ages = slices.Compact(ages)
		made := make([]time.Time, len(ages)) // newest first
		for i, age := range ages {
			made[i] = now.Add(-time.Duration(age) * time.Second)
		}
		past := 0
		for i, drop := range keep.Dropped(made, now) {
			at := made[i]
			newest := func(form string) bool {
				return !slices.ContainsFunc(made[:i], func(b time.Time) bool { return !b.After(now) && at.Format(form) == b.Format(form) })
			}
			stays := at.After(now) || past < 10 ||
				newest("2006-01-02") && at.AddDate(0, 0, 30).Format("2006-01-02") > now.Format("2006-01-02") || newest("2006-01")
			if !at.After(now) {
				past++
			}
			if drop == stays {
				t.Fatalf("the backup of %v is dropped: %v", at, drop)
			}
		}
	})
}

func TestRestore(t *testing.T) {
	j, clock := at(t)
	busyBook(t, j, 2)
	then := text(t, j)
	from := must[journal.BackupReport](t)(j.Backup("")).Path
	clock.Add(time.Minute)
	later := must[journal.Batch](t)(j.Create(tokens(), nil))
	must[journal.Batch](t)(j.Amend("2026-001", "pieces", "61", "counted again", "Marek Oja"))
	now := text(t, j)

	for name, o := range map[string]journal.RestoreOptions{"plain": {}, "dry run": {DryRun: true}} {
		report, err := j.Restore(from, o)
		if !o.DryRun {
			kind(t, err, fault.Failure, "2 events")
		} else if err != nil {
			t.Error(err)
		}
		if report.LostCount != 2 || len(report.Lost) != 2 || report.Lost[0].Of != later.Number || report.Lost[0].Kind != record.Created ||
			report.Lost[1].Of != "2026-001" || report.Lost[1].By != "Marek Oja" || report.Kept != "" {
			t.Errorf("%s: %+v", name, report)
		}
	}
	if text(t, j) != now {
		t.Error("a refused restore changed the journal")
	}
	report := must[journal.RestoreReport](t)(j.Restore(from, journal.RestoreOptions{LoseEvents: true}))
	if text(t, j) != then {
		t.Error("the journal is not what it was")
	}
	for what, path := range map[string]string{"kept": report.Kept, "backed up": report.Backup} {
		if got := text(t, journaltest.Open(t, path, journal.Options{})); got != now {
			t.Errorf("the file that was %s is not the old journal", what)
		}
	}
	if base := filepath.Base(report.Kept); base != fmt.Sprintf("hepar.journal-20260309T083100Z-%d.before-restore", verified(t, journaltest.Open(t, report.Kept, journal.Options{})).Events) {
		t.Errorf("kept as %s", base)
	}
	if next := must[journal.Batch](t)(j.Create(tokens(), nil)); next.Number == later.Number {
		t.Errorf("the number %s of the lost batch was given out again", next.Number)
	}
}

func TestRestoreRefuses(t *testing.T) {
	dir := t.TempDir()
	j := journaltest.Open(t, filepath.Join(dir, "hepar.journal"), journal.Options{})
	other := journaltest.Open(t, filepath.Join(t.TempDir(), "hepar.journal"), journal.Options{})
	busyBook(t, j, 2)
	busyBook(t, other, 1)
	foreign := must[journal.BackupReport](t)(other.Backup("")).Path
	data := must[[]byte](t)(os.ReadFile(j.Path()))
	write := func(name string, data []byte) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, data, 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	flipped := bytes.ReplaceAll(data, []byte("wrong club"), []byte("wrong clue"))
	before := text(t, j)
	for name, c := range map[string]struct {
		from string
		kind fault.Kind
		want string
	}{
		"nothing there":   {filepath.Join(dir, "nothing"), fault.Failure, "no backup at"},
		"itself":          {j.Path(), fault.Usage, "the journal itself"},
		"another journal": {foreign, fault.Usage, "another journal"},
		"cut short":       {write("short", data[:len(data)/2]), fault.Damaged, "short"},
		"text":            {write("text", []byte("my notes")), fault.Damaged, "is not a journal, nor a backup of one"},
		"empty":           {write("empty", nil), fault.Damaged, "empty"},
		"a bit flipped":   {write("flipped", flipped), fault.Damaged, "checksum"},
		"a folder":        {dir, fault.Failure, "not a file"},
		"a device":        {os.DevNull, fault.Failure, "not a file"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := j.Restore(c.from, journal.RestoreOptions{LoseEvents: true})
			kind(t, err, c.kind, c.want)
			if err != nil && strings.Contains(err.Error(), ".new-") {
				t.Errorf("%v names a copy", err)
			}
		})
	}
	if text(t, j) != before {
		t.Error("the journal was changed")
	}
	notes := journal.At(write("notes.txt", []byte("order 240 clasps\n")), journal.Options{})
	_, err := notes.Restore(foreign, journal.RestoreOptions{LoseEvents: true, OtherJournal: true})
	kind(t, err, fault.Failure, "is not a journal, and is not replaced")
	for _, name := range namesIn(t, dir) {
		if strings.Contains(name, ".new-") || strings.Contains(name, "before-restore") {
			t.Errorf("left behind: %s", name)
		}
	}
	report := must[journal.RestoreReport](t)(j.Restore(foreign, journal.RestoreOptions{OtherJournal: true}))
	if !report.OtherJournal || report.Kept == "" {
		t.Errorf("told to: %+v", report)
	}
}

// TestRestoreOverDamage puts a backup in the place of a journal that is gone or
// damaged.
func TestRestoreOverDamage(t *testing.T) {
	for name, hurt := range map[string]func(path string, data []byte) error{
		"gone":  func(path string, _ []byte) error { return os.Remove(path) },
		"empty": func(path string, _ []byte) error { return os.Truncate(path, 0) },
		"half":  func(path string, data []byte) error { return os.Truncate(path, int64(6*os.Getpagesize())) },
		"pages zeroed": func(path string, data []byte) error {
			clear(data[3*os.Getpagesize() : 9*os.Getpagesize()])
			return os.WriteFile(path, data, 0o600)
		},
	} {
		t.Run(name, func(t *testing.T) {
			j := journaltest.New(t)
			busyBook(t, j, 2)
			want := text(t, j)
			from := must[journal.BackupReport](t)(j.Backup("")).Path
			if err := hurt(j.Path(), must[[]byte](t)(os.ReadFile(j.Path()))); err != nil {
				t.Fatal(err)
			}
			report := must[journal.RestoreReport](t)(j.Restore(from, journal.RestoreOptions{LoseEvents: true}))
			if text(t, j) != want {
				t.Error("the journal is not what it was")
			}
			if name != "gone" && (report.OldDamage == "" || report.Kept == "" || report.Backup != "") {
				t.Errorf("the report says %+v", report)
			}
		})
	}
}

func TestCompact(t *testing.T) {
	j := journaltest.New(t)
	busyBook(t, j, 20)
	sum := sha256.Sum256([]byte("small"))
	for _, text := range []store.Blob{{Data: make([]byte, 4<<20)}, {SHA256: sum[:], Length: -1}} { // room that is not used any more
		tamper(t, j.Path(), func(tx *store.Tx) error {
			tx.PutBlobFrame(sum[:], must[[]byte](t)(store.Seal(store.BlobFrame, text)))
			return nil
		})
	}
	before, want, frames := verified(t, j), text(t, j), framesOf(t, j.Path())
	report := must[journal.CompactReport](t)(j.Compact())
	after := verified(t, j)
	if report.Before != before.Bytes || report.After != after.Bytes || after.Bytes >= before.Bytes-4<<20 {
		t.Errorf("from %d to %d bytes; the report says %+v", before.Bytes, after.Bytes, report)
	}
	if after.Head != before.Head || after.ID != before.ID || text(t, j) != want {
		t.Error("it is another journal now")
	}
	for seq, frame := range framesOf(t, j.Path()) {
		if !bytes.Equal(frame, frames[seq]) {
			t.Errorf("event %d was changed", seq)
		}
	}
	again := must[journal.CompactReport](t)(j.Compact())
	if again.After > report.After {
		t.Errorf("a second time it grew: %+v after %+v", again, report)
	}
	if left := namesIn(t, filepath.Dir(j.Path())); len(left) != 1 {
		t.Errorf("left behind: %v", left)
	}
	must[journal.Batch](t)(j.Create(tokens(), nil))
}

// TestCompactWhileOthersWrite compacts over and over beside two writers: nothing
// that was acknowledged is lost.
func TestCompactWhileOthersWrite(t *testing.T) {
	j := journaltest.New(t)
	busyBook(t, j, 1)
	a, b := startChild(t, "log", j.Path(), 25), startChild(t, "log", j.Path(), 25)
	for range 5 {
		if _, err := j.Compact(); err != nil && fault.KindOf(err) != fault.Busy {
			t.Fatal(err)
		}
	}
	if n := len(a.lines(t)) + len(b.lines(t)); n != 100 {
		t.Errorf("%d changes were acknowledged, want 100", n)
	}
	if n := must[int](t)(count(j, journal.Filter{State: journal.Logged})); n != 51 {
		t.Errorf("%d batches are logged, want 51", n)
	}
}

// TestReplacedFileKeepsItsMode compacts and restores a journal that a group may read.
func TestReplacedFileKeepsItsMode(t *testing.T) {
	j := journaltest.New(t)
	busyBook(t, j, 1)
	from := must[journal.BackupReport](t)(j.Backup("")).Path
	if err := os.Chmod(j.Path(), 0o640); err != nil {
		t.Fatal(err)
	}
	owned := os.Chown(j.Path(), 65534, 65533) == nil // only root may
	for what, call := range map[string]func() error{
		"compact": func() error { _, err := j.Compact(); return err },
		"restore": func() error { _, err := j.Restore(from, journal.RestoreOptions{}); return err },
	} {
		if err := call(); err != nil {
			t.Fatal(err)
		}
		if info := must[os.FileInfo](t)(os.Stat(j.Path())); info.Mode().Perm() != 0o640 {
			t.Errorf("%s: the mode is %v", what, info.Mode())
		}
		if uid, gid := ownerOf(t, j.Path()); owned && (uid != 65534 || gid != 65533) {
			t.Errorf("%s: owner %d, group %d", what, uid, gid)
		}
	}
}

// TestHalfMadeCopiesAreRemoved finds what a killed process left, beside the journal
// and in the folder of the backups.
func TestHalfMadeCopiesAreRemoved(t *testing.T) {
	j := journaltest.New(t)
	busyBook(t, j, 1)
	must[journal.BackupReport](t)(j.Backup(""))
	old := time.Now().Add(-time.Hour)
	var left []string
	for _, dir := range []string{filepath.Dir(j.Path()), backupDir(j)} {
		path := filepath.Join(dir, ".hepar.journal.new-123")
		if err := os.WriteFile(path, []byte("half"), 0o600); err != nil {
			t.Fatal(err)
		}
		if err := os.Chtimes(path, old, old); err != nil {
			t.Fatal(err)
		}
		left = append(left, path)
	}
	must[journal.BackupReport](t)(j.Backup(""))
	must[journal.CompactReport](t)(j.Compact())
	for _, path := range left {
		if _, err := os.Stat(path); err == nil {
			t.Errorf("%s is still there", path)
		}
	}
}
