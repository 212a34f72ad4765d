package main

import (
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"hepar/cmd/hepar/bench"
	"hepar/journal"
	"hepar/journal/journaltest"
	"hepar/recipe/run"
)

// TestDipOnAFullDisk fills the disk in the middle of a run: the screen says so, keeps the
// entry in hand and pretends nothing; with room again it writes the entry down, once.
func TestDipOnAFullDisk(t *testing.T) {
	planned, now, _ := plannedRun(t)
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "size=2m"); err != nil {
		t.Skipf("no small file system can be mounted here: %v", err)
	}
	t.Cleanup(func() { _ = syscall.Unmount(dir, 0) })
	data, err := os.ReadFile(planned.Journal.Path())
	if err == nil {
		err = os.WriteFile(filepath.Join(dir, "journal.db"), data, 0o600)
	}
	if err != nil {
		t.Fatal(err)
	}
	j := journal.At(filepath.Join(dir, "journal.db"), journal.Options{Now: planned.Now, By: "Ilse Tamm"})
	b := &bench.Bench{Journal: j, WithoutReview: planned.WithoutReview, By: planned.By, Now: planned.Now, Recipe: planned.Recipe, Sheet: planned.Sheet}
	b.Take(planned.Batch)
	s := newDipScreen(b)
	press(t, s, space) // the bath is mixed

	ballast, err := os.Create(filepath.Join(dir, "ballast"))
	for block := make([]byte, 4096); err == nil; {
		_, err = ballast.Write(block)
	}
	ballast.Close()
	for range 5000 { // the file has some room of its own
		*now = now.Add(1e9)
		s.Update(s.keep(*run.Keyed(run.Entry{Do: run.Read}))())
		if len(s.hand) > 0 {
			break
		}
	}
	kept := len(b.Run.Entries)
	if len(s.hand) != 1 || !strings.Contains(s.message, "NOT WRITTEN DOWN YET") || !strings.Contains(s.message, "disk is full") {
		t.Fatalf("%d in hand, message %q", len(s.hand), s.message)
	}
	if screen := strings.Join(s.lines(), "\n"); !strings.Contains(screen, "WRITING IT DOWN") || !strings.Contains(screen, "disk is full") {
		t.Errorf("the screen says\n%s", screen)
	}
	s.Update(s.store()()) // tried again: still full
	if batch, err := j.Get(b.Batch.Number); err != nil || len(batch.Bench) != kept || len(s.hand) != 1 {
		t.Errorf("the journal has %d entries, want %d (%v)", len(batch.Bench), kept, err)
	}
	if err := os.Remove(ballast.Name()); err != nil {
		t.Fatal(err)
	}
	s.Update(s.store()())
	if batch, err := j.Get(b.Batch.Number); err != nil || len(batch.Bench) != kept+1 || len(s.hand) != 0 {
		t.Errorf("with room again the journal has %d entries, want %d; %d in hand (%v)", len(batch.Bench), kept+1, len(s.hand), err)
	}
	journaltest.Sound(t, j)
}
