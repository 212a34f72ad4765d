package demo

import (
	"encoding/json"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"hepar/journal"
	"hepar/journal/journaltest"
)

// The made-up journal is a sound one, in which each batch was reviewed or says why
// not, and the same call makes the same batches.
func TestWrite(t *testing.T) {
	const n = 120
	var made [][]string
	for range 2 {
		f, err := Write(filepath.Join(t.TempDir(), "demo"), n, time.Date(2026, 6, 1, 12, 0, 0, 0, time.UTC), func(int) {})
		if err != nil || f.Batches != n {
			t.Fatalf("%d batches, %v", f.Batches, err)
		}
		j := journaltest.Open(t, f.Journal, journal.Options{})
		without := 0
		var plans []string
		for b, err := range j.List(journal.Filter{}) {
			if err != nil {
				t.Fatal(err)
			}
			if (b.WithoutReview == "") != (b.Ready(b.Result.Logged.Time(), "") == nil) {
				t.Errorf("batch %s: review %+v, reason %q", b.Number, b.Review, b.WithoutReview)
			}
			if b.WithoutReview != "" {
				without++
			}
			text, err := json.Marshal([]any{b.Plan, b.Result})
			if err != nil {
				t.Fatal(err)
			}
			plans = append(plans, string(text))
		}
		if without == 0 || without > n/4 {
			t.Errorf("%d of %d were not reviewed", without, n)
		}
		made = append(made, plans)
	}
	if !slices.Equal(made[0], made[1]) {
		t.Error("the same call made other batches")
	}
}
