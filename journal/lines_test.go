package journal_test

import (
	"bytes"
	"fmt"
	"path/filepath"
	"testing"
	"time"

	"hepar/journal"
	"hepar/journal/demo"
)

// A line is the View of the batch, whatever is in it and however the list is asked for.
func TestLines(t *testing.T) {
	now := time.Date(2026, 3, 9, 8, 15, 0, 0, time.FixedZone("", 3600+1800))
	j := journal.At(filepath.Join(t.TempDir(), "hepar.journal"), journal.Options{By: "Ilka Brandt", Now: func() time.Time { now = now.Add(1234 * time.Millisecond); return now }})
	numbers := history(t, j)
	book(t, j)
	odd := order(30)
	odd.Note, odd.By, odd.Created = "\"quoted\" \\ <é>&\nline", "", time.Date(2024, 1, 2, 3, 4, 5, 0, time.UTC)
	for k := range 9 { // more causes than there is room for
		r := journal.Result{Rework: 20, Temperature: celsius(70.123456789), Time: seconds(1e-7), Shade: "blue", Causes: map[string]int{}}
		for c := range k * 2 {
			r.Causes[fmt.Sprintf("cause-%d", 99-c)] = 1
		}
		if _, err := j.LogNew(odd, r); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := j.Review(numbers[0], journal.Acknowledgement{By: "Uwe", At: now.Add(-time.Hour), Points: []string{"gas", "acid"}}); err != nil {
		t.Fatal(err)
	}
	if _, err := j.Amend(numbers[4], "alloy", "fine-999", "looked again", "Uwe"); err != nil {
		t.Fatal(err)
	}
	made, err := demo.Write(filepath.Join(t.TempDir(), "demo"), 300, now, nil)
	if err != nil {
		t.Fatal(err)
	}
	for name, j := range map[string]*journal.Journal{"history": j, "demo": journal.At(made.Journal, journal.Options{})} {
		for _, f := range []journal.Filter{
			{}, {Frozen: true}, {Brief: true}, {Reverse: true, Offset: 1, Limit: 3}, {Sort: journal.SortYield}, {Cause: "too-light"}, {Result: "reject", Limit: 5},
		} {
			var want, got [][]byte
			for b, err := range j.List(f) {
				if err != nil {
					t.Fatal(err)
				}
				line, err := b.View().MarshalJSON()
				if err != nil {
					t.Fatal(err)
				}
				want = append(want, line)
			}
			for line, err := range j.Lines(f) {
				if err != nil {
					t.Fatal(err)
				}
				got = append(got, bytes.Clone(line))
			}
			if len(got) != len(want) {
				t.Fatalf("%s, %+v: %d lines, want %d", name, f, len(got), len(want))
			}
			for i := range got {
				if !bytes.Equal(got[i], want[i]) {
					t.Errorf("%s, %+v: got\n%s\nwant\n%s", name, f, got[i], want[i])
				}
			}
		}
	}
	for range j.Lines(journal.Filter{}) {
		break
	}
	for line, err := range j.Lines(journal.Filter{Limit: -1}) {
		if err == nil {
			t.Errorf("got %s, want an error", line)
		}
	}
}
