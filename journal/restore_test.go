package journal_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	bolt "go.etcd.io/bbolt"

	"hepar/journal"
	"hepar/journal/journaltest"
	"hepar/recipe/fault"
)

type boltTx = bolt.Tx

func backedUp(t *testing.T, j *journal.Journal) string {
	t.Helper()
	report, err := j.Backup("", journal.BackupOptions{})
	if err != nil {
		t.Fatal(err)
	}
	return report.Path
}

func TestRestore(t *testing.T) {
	clock := journaltest.NewClock(time.Date(2026, 3, 9, 8, 15, 0, 0, time.UTC))
	j := journaltest.Open(t, filepath.Join(t.TempDir(), "hepar.journal"), journal.Options{Now: clock.Now, By: "Ilka Brandt"})
	history(t, j)
	then, from := everything(t, j), backedUp(t, j)
	later, err := j.Create(order(7))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := j.Amend("2026-001", "pieces", "49", "counted again", "Tomas Reh"); err != nil {
		t.Fatal(err)
	}
	now := everything(t, j)

	// It refuses to lose the two events, and says which.
	for name, o := range map[string]journal.RestoreOptions{"plain": {}, "dry run": {DryRun: true}} {
		report, err := j.Restore(from, o)
		if (err == nil) != o.DryRun || err != nil && (fault.KindOf(err) != fault.Failure || !strings.Contains(err.Error(), "2 events")) {
			t.Errorf("%s: %v", name, err)
		}
		if report.LostCount != 2 || len(report.Lost) != 2 || report.Lost[0].Of != later.Number || report.Lost[0].Kind != journal.Created ||
			report.Lost[1].Of != "2026-001" || report.Lost[1].By != "Tomas Reh" || report.Kept != "" || report.Events != 10 {
			t.Errorf("%s: %+v", name, report)
		}
	}
	if everything(t, j) != now {
		t.Error("a refused restore changed the journal")
	}

	report, err := j.Restore(from, journal.RestoreOptions{LoseEvents: true})
	if err != nil {
		t.Fatal(err)
	}
	if everything(t, j) != then {
		t.Error("the journal is not what it was")
	}
	if got := everything(t, journaltest.Open(t, report.Kept, journal.Options{})); got != now {
		t.Error("the file that was kept is not the old journal")
	}
	if filepath.Base(report.Kept) != "hepar.journal-20260309T081500Z-12.before-restore" {
		t.Errorf("kept as %s", report.Kept)
	}
	if got := everything(t, journaltest.Open(t, report.Backup, journal.Options{})); got != now {
		t.Error("the backup made first is not the old journal")
	}
	// The number of the lost batch is not given out again.
	next, err := j.Create(order(8))
	if err != nil || next.Number == later.Number {
		t.Errorf("the next batch is %s, %v; the lost one was %s", next.Number, err, later.Number)
	}
	// And back again: from the kept file, losing the one event since.
	report, err = j.Restore(report.Kept, journal.RestoreOptions{})
	if err == nil || report.LostCount != 1 || report.Lost[0].Of != next.Number {
		t.Errorf("back again: %v, %+v", err, report)
	}
}

