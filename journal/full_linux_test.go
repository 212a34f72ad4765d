package journal_test

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"hepar/journal"
	"hepar/journal/journaltest"
	"hepar/recipe/fault"
)

func init() { roles["full"] = playFullDisk }

// playFullDisk logs until the limit on the size of a file, which stands in for a
// full disk, stops it. It ends well if the error is clear and reading still works.
func playFullDisk(j *journal.Journal, many int) error {
	if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &syscall.Rlimit{Cur: uint64(many), Max: uint64(many)}); err != nil {
		return err
	}
	for n := 0; n < 1000; n++ {
		p := tokens()
		p.Text = strings.Repeat(fmt.Sprintf("# entry %d %x\n", n, n*7919), 900)
		if _, err := j.Create(p, nil); err == nil {
			fmt.Println("kept")
			continue
		} else if fault.KindOf(err) != fault.Failure || !strings.Contains(err.Error(), "disk is full") || fault.CureOf(err) == "" {
			return fmt.Errorf("the error is not clear: %w", err)
		}
		if _, err := count(j, journal.Filter{}); err != nil {
			return err
		}
		for what, err := range copyCalls(j) {
			fmt.Printf("%s: %v | %s\n", what, err, fault.CureOf(err))
		}
		return nil
	}
	return errors.New("the limit was never reached")
}

// copyCalls makes every call that writes a copy of the journal.
func copyCalls(j *journal.Journal) map[string]error {
	errs := map[string]error{}
	_, errs["backup"] = j.Backup("")
	_, errs["compact"] = j.Compact()
	_, errs["salvage"] = j.Salvage(j.Path() + ".saved")
	return errs
}

// TestFileLimit fills a file up to a limit. What was acknowledged is there, and
// with room again the journal goes on.
func TestFileLimit(t *testing.T) {
	j := journaltest.New(t)
	must[journal.Batch](t)(j.Create(tokens(), nil))
	kept := 1
	for _, line := range startChild(t, "full", j.Path(), 256<<10).lines(t) {
		if line == "kept" {
			kept++
		}
	}
	if n := must[int](t)(count(j, journal.Filter{})); n != kept || kept < 3 {
		t.Errorf("there are %d batches, want the %d that were acknowledged", n, kept)
	}
	must[journal.Batch](t)(j.Create(tokens(), nil))
}

// TestFullDisk fills a small file system. Every call says that the disk is full,
// leaves nothing behind and leaves the journal as it was.
func TestFullDisk(t *testing.T) {
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "size=3m"); err != nil {
		t.Skipf("no small file system can be mounted here: %v", err)
	}
	t.Cleanup(func() { _ = syscall.Unmount(dir, 0) })
	j := journal.At(filepath.Join(dir, "hepar.journal"), journal.Options{By: "Ilse Tamm"})
	busyBook(t, j, 12)
	elsewhere := filepath.Join(t.TempDir(), "backups")
	from := must[journal.BackupReport](t)(j.Backup(elsewhere)).Path
	want := text(t, j)
	ballast := must[*os.File](t)(os.Create(filepath.Join(dir, "ballast")))
	for block := make([]byte, 4096); ; {
		if _, err := ballast.Write(block); err != nil {
			break
		}
	}
	ballast.Close()
	calls := copyCalls(j)
	_, calls["restore"] = j.Restore(from, journal.RestoreOptions{})
	large := tokens()
	var lines strings.Builder
	for n := range 30_000 {
		fmt.Fprintf(&lines, "# %d %x\n", n, n*n*7919)
	}
	large.Text = lines.String()
	_, calls["create"] = j.Create(large, nil)
	for what, err := range calls {
		if err == nil {
			t.Errorf("%s: there was room", what)
			continue
		}
		kind(t, err, fault.Failure, "disk is full")
	}
	if text(t, j) != want {
		t.Error("the journal was changed")
	}
	for _, name := range namesIn(t, dir) {
		if name != "hepar.journal" && name != "ballast" && name != "backups" {
			t.Errorf("left behind: %s", name)
		}
	}
	if err := os.Remove(ballast.Name()); err != nil {
		t.Fatal(err)
	}
	must[journal.Batch](t)(j.Create(tokens(), nil))
	journaltest.Sound(t, j) // before the file system goes
}
