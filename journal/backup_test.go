package journal_test

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"pgregory.net/rapid"

	"hepar/journal"
	"hepar/journal/journaltest"
	"hepar/recipe/fault"
)

// everything is the journal as an export has it.
func everything(t testing.TB, j *journal.Journal) string {
	t.Helper()
	var out bytes.Buffer
	if _, err := j.Export(&out, journal.JSONLines, journal.Filter{Frozen: true, Reverse: true}); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

func names(t testing.TB, dir string) []string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var all []string
	for _, e := range entries {
		all = append(all, e.Name())
	}
	return all
}

func TestBackup(t *testing.T) {
	dir := t.TempDir()
	clock := journaltest.NewClock(time.Date(2026, 11, 25, 1, 15, 2, 0, time.FixedZone("", 3600)))
	j := journaltest.Open(t, filepath.Join(dir, "hepar.journal"), journal.Options{Now: clock.Now})
	history(t, j)
	want := everything(t, j)
	report, err := j.Backup("", journal.BackupOptions{})
	if err != nil {
		t.Fatal(err)
	}
	// UTC is an hour behind the bench; history makes 10 events.
	if base := filepath.Base(report.Path); base != "hepar.journal-20261125T001502Z-10.backup" || filepath.Dir(report.Path) != filepath.Join(dir, "backups") {
		t.Errorf("it is called %s", report.Path)
	}
	verified, err := j.Verify()
	if err != nil {
		t.Fatal(err)
	}
	if report.Head != verified.Head || report.Events != verified.Events || report.Batches != verified.Batches || report.ID != verified.ID || report.Bytes == 0 || report.Left != 1 {
		t.Errorf("the report says %+v, the journal %+v", report, verified)
	}
	if info, err := os.Stat(report.Path); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("mode %v, %v", info.Mode(), err)
	}
	if got := everything(t, journaltest.Open(t, report.Path, journal.Options{})); got != want {
		t.Error("the backup differs from the journal")
	}
	// A second one in the same second takes another name.
	again, err := j.Backup("", journal.BackupOptions{})
	if err != nil || again.Path == report.Path || again.Left != 2 {
		t.Errorf("again: %+v, %v", again, err)
	}
	list, err := j.Backups("")
	if err != nil || len(list) != 2 || list[0].Path != again.Path || list[1].Path != report.Path || list[0].Events != 10 || list[0].ID != report.ID {
		t.Errorf("listed %+v, %v", list, err)
	}
	if left := names(t, filepath.Join(dir, "backups")); len(left) != 2 {
		t.Errorf("left behind: %v", left)
	}
}

func TestBackupOfNoJournal(t *testing.T) {
	dir := t.TempDir()
	j := journal.At(filepath.Join(dir, "hepar.journal"), journal.Options{})
	if _, err := j.Backup("", journal.BackupOptions{}); fault.KindOf(err) != fault.Failure || fault.CureOf(err) == "" {
		t.Errorf("got %v", err)
	}
	if left := names(t, dir); len(left) != 0 {
		t.Errorf("it made %v", left)
	}
}

// What is not sound is not kept, and nothing is pruned for it.
func TestBackupOfDamagedJournal(t *testing.T) {
	j := tampered(t, func(tx *boltTx) error {
		b := tx.Bucket([]byte("batches"))
		k, v := first(b)
		v[len(v)/2] ^= 1
		return b.Put(k, v)
	})
	dir := filepath.Join(t.TempDir(), "b")
	_, err := j.Backup(dir, journal.BackupOptions{Keep: journal.Keep{Last: 1}})
	if fault.KindOf(err) != fault.Damaged || !strings.Contains(err.Error(), "checksum") || strings.Contains(err.Error(), ".new-") {
		t.Errorf("got %v", err)
	}
	if left := names(t, dir); len(left) != 0 {
		t.Errorf("left behind: %v", left)
	}
}

// Only files that are backups of this journal by name and by content are pruned.
func TestPruneLeavesStrangers(t *testing.T) {
	dir, backups := t.TempDir(), t.TempDir()
	clock := journaltest.NewClock(time.Date(2020, 1, 1, 12, 0, 0, 0, time.UTC))
	j := journaltest.Open(t, filepath.Join(dir, "hepar.journal"), journal.Options{Now: clock.Now})
	other := journaltest.Open(t, filepath.Join(dir, "other", "hepar.journal"), journal.Options{Now: clock.Now})
	backup := func(j *journal.Journal, keep journal.Keep) string {
		t.Helper()
		report, err := j.Backup(backups, journal.BackupOptions{Keep: keep})
		if err != nil {
			t.Fatal(err)
		}
		return filepath.Base(report.Path)
	}
	history(t, j)
	history(t, other)
	old := backup(j, journal.KeepAll())
	clock.Add(time.Second)
	worked := backup(j, journal.KeepAll())
	if _, err := journal.At(filepath.Join(backups, worked), journal.Options{}).Create(order(1)); err != nil {
		t.Fatal(err) // somebody works in a backup: it is none any more
	}
	clock.Add(time.Second)
	strangers := []string{worked, backup(other, journal.KeepAll())}
	data, err := os.ReadFile(filepath.Join(backups, old))
	if err != nil {
		t.Fatal(err)
	}
	for name, data := range map[string][]byte{
		"hepar.journal-20200101T115900Z-3.backup":  data, // another count of events than it has
		"hepar.journal-20200101T115901Z-10.backup": []byte("notes of mine"),
		"hepar.journal-20200101T115902Z.backup":    data,
		"hepar.journal-2020-10.backup":             data,
		"my.hepar.journal-20200101T115903Z-10":     data,
		"notes.txt":                                []byte("x"),
	} {
		if err := os.WriteFile(filepath.Join(backups, name), data, 0o600); err != nil {
			t.Fatal(err)
		}
		strangers = append(strangers, name)
	}
	folder := "hepar.journal-20200101T115904Z-10.backup"
	if err := os.Mkdir(filepath.Join(backups, folder), 0o700); err != nil {
		t.Fatal(err)
	}
	strangers = append(strangers, folder)
	clock.Add(50 * 365 * 24 * time.Hour)
	last := backup(j, journal.Keep{Last: 1})
	left := names(t, backups)
	want := append(strangers, last)
	slices.Sort(want)
	if !slices.Equal(left, want) {
		t.Errorf("left are\n%s\nwant\n%s", strings.Join(left, "\n"), strings.Join(want, "\n"))
	}
	if slices.Contains(left, old) {
		t.Error("the old backup was not pruned: the test proves nothing")
	}
}

