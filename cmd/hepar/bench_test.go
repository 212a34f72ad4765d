package main

import (
	"slices"
	"testing"
	"time"

	"hepar/journal"
	"hepar/recipe/bath"
	"hepar/recipe/measure"
	"hepar/recipe/run"
)

// TestWhatTheBenchKeeps: an undone exit can stand again with its time; a piece that was added
// may be counted; what was done at the bench teaches the next order.
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
	write(*run.Keyed(run.Entry{Do: run.Undone, Undoes: last.Key}))
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
	if !slices.Equal(times, []measure.Seconds{10, 10}) {
		t.Errorf("the bench teaches %v s, not 10 and 10", times)
	}
}

// TestWhatABatchTeaches: the time that was really dipped counts, of every load that came out
// right and was read. A hand that is a little late teaches nothing; a load that was forgotten
// teaches nothing either if others came out right on time.
func TestWhatABatchTeaches(t *testing.T) {
	type load struct {
		planned, took measure.Seconds
		read          measure.Celsius // 0: not read
		causes        map[string]int
	}
	dark := map[string]int{"too-dark": 2}
	for _, row := range []struct {
		what    string
		amended measure.Celsius
		loads   []load
		want    []bath.Timed
	}{
		{"a little late", 0, []load{{10, 11, 75, nil}}, []bath.Timed{{Time: 10, At: 75}}},
		{"lifted early, by the colour", 0, []load{{10, 8.3, 75, nil}}, []bath.Timed{{Time: 8.3, At: 75}}},
		{"every load long, by the colour", 0, []load{{10, 15, 75, nil}, {11, 16, 74, nil}}, []bath.Timed{{Time: 15, At: 75}, {Time: 16, At: 74}}},
		{"one forgotten among others", 0, []load{{10, 10, 75, nil}, {10, 17, 75, nil}}, []bath.Timed{{Time: 10, At: 75}}},
		{"one forgotten, the one on time was not read", 0, []load{{10, 10, 0, nil}, {10, 17, 75, nil}}, nil},
		{"too dark after it was forgotten", 0, []load{{10, 17, 75, dark}, {10, 9, 75, nil}}, []bath.Timed{{Time: 9, At: 75}}},
		{"the temperature was amended", 72, []load{{10, 9, 75, nil}}, []bath.Timed{{Time: 9, At: 72}}},
	} {
		b := journal.Batch{Result: &journal.Result{Good: 100}, Dip: new(journal.Dip)}
		b.Causes = map[string]int{}
		for i, l := range row.loads {
			b.Bench = append(b.Bench, *run.Of(run.In, i+1, 4, l.planned), *run.Of(run.Out, i+1, 4, l.took))
			out := journal.Load{Number: i + 1, Pieces: 4, Time: &l.took, Causes: l.causes}
			if l.read > 0 {
				out.Temperature = &l.read
			}
			for cause, n := range l.causes {
				b.Causes[cause] += n
			}
			b.Dip.Loads = append(b.Dip.Loads, out)
		}
		if row.amended > 0 {
			b.Temperature = &row.amended
			b.Events = append(b.Events, &journal.Event{Field: "temperature"})
		}
		if got := cameOutRight(b); !slices.Equal(got, row.want) {
			t.Errorf("%s: %v, want %v", row.what, got, row.want)
		}
	}
}
