// Package journaltest opens journals for tests: each proves itself sound when the test ends. Every test that touches a
// journal gets it from New, or from Open with a path or options of its own.
package journaltest

import (
	"path/filepath"
	"testing"

	"hepar/journal"
)

// New returns a journal in a folder of its own, not made yet.
func New(t testing.TB) *journal.Journal {
	t.Helper()
	return Open(t, filepath.Join(t.TempDir(), "hepar.journal"), journal.Options{By: "Ilse Tamm"})
}

// Open returns the journal at path, verified when the test ends.
func Open(t testing.TB, path string, o journal.Options) *journal.Journal {
	t.Helper()
	j := journal.At(path, o)
	t.Cleanup(func() { Sound(t, j) })
	return j
}

// Sound fails the test if the journal has findings; one that was never made has none.
func Sound(t testing.TB, j *journal.Journal) {
	t.Helper()
	var report journal.Report
	there, err := j.Exists()
	if err == nil && there {
		report, err = j.Verify()
	}
	if err != nil {
		t.Errorf("verify the journal: %v", err)
	}
	for _, f := range report.Findings {
		t.Errorf("verify the journal: %s: %s", f.Where, f.What)
	}
}
