package journal_test

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"hepar/journal"
	"hepar/journal/journaltest"
)

// While a large journal is verified others write to it, and what was damaged in the
// file itself is seen in the copy that is read.
func TestVerifyLarge(t *testing.T) {
	j := large(t, 22_000)
	info, err := os.Stat(j.Path())
	if err != nil {
		t.Fatal(err)
	}
	if info.Size() < 16<<20 {
		t.Fatalf("the journal has %d bytes: no copy is read of it, and the test proves nothing", info.Size())
	}
	wrote, told := 0, 0
	watched := journal.At(j.Path(), journal.Options{Watch: func(events int) {
		told++
		// Verify is in the middle of its work here, and no longer holds the file.
		quick := journal.At(j.Path(), journal.Options{Wait: -1})
		if _, err := quick.LogNew(order(10), journal.Result{Good: 10}); err != nil {
			t.Errorf("nobody can write while the journal is verified: %v", err)
		}
		wrote++
	}})
	before, err := watched.Verify()
	if err != nil || !before.Sound() {
		t.Fatalf("%v, %v", err, before.Findings)
	}
	if told == 0 || before.Batches != 22_000 {
		t.Errorf("told %d times, %d batches", told, before.Batches)
	}
	journaltest.Sound(t, j)
	if after, err := j.Verify(); err != nil || after.Batches != 22_000+wrote {
		t.Errorf("%d batches, %v; %d were written meanwhile", after.Batches, err, wrote)
	}
	if left, _ := filepath.Glob(filepath.Join(filepath.Dir(j.Path()), ".*")); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}

	data, err := os.ReadFile(j.Path())
	if err != nil {
		t.Fatal(err)
	}
	for at := 100 * os.Getpagesize(); at < len(data); at += 50 * os.Getpagesize() {
		clear(data[at : at+os.Getpagesize()]) // some of these pages are in use, whatever the free ones are
	}
	other := filepath.Join(t.TempDir(), "damaged.journal")
	if err := os.WriteFile(other, data, 0o600); err != nil {
		t.Fatal(err)
	}
	report, err := journal.At(other, journal.Options{Wait: time.Second}).Verify()
	if err != nil || report.Sound() || report.Path != other {
		t.Errorf("a damaged copy: %v, %+v", err, report)
	}
}
