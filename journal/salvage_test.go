package journal_test

import (
	"bytes"
	"compress/flate"
	"crypto/sha256"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"hepar/journal"
	"hepar/journal/internal/check"
	"hepar/journal/internal/record"
	"hepar/journal/internal/store"
	"hepar/journal/journaltest"
	"hepar/recipe/fault"
)

// TestSalvageOfASoundJournal returns the journal as it is.
func TestSalvageOfASoundJournal(t *testing.T) {
	j := journaltest.New(t)
	busyBook(t, j, 8)
	want, before := text(t, j), verified(t, j)
	into := filepath.Join(t.TempDir(), "saved.journal")
	report := must[journal.SalvageReport](t)(j.Salvage(into))
	saved := journaltest.Open(t, into, journal.Options{})
	if !report.Whole() || report.Events != before.Events || report.ID != before.ID || len(report.Damage) > 0 || text(t, saved) != want {
		t.Errorf("%+v", report)
	}
	next, would := must[journal.Batch](t)(saved.Create(tokens(), nil)), must[journal.Batch](t)(j.Create(tokens(), nil))
	if next.Number != would.Number {
		t.Errorf("the next number is %s, want %s", next.Number, would.Number)
	}
	_, err := j.Salvage(into)
	kind(t, err, fault.Failure, "already")
	_, err = j.Salvage(filepath.Join(t.TempDir(), "nowhere", "saved.journal"))
	kind(t, err, fault.Failure, "does not exist")
	_, err = journal.At(t.TempDir(), journal.Options{}).Salvage(into + "2")
	kind(t, err, fault.Failure, "not a file")
	notes := filepath.Join(t.TempDir(), "notes.txt")
	if err := os.WriteFile(notes, bytes.Repeat([]byte("order 240 clasps\n"), 4000), 0o600); err != nil {
		t.Fatal(err)
	}
	_, err = journal.At(notes, journal.Options{}).Salvage(into + "2")
	kind(t, err, fault.Damaged, "nothing of a journal")
	if left := namesIn(t, filepath.Dir(into)); len(left) != 1 {
		t.Errorf("left behind: %v", left)
	}
}

// TestSalvageSaysWhatIsLost salvages a journal of which two events are lost.
func TestSalvageSaysWhatIsLost(t *testing.T) {
	j := journal.At(filepath.Join(t.TempDir(), "hepar.journal"), journal.Options{By: "Ilse Tamm"})
	busyBook(t, j, 8)
	data := must[[]byte](t)(os.ReadFile(j.Path()))
	for seq, frame := range framesOf(t, j.Path()) {
		if seq == 2 || seq == 13 { // plans of two batches
			data = bytes.ReplaceAll(data, frame, make([]byte, len(frame)))
		}
	}
	if err := os.WriteFile(j.Path(), data, 0o600); err != nil {
		t.Fatal(err)
	}
	if report := must[journal.Report](t)(j.Verify()); report.Sound() {
		t.Error("verify finds nothing")
	}
	into := filepath.Join(t.TempDir(), "saved.journal")
	report := must[journal.SalvageReport](t)(j.Salvage(into))
	if report.LostEvents != 2 || len(report.Gaps) != 2 || report.Gaps[0] != (check.Gap{From: 2, To: 2}) || report.TailLost || report.Whole() || len(report.Incomplete) < 3 {
		t.Errorf("%+v", report)
	}
	saved := journaltest.Open(t, into, journal.Options{})
	if again := verified(t, saved); len(again.Missing) != len(report.Incomplete) {
		t.Errorf("the new journal says that it lacks %v", again.Missing)
	}
	if n := must[int](t)(count(saved, journal.Filter{})); n != 8 {
		t.Errorf("%d batches are listed, want 8", n)
	}
	must[journal.Batch](t)(saved.Create(tokens(), nil))
}

// TestOldHeaderIsDamage puts the header of an earlier write beside the newer one.
func TestOldHeaderIsDamage(t *testing.T) {
	j := journal.At(filepath.Join(t.TempDir(), "hepar.journal"), journal.Options{By: "Ilse Tamm"})
	busyBook(t, j, 1)
	page := os.Getpagesize()
	old := must[[]byte](t)(os.ReadFile(j.Path()))[:2*page]
	busyBook(t, j, 2)
	now := must[[]byte](t)(os.ReadFile(j.Path()))
	for _, at := range []int{0, page} {
		data := bytes.Clone(now)
		copy(data[at:at+page], old[at:at+page])
		if err := os.WriteFile(j.Path(), data, 0o600); err != nil {
			t.Fatal(err)
		}
		if report := must[journal.Report](t)(j.Verify()); report.Sound() {
			t.Error("verify finds nothing")
		}
		_, err := j.Create(tokens(), nil)
		kind(t, err, fault.Damaged, "header")
		_, err = count(j, journal.Filter{})
		kind(t, err, fault.Damaged, "header")
	}
}

