package demo

import (
	"path/filepath"
	"strings"
	"testing"
	"time"

	"hepar/journal"
	"hepar/journal/journaltest"
)

// The made-up journal is a sound one, in which each batch was reviewed or says why not.
func TestWrite(t *testing.T) {
	const n = 120
	f, err := Write(filepath.Join(t.TempDir(), "demo"), n, time.Date(2026, 6, 1, 12, 0, 0, 0, time.UTC), nil)
	if err != nil || f.Batches != n {
		t.Fatalf("%d batches, %v", f.Batches, err)
	}
	j := journaltest.Open(t, f.Journal, journal.Options{})
	without := 0
	for b, err := range j.List(journal.Filter{}) {
		if err != nil {
			t.Fatal(err)
		}
		if (b.WithoutReview == "") != (journal.Ready(b, b.Logged) == nil) {
			t.Errorf("batch %s: review %+v, reason %q", b.Number, b.Review, b.WithoutReview)
		}
		if b.WithoutReview != "" {
			without++
		}
	}
	if without == 0 || without > n/4 {
		t.Errorf("%d of %d were not reviewed", without, n)
	}
}

// A large journal is as sound as a small one, and the same call makes the same.
func TestWriteMany(t *testing.T) {
	const n = fewBatches + 1000
	var lines []string
	for i := range 2 {
		f, err := Write(filepath.Join(t.TempDir(), "demo"), n, time.Date(2026, 6, 1, 12, 0, 0, 0, time.UTC), nil)
		if err != nil || f.Batches != n {
			t.Fatalf("%d batches, %v", f.Batches, err)
		}
		j := journaltest.Open(t, f.Journal, journal.Options{})
		var out strings.Builder
		if _, err := j.Export(&out, journal.JSONLines, journal.Filter{Limit: 300}); err != nil {
			t.Fatal(err)
		}
		lines = append(lines, out.String())
		if i > 0 && lines[0] != lines[1] {
			t.Error("the same call made another journal")
		}
	}
}

func BenchmarkWrite(b *testing.B) {
	for b.Loop() {
		if _, err := Write(filepath.Join(b.TempDir(), "demo"), 50_000, time.Date(2026, 6, 1, 12, 0, 0, 0, time.UTC), nil); err != nil {
			b.Fatal(err)
		}
	}
}