// The rule for pruning, held against its wording.
func TestPruneRule(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		now := time.Date(2026, 3, 1, 7, 30, 0, 0, time.UTC)
		ages := rapid.SliceOfN(rapid.IntRange(-3600, 400*24*3600), 0, 60).Draw(t, "ages")
		keep := journal.Keep{Last: rapid.IntRange(0, 5).Draw(t, "last"), Days: rapid.IntRange(0, 40).Draw(t, "days"), Months: rapid.IntRange(-1, 14).Draw(t, "months")}
		if keep == (journal.Keep{}) {
			keep = journal.DefaultKeep()
		}
		slices.Sort(ages)
		ages = slices.Compact(ages)
		made := make([]time.Time, len(ages)) // newest first
		for i, age := range ages {
			made[i] = now.Add(-time.Duration(age) * time.Second)
		}
		past := 0
		for i, drop := range journal.Dropped(keep, made, now) {
			at := made[i]
			want := false // by the wording: dropped
			sameDay := func(a, b time.Time) bool { return a.Format("2006-01-02") == b.Format("2006-01-02") }
			newest := func(same func(a, b time.Time) bool) bool {
				return !slices.ContainsFunc(made[:i], func(b time.Time) bool { return !b.After(now) && same(at, b) })
			}
			switch {
			case at.After(now):
				want = true
			case past < keep.Last:
				want = true
			case newest(sameDay) && at.AddDate(0, 0, keep.Days).Format("2006-01-02") > now.Format("2006-01-02"):
				want = true
			case newest(func(a, b time.Time) bool { return a.Format("2006-01") == b.Format("2006-01") }):
				first := time.Date(at.Year(), at.Month(), 1, 0, 0, 0, 0, time.UTC)
				want = keep.Months < 0 || first.AddDate(0, keep.Months, 0).After(time.Date(now.Year(), now.Month(), 1, 0, 0, 0, 0, time.UTC))
			}
			if !at.After(now) {
				past++
			}
			if drop == want {
				t.Fatalf("keep %+v: the backup of %v is dropped: %v", keep, at, drop)
			}
		}
	})
}

// Two writers and backups at once: nothing is lost, nobody waits over the limit,
// and each backup is a sound journal.
func TestBackupWhileOthersWrite(t *testing.T) {
	j := journaltest.New(t)
	if _, err := j.Create(order(48)); err != nil {
		t.Fatal(err)
	}
	const each = 60
	var loggers []*child
	for range 2 {
		loggers = append(loggers, startChild(t, "log", j.Path(), each))
	}
	ended := make(chan struct{})
	var done sync.WaitGroup
	for _, c := range loggers {
		done.Go(func() {
			for _, err := c.out.ReadString('\n'); err == nil; _, err = c.out.ReadString('\n') {
				continue
			}
			if err := c.Wait(); err != nil {
				t.Errorf("a writer failed: %v: %s", err, c.err)
			}
		})
	}
	go func() { done.Wait(); close(ended) }()
	backups, last := 0, 0
	for running := true; running; {
		select {
		case <-ended:
			running = false
		default:
		}
		report, err := j.Backup("", journal.BackupOptions{Keep: journal.KeepAll()})
		if err != nil {
			t.Fatal(err)
		}
		if report.Events < last {
			t.Errorf("a backup has %d events after one with %d", report.Events, last)
		}
		last = report.Events
		backups++
	}
	if want := 1 + 2*each*2; last != want {
		t.Errorf("the last backup has %d events, want %d", last, want)
	}
	if backups < 2 {
		t.Errorf("only %d backups: the test proves nothing", backups)
	}
	list, err := j.Backups("")
	if err != nil || len(list) != backups {
		t.Fatalf("%d backups listed, %v; want %d", len(list), err, backups)
	}
	for _, b := range list {
		journaltest.Sound(t, journal.At(b.Path, journal.Options{}))
	}
	t.Logf("%d backups beside %d events", backups, last)
}