// TestClaimedLength reads a journal of 2 MiB with a text that claims to have 1.5 GB:
// it is refused by its length, before anything is unpacked.
func TestClaimedLength(t *testing.T) {
	dir := t.TempDir()
	j := journal.At(filepath.Join(dir, "hepar.journal"), journal.Options{By: "Ilse Tamm"})
	busyBook(t, j, 2)
	good := must[journal.BackupReport](t)(j.Backup(filepath.Join(dir, "good"))).Path
	const claimed = 3 << 29
	var packed bytes.Buffer
	w := must[*flate.Writer](t)(flate.NewWriter(&packed, flate.BestCompression))
	zeros := make([]byte, 1<<20)
	for packed.Len() < 64<<10 { // of which there are enough to notice
		must[int](t)(w.Write(zeros))
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	sum := sha256.Sum256([]byte("a sheet"))
	frame := must[[]byte](t)(store.Seal(store.BlobFrame, store.Blob{SHA256: sum[:], Length: claimed, Data: append(packed.Bytes(), make([]byte, 2<<20)...)}))
	tamper(t, j.Path(), func(tx *store.Tx) error { tx.PutBlobFrame(sum[:], frame); return nil })
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	if report := must[journal.Report](t)(j.Verify()); report.Sound() || !strings.Contains(fmt.Sprint(report.Findings), "1610612736 bytes") {
		t.Errorf("verify finds %v", report.Findings)
	}
	_, err := journal.At(good, journal.Options{}).Restore(j.Path(), journal.RestoreOptions{LoseEvents: true})
	kind(t, err, fault.Damaged, "1610612736 bytes")
	saved := must[journal.SalvageReport](t)(j.Salvage(filepath.Join(dir, "saved.journal")))
	if len(saved.Damage) != 1 || !saved.Verified.Sound() {
		t.Errorf("salvage: %+v", saved)
	}
	runtime.ReadMemStats(&after)
	if used := after.TotalAlloc - before.TotalAlloc; used > 128<<20 {
		t.Errorf("%d MiB were allocated", used>>20)
	}
}

// TestUnfinishedWriteIsNotSaved leaves the pages of a change in the file that was
// never finished: salvage must not take it for an event that happened.
func TestUnfinishedWriteIsNotSaved(t *testing.T) {
	j := journaltest.New(t)
	busyBook(t, j, 3)
	first := must[journal.Batch](t)(j.Get("1"))
	e := &record.Event{ID: first.Latest().ID, Of: first.ID, Kind: record.Withdrawn, Reason: "never happened", At: first.Created}
	e.ID[15]++
	var events uint64
	var digest []byte
	if err := store.Open(j.Path(), 0, nil).View(func(tx *store.Tx) error { events, digest = tx.Head.Seq, tx.Head.Digest; return nil }); err != nil {
		t.Fatal(err)
	}
	stray := must[[]byte](t)(store.Seal(store.EventFrame, store.Link{Seq: events + 1, Prev: digest, Body: must[[]byte](t)(record.Encode(e))}))
	want := text(t, j)
	file := must[*os.File](t)(os.OpenFile(j.Path(), os.O_WRONLY|os.O_APPEND, 0))
	must[int](t)(file.Write(stray))
	file.Close()
	into := filepath.Join(t.TempDir(), "saved.journal")
	report := must[journal.SalvageReport](t)(j.Salvage(into))
	if got := text(t, journaltest.Open(t, into, journal.Options{})); got != want || !report.Whole() {
		t.Errorf("the unfinished write was saved: %+v", report)
	}
	// Its place was taken by another event since, which lies on a live page.
	must[journal.Batch](t)(j.Amend("1", "order", "Tide Gauge Society", "wrong club", ""))
	want = text(t, j)
	must[journal.SalvageReport](t)(j.Salvage(into + "2"))
	if got := text(t, journaltest.Open(t, into+"2", journal.Options{})); got != want {
		t.Errorf("the unfinished write was preferred: %s", difference(got, want))
	}
}
