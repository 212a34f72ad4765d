package main

import (
	"slices"
	"testing"
	"time"

	"hepar/journal"
	"hepar/recipe/bath/run"
	"hepar/recipe/measure"
)

// TestWhatTheBenchKeeps: a late hand teaches nothing, a dip that took another time does; an
// undone exit can stand again with its time; a piece that was added may be counted.
func TestWhatTheBenchKeeps(t *testing.T) {
	b, now, _ := plannedRun(t)
	write := func(e run.Entry) {
		t.Helper()
		*now = now.Add(10 * time.Second)
		e.At = *now
		if err := b.Write(e); err != nil {
			t.Fatal(err)
		}
	}
	dip := func(load, pieces int, planned, took measure.Seconds) run.Entry {
		out, at := *run.Of(run.Out, load, pieces, took), measure.Celsius(75)
		out.Temperature = &at
		write(*run.Of(run.In, load, pieces, planned))
		write(out)
		return out
	}
	dip(1, 4, 10, 11) // a second late
	dip(2, 5, 10, 14) // a piece more, and long
	last := dip(3, 4, 10, 10)
	undo := *run.NewEntry(run.Undone)
	undo.Undoes = last.Key
	write(undo)
	again := b.Next().First
	if len(again) == 0 || again[0].Entry == nil || again[0].Entry.Time == nil || *again[0].Entry.Time != 10 {
		t.Fatalf("an exit that was undone is not offered again: %+v", again)
	}
	at := measure.Celsius(75)
	again[0].Entry.Temperature = &at
	write(*again[0].Entry)
	batch, err := b.Journal.Log(b.Batch.Number, journal.Result{Good: 13}, journal.LogOptions{WithoutReview: "for the test"})
	if err != nil {
		t.Fatalf("13 of 12 and one that was added: %v", err)
	}
	var times []measure.Seconds
	for _, d := range cameOutRight(batch) {
		times = append(times, d.Time)
	}
	if !slices.Equal(times, []measure.Seconds{10, 14, 10}) {
		t.Errorf("the bench teaches %v s, not 10, 14 and 10", times)
	}
}
