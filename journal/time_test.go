package journal_test

import (
	"path/filepath"
	"slices"
	"testing"
	"time"

	"hepar/journal"
	"hepar/journal/journaltest"
)

func atClock(t *testing.T, start time.Time) (*journal.Journal, *journaltest.Clock) {
	clock := journaltest.NewClock(start)
	return journaltest.Open(t, filepath.Join(t.TempDir(), "hepar.journal"), journal.Options{Now: clock.Now}), clock
}

func numbers(t *testing.T, j *journal.Journal, f journal.Filter) (out []string) {
	t.Helper()
	for b, err := range j.List(f) {
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, b.Number)
	}
	return out
}

func create(t *testing.T, j *journal.Journal) journal.Batch {
	t.Helper()
	b, err := j.Create(order(10))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// The clock goes back: by a correction, at the end of summer time, or because a
// battery was flat. The order of writing is kept and each batch keeps its time.
func TestClockGoesBack(t *testing.T) {
	start := time.Date(2026, 7, 1, 9, 0, 0, 0, time.FixedZone("", 2*3600))
	j, clock := atClock(t, start)
	var ids []string
	for _, shift := range []time.Duration{0, time.Hour, -26 * time.Hour, 0, 0, time.Minute, -200 * 24 * time.Hour, time.Second} {
		clock.Add(shift)
		b := create(t, j)
		ids = append(ids, b.ID)
		if !b.Created.Equal(clock.Now()) {
			t.Errorf("batch %s was created at %s, the clock said %s", b.Number, b.Created, clock.Now())
		}
	}
	if !slices.IsSorted(ids) {
		t.Errorf("the ids are out of order: %v", ids)
	}
	want := []string{"2025-002", "2025-001", "2026-006", "2026-005", "2026-004", "2026-003", "2026-002", "2026-001"}
	if got := numbers(t, j, journal.Filter{}); !slices.Equal(got, want) {
		t.Errorf("listed as %v, want %v", got, want)
	}
	// A list by dates goes by the clock as it was, not by the order.
	if got := numbers(t, j, journal.Filter{To: start.Add(-100 * 24 * time.Hour)}); !slices.Equal(got, want[:2]) {
		t.Errorf("long ago: %v, want %v", got, want[:2])
	}
	if got := numbers(t, j, journal.Filter{From: start, Reverse: true}); !slices.Equal(got, []string{"2026-001", "2026-002"}) {
		t.Errorf("from the start on: %v", got)
	}
}

// The short number belongs to the year at the bench, not to that in Greenwich.
func TestNumberIsOfTheLocalYear(t *testing.T) {
	midnight := time.Date(2026, 1, 1, 0, 30, 0, 0, time.FixedZone("", 3600)) // 23:30 UTC in 2025
	j, clock := atClock(t, midnight)
	if b := create(t, j); b.Number != "2026-001" {
		t.Errorf("got %s, want 2026-001", b.Number)
	}
	clock.Set(midnight.In(time.FixedZone("", -3600)))
	if b := create(t, j); b.Number != "2025-001" {
		t.Errorf("got %s, want 2025-001", b.Number)
	}
}

// At the end of summer time 02:30 comes twice. Each keeps its offset.
func TestSummerTimeEnds(t *testing.T) {
	summer := time.Date(2026, 10, 25, 2, 30, 0, 0, time.FixedZone("", 2*3600))
	winter := time.Date(2026, 10, 25, 2, 30, 0, 0, time.FixedZone("", 3600))
	j, clock := atClock(t, summer)
	first := create(t, j)
	clock.Set(winter)
	second := create(t, j)
	for b, want := range map[*journal.Batch]string{&first: "2026-10-25T02:30:00+02:00", &second: "2026-10-25T02:30:00+01:00"} {
		got, err := j.Get(b.Number)
		if err != nil || got.Created.Format(time.RFC3339) != want {
			t.Errorf("batch %s: %s, %v; want %s", b.Number, got.Created.Format(time.RFC3339), err, want)
		}
	}
	if d := second.Created.Sub(first.Created); d != time.Hour {
		t.Errorf("the second was %v after the first, want 1h", d)
	}
}

// A result entered later keeps both times: when it was had and when it was written.
func TestLoggedLater(t *testing.T) {
	start := time.Date(2026, 5, 4, 8, 0, 0, 0, time.UTC)
	j, clock := atClock(t, start)
	b := create(t, j)
	review(t, j, b.Number)
	clock.Add(48 * time.Hour)
	had := start.Add(3 * time.Hour)
	if _, err := j.Log(b.Number, journal.Result{Good: 10}, "Tomas Reh", had); err != nil {
		t.Fatal(err)
	}
	got, err := j.Get(b.Number)
	if err != nil {
		t.Fatal(err)
	}
	e := got.Events[2]
	if !got.Logged.Equal(had) || !e.At.Equal(had) || !e.Written.Equal(clock.Now()) {
		t.Errorf("logged %s, event at %s, written %s", got.Logged, e.At, e.Written)
	}
}

// A batch of the past entered today takes its place in the past.
func TestEntryAboutThePast(t *testing.T) {
	now := time.Date(2026, 5, 4, 8, 0, 0, 0, time.UTC)
	j, _ := atClock(t, now)
	create(t, j)
	old := order(10)
	old.Created = time.Date(2019, 3, 2, 10, 0, 0, 0, time.UTC)
	if _, err := j.LogNew(old, journal.Result{Good: 9}); err != nil {
		t.Fatal(err)
	}
	create(t, j)
	if got, want := numbers(t, j, journal.Filter{}), []string{"2026-002", "2026-001", "2019-001"}; !slices.Equal(got, want) {
		t.Errorf("listed as %v, want %v", got, want)
	}
}
