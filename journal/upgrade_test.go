package journal_test

import (
	"bytes"
	"maps"
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

// unchanged fails the test where a file is not what it was.
func unchanged(t testing.TB, path string, before []byte) {
	t.Helper()
	if after, err := os.ReadFile(path); err != nil || !bytes.Equal(after, before) {
		t.Errorf("%s was changed (%v)", filepath.Base(path), err)
	}
}

func bytesOf(t testing.TB, path string) []byte {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// An older format is brought up to date on a copy, and the original is kept to the
// last byte.
func TestUpgrade(t *testing.T) {
	path, _ := golden(t, "format1")
	before := bytesOf(t, path)
	clock := journaltest.NewClock(time.Date(2026, 3, 10, 8, 15, 0, 0, time.UTC))
	j := journaltest.Open(t, path, journal.Options{By: "Uwe Stern", Now: clock.Now})
	if _, err := journal.UpgradeWithNoStep(j); fault.KindOf(err) != fault.Failure || fault.CureOf(err) == "" {
		t.Errorf("with no step for it: %v", err)
	}
	// A step that does its work badly is found out.
	if _, err := journal.UpgradeBadly(j); fault.KindOf(err) != fault.Damaged {
		t.Errorf("with a bad step: %v", err)
	}
	unchanged(t, path, before)

	report, err := j.Upgrade()
	if err != nil || report.From != 1 || report.To != journal.FileFormat || report.Batches != 7 || len(report.OldHead) != 64 {
		t.Fatalf("%+v, %v", report, err)
	}
	if name := filepath.Base(report.Kept); name != "hepar.journal-20260310T081500Z-31.before-upgrade" {
		t.Errorf("kept as %s", name)
	}
	unchanged(t, report.Kept, before)
	if left := names(t, filepath.Dir(path)); len(left) != 2 {
		t.Errorf("left behind: %v", left)
	}
	found := verified(t, j)
	if len(found.Upgrades) != 1 || found.Upgrades[0] != (journal.UpgradeNote{Format: 1, Events: 31, Head: report.OldHead}) || found.Events != 32 {
		t.Errorf("verify tells %+v", found)
	}
	if report, err := j.Upgrade(); err != nil || report.From != report.To || report.Kept != "" {
		t.Errorf("nothing to do: %+v, %v", report, err)
	}
	// The numbers go on where they were.
	if b, err := j.Create(order(2)); err != nil || b.Number != "2026-007" {
		t.Errorf("got %+v, %v", b, err)
	}
	if c, err := j.AddContainer(journal.Container{Substance: "soda", AmountG: 1}); err != nil || c.Number != "S-003" {
		t.Errorf("got %+v, %v", c, err)
	}
}

// What a salvage could not save in the older format is still told after the
// upgrade. The file is one that the program of format 1 salvaged.
func TestUpgradeOfSalvagedJournal(t *testing.T) {
	path, lines := golden(t, "format1-salvaged")
	j := journaltest.Open(t, path, journal.Options{By: "Uwe Stern"})
	if _, err := j.Upgrade(); err != nil {
		t.Fatal(err)
	}
	tellsAsMuch(t, []byte(everything(t, j)), lines)
	found := verified(t, j)
	told := map[string]int{}
	for _, m := range found.Missing {
		for _, what := range []string{"frozen sheet is lost", "of it are lost", "does not follow", "lost before the journal was salvaged", "given a new id", "more events"} {
			if strings.Contains(m.What, what) {
				told[what]++
			}
		}
	}
	want := map[string]int{"frozen sheet is lost": 26, "of it are lost": 18, "does not follow": 1, "lost before the journal was salvaged": 1, "given a new id": 1, "more events": 1}
	if len(found.Missing) != 50 || !maps.Equal(told, want) {
		t.Errorf("%d are told: %v; want %v", len(found.Missing), told, want)
	}
	// It can be salvaged again, and that too is told.
	into := filepath.Join(t.TempDir(), "again")
	if report, err := j.Salvage(into); err != nil || report.GapCount != 0 || report.KnownGaps != 2 {
		t.Errorf("salvaged again: %+v, %v", report, err)
	}
	if again := verified(t, journal.At(into, journal.Options{})); len(again.Missing) < 50 || len(again.Upgrades) != 1 {
		t.Errorf("the second salvage tells %d losses and %+v", len(again.Missing), again.Upgrades)
	}
}

// Whatever is done with a journal of an older format, it says what to do and
// leaves the file alone.
func TestOlderFormatIsToldApart(t *testing.T) {
	path, _ := golden(t, "format1")
	before := bytesOf(t, path)
	j := journal.At(path, journal.Options{})
	here := journaltest.New(t)
	if _, err := here.Create(order(2)); err != nil {
		t.Fatal(err)
	}
	calls := everyCall(j)
	_, calls["verify"] = j.Verify()
	_, calls["backup"] = j.Backup("", journal.BackupOptions{})
	_, calls["compact"] = j.Compact()
	_, calls["salvage"] = j.Salvage(filepath.Join(t.TempDir(), "saved"))
	_, calls["merge into it"] = j.Merge(here.Path(), journal.MergeOptions{})
	_, calls["merge from it"] = here.Merge(path, journal.MergeOptions{})
	for _, err := range j.List(journal.Filter{}) {
		calls["list"] = err
	}
	_, calls["containers"] = j.ListContainers(journal.ContainerFilter{})
	_, calls["import"] = j.Import(strings.NewReader(everything(t, here)), journal.ImportOptions{Format: journal.JSONLines})
	for call, err := range calls {
		if fault.KindOf(err) != fault.Failure || err == nil || !strings.Contains(err.Error(), "older hepar") || !strings.Contains(fault.CureOf(err), "hepar journal upgrade") {
			t.Errorf("%s: got %v (%q)", call, err, fault.CureOf(err))
		}
	}
	if !strings.Contains(fault.CureOf(calls["merge from it"]), path) {
		t.Errorf("a merge does not say which journal to upgrade: %q", fault.CureOf(calls["merge from it"]))
	}
	unchanged(t, path, before)
}

// A damaged file of an older format is not salvaged as though it were of the
// present one, also where nothing but its events says which it has.
func TestOlderFormatIsNotSalvaged(t *testing.T) {
	path, _ := golden(t, "format1")
	if err := journal.Tamper(path, func(tx *bolt.Tx) error { return tx.Bucket([]byte("meta")).Delete([]byte("about")) }); err != nil {
		t.Fatal(err)
	}
	data := bytesOf(t, path)
	for at := bytes.Index(data, []byte("about")); at >= 0; at = bytes.Index(data, []byte("about")) {
		copy(data[at:], "xxxxx") // the pages that were left
	}
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	into := filepath.Join(t.TempDir(), "saved")
	_, err := journal.At(path, journal.Options{}).Salvage(into)
	if fault.KindOf(err) != fault.Failure || err == nil || !strings.Contains(err.Error(), "older") || !strings.Contains(fault.CureOf(err), "restore the last backup") {
		t.Errorf("got %v (%q)", err, fault.CureOf(err))
	}
	if _, err := os.Stat(into); err == nil {
		t.Error("something was written")
	}
	unchanged(t, path, data)
}

// A backup of an older format is brought to the present one as it is restored.
func TestRestoreOlderFormat(t *testing.T) {
	backup, lines := golden(t, "format1")
	before := bytesOf(t, backup)
	restore := func(t *testing.T, j *journal.Journal, o journal.RestoreOptions) (journal.RestoreReport, error) {
		report, err := j.Restore(backup, o)
		unchanged(t, backup, before)
		if err == nil && report.Upgraded != 1 {
			t.Errorf("%+v", report)
		}
		return report, err
	}
	intact := func(t *testing.T, j *journal.Journal) {
		t.Helper()
		tellsAsMuch(t, []byte(everything(t, j)), lines)
	}
	place := func(t *testing.T, data []byte) *journal.Journal {
		path := filepath.Join(t.TempDir(), "hepar.journal")
		if data != nil {
			if err := os.WriteFile(path, data, 0o600); err != nil {
				t.Fatal(err)
			}
		}
		return journaltest.Open(t, path, journal.Options{By: "Uwe Stern"})
	}
	t.Run("into an empty place", func(t *testing.T) {
		j := place(t, nil)
		if _, err := restore(t, j, journal.RestoreOptions{}); err != nil {
			t.Fatal(err)
		}
		intact(t, j)
	})
	t.Run("over itself upgraded", func(t *testing.T) {
		j := place(t, before)
		if _, err := j.Upgrade(); err != nil {
			t.Fatal(err)
		}
		report, err := restore(t, j, journal.RestoreOptions{})
		if err != nil || report.LostCount != 0 || report.Backup == "" {
			t.Fatalf("%+v, %v", report, err)
		}
		intact(t, j)
		if _, err := j.Create(order(2)); err != nil {
			t.Fatal(err)
		}
		report, err = restore(t, j, journal.RestoreOptions{})
		if err == nil || report.LostCount != 1 || report.Lost[0].Kind != journal.Created || report.Lost[0].Of != "2026-007" {
			t.Fatalf("%+v, %v", report, err)
		}
	})
	t.Run("over the older format", func(t *testing.T) {
		j := place(t, before)
		report, err := restore(t, j, journal.RestoreOptions{})
		if err != nil || report.LostCount != 0 || report.OldDamage != "" || report.Backup != "" {
			t.Fatalf("%+v, %v", report, err)
		}
		unchanged(t, report.Kept, before)
		intact(t, j)
	})
	t.Run("over the older format damaged", func(t *testing.T) {
		hurt := bytes.Clone(before)
		for i := 2 * 4096; i < len(hurt); i++ {
			hurt[i] ^= 0x55
		}
		j := place(t, hurt)
		report, err := restore(t, j, journal.RestoreOptions{})
		if err != nil || report.OldDamage == "" {
			t.Fatalf("%+v, %v", report, err)
		}
		unchanged(t, report.Kept, hurt)
		intact(t, j)
	})
	t.Run("one that lacks events of the older format", func(t *testing.T) {
		j := place(t, before)
		if _, err := j.Upgrade(); err != nil {
			t.Fatal(err)
		}
		empty := journaltest.New(t)
		if err := empty.Init(); err != nil {
			t.Fatal(err)
		}
		old := place(t, before)
		report, err := old.Restore(empty.Path(), journal.RestoreOptions{OtherJournal: true, DryRun: true})
		if err != nil || !report.OtherJournal {
			t.Errorf("%+v, %v", report, err)
		}
		report, err = old.Restore(j.Path(), journal.RestoreOptions{})
		if err != nil || report.LostCount != 0 || report.Upgraded != 0 {
			t.Errorf("%+v, %v", report, err)
		}
	})
}