func TestRestoreRefuses(t *testing.T) {
	dir := t.TempDir()
	j := journaltest.Open(t, filepath.Join(dir, "hepar.journal"), journal.Options{})
	other := journaltest.Open(t, filepath.Join(dir, "other", "hepar.journal"), journal.Options{})
	history(t, j)
	history(t, other)
	foreign := backedUp(t, other)
	data, err := os.ReadFile(backedUp(t, j))
	if err != nil {
		t.Fatal(err)
	}
	write := func(name string, data []byte) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, data, 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	bent := tampered(t, func(tx *bolt.Tx) error { return journal.Reword(tx, 7, "it was never said") })
	newer := write("newer", data)
	if err := journal.RaiseFormat(newer); err != nil {
		t.Fatal(err)
	}
	before := everything(t, j)
	for name, c := range map[string]struct {
		from string
		kind fault.Kind
		want string
	}{
		"nothing there":      {filepath.Join(dir, "nothing"), fault.Failure, "no backup at"},
		"itself":             {j.Path(), fault.Usage, "the journal itself"},
		"another journal":    {foreign, fault.Usage, "another journal"},
		"cut short":          {write("short", data[:len(data)/2]), fault.Damaged, "short"},
		"text":               {write("text", []byte("my notes")), fault.Damaged, "not a journal"},
		"rewritten":          {bent.Path(), fault.Damaged, "does not follow"},
		"of a newer version": {newer, fault.Failure, "newer"},
		"a folder":           {dir, fault.Failure, "not a file"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := j.Restore(c.from, journal.RestoreOptions{LoseEvents: true})
			if fault.KindOf(err) != c.kind || !strings.Contains(fmt.Sprint(err), c.want) || fault.CureOf(err) == "" || strings.Contains(err.Error(), ".new-") {
				t.Errorf("got %v (%q), want kind %d and %q", err, fault.CureOf(err), c.kind, c.want)
			}
		})
	}
	if everything(t, j) != before {
		t.Error("the journal was changed")
	}
	for _, name := range names(t, dir) {
		if strings.Contains(name, ".new-") || strings.Contains(name, "before-restore") {
			t.Errorf("left behind: %s", name)
		}
	}
	report, err := j.Restore(foreign, journal.RestoreOptions{OtherJournal: true})
	if err != nil || !report.OtherJournal || report.Kept == "" {
		t.Errorf("told to: %v, %+v", err, report)
	}
}

// Where the journal is gone or damaged, the backup takes its place all the same.
func TestRestoreOverDamage(t *testing.T) {
	for name, hurt := range map[string]func(path string, data []byte) error{
		"gone":  func(path string, _ []byte) error { return os.Remove(path) },
		"empty": func(path string, _ []byte) error { return os.Truncate(path, 0) },
		"half":  func(path string, data []byte) error { return os.Truncate(path, int64(6*os.Getpagesize())) },
		"a page zeroed": func(path string, data []byte) error {
			clear(data[3*os.Getpagesize() : 9*os.Getpagesize()])
			return os.WriteFile(path, data, 0o600)
		},
	} {
		t.Run(name, func(t *testing.T) {
			j := journaltest.New(t)
			history(t, j)
			want, from := everything(t, j), backedUp(t, j)
			data, err := os.ReadFile(j.Path())
			if err != nil {
				t.Fatal(err)
			}
			if err := hurt(j.Path(), data); err != nil {
				t.Fatal(err)
			}
			report, err := j.Restore(from, journal.RestoreOptions{LoseEvents: true})
			if err != nil {
				t.Fatal(err)
			}
			if everything(t, j) != want {
				t.Error("the journal is not what it was")
			}
			if name != "gone" && (report.OldDamage == "" || report.Kept == "" || report.Backup != "") {
				t.Errorf("the report says %+v", report)
			}
		})
	}
}

// A writer that logs all the while never loses what was acknowledged after the
// restore: it is in the journal, or in the file that was kept.
func TestRestoreWhileOthersWrite(t *testing.T) {
	j := journaltest.New(t)
	history(t, j)
	from := backedUp(t, j)
	c := startChild(t, "log", j.Path(), 40)
	read := func() (string, bool) {
		line, err := c.out.ReadString('\n')
		return line, err == nil
	}
	var numbers []string
	for range 20 {
		line, _ := read()
		if number, ok := strings.CutPrefix(strings.TrimSpace(line), "planned "); ok {
			numbers = append(numbers, number)
		}
	}
	report, err := j.Restore(from, journal.RestoreOptions{LoseEvents: true})
	if fault.KindOf(err) == fault.Busy {
		t.Skip("the writer was quicker three times over: refused as it should be")
	}
	if err != nil {
		t.Fatal(err)
	}
	for line, ok := read(); ok; line, ok = read() {
		if number, ok := strings.CutPrefix(strings.TrimSpace(line), "planned "); ok {
			numbers = append(numbers, number)
		}
	}
	_ = c.Wait() // it may fail: the batch that it had planned is not in the restored journal
	kept := journaltest.Open(t, report.Kept, journal.Options{})
	seen := map[string]bool{}
	for _, number := range numbers {
		_, err1 := j.Get(number)
		_, err2 := kept.Get(number)
		if err1 != nil && err2 != nil {
			t.Errorf("batch %s was acknowledged and is in neither file: %v", number, err1)
		}
		if seen[number] {
			t.Errorf("number %s was given out twice", number)
		}
		seen[number] = true
	}
}
