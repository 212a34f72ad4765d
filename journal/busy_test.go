package journal_test

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"testing"
	"time"

	"hepar/journal"
	"hepar/journal/journaltest"
	"hepar/recipe/fault"
)

// The store would wait for ever for a file that another process holds. We wait a
// while and then name the process.
func TestBusyNamesTheHolder(t *testing.T) {
	path := filepath.Join(t.TempDir(), "hepar.journal")
	journaltest.Open(t, path, journal.Options{})
	c := startChild(t, "hold", path, 0)
	if line, err := c.out.ReadString('\n'); err != nil || strings.TrimSpace(line) != "holding" {
		t.Fatalf("the holder said %q, %v: %s", line, err, c.err)
	}
	impatient := journal.At(path, journal.Options{Wait: -1})
	for name, call := range map[string]func() error{
		"write": func() error { _, err := impatient.Create(order(1)); return err },
		"read":  func() error { _, err := impatient.Get("2026-001"); return err },
		"list":  func() error { _, err := impatient.Count(journal.Filter{}); return err },
		"check": func() error { _, err := impatient.Verify(); return err },
	} {
		err := call()
		if fault.KindOf(err) != fault.Busy {
			t.Errorf("%s: got %v, want busy", name, err)
			continue
		}
		if runtime.GOOS == "linux" {
			if _, locks := os.Stat("/proc/locks"); locks == nil && !strings.Contains(err.Error(), fmt.Sprintf("pid %d", c.Process.Pid)) {
				t.Errorf("%s: %q does not name process %d", name, err, c.Process.Pid)
			}
		}
		if fault.CureOf(err) == "" {
			t.Errorf("%s: %q has no cure", name, err)
		}
	}
	// One that waits gives up in its time, and leaves no lock behind when it does.
	for name, call := range map[string]func(j *journal.Journal) error{
		"write": func(j *journal.Journal) error { _, err := j.Create(order(1)); return err },
		"read":  func(j *journal.Journal) error { _, err := j.Get("2026-001"); return err },
	} {
		begun := time.Now()
		err := call(journal.At(path, journal.Options{Wait: 50 * time.Millisecond}))
		if waited := time.Since(begun); fault.KindOf(err) != fault.Busy || waited < 50*time.Millisecond || waited > 3*time.Second {
			t.Errorf("%s: after %v: got %v, want busy after 50 ms", name, waited, err)
		}
	}
	// One that waits longer gets its turn once the holder is done.
	time.AfterFunc(50*time.Millisecond, func() { c.stdin.Close() })
	if _, err := journal.At(path, journal.Options{}).Create(order(1)); err != nil {
		t.Errorf("after the holder had ended: %v", err)
	}
}

// Eight processes log at once: nothing is lost, nothing doubled, nobody waits in vain.
func TestEightProcesses(t *testing.T) {
	const processes, each = 8, 15
	path := filepath.Join(t.TempDir(), "hepar.journal")
	j := journaltest.Open(t, path, journal.Options{})
	var all sync.WaitGroup
	for range processes {
		c := startChild(t, "log", path, each)
		all.Go(func() {
			for _, err := c.out.ReadString('\n'); err == nil; _, err = c.out.ReadString('\n') {
			}
			if err := c.Wait(); err != nil {
				t.Errorf("one of the processes failed: %v: %s", err, c.err)
			}
		})
	}
	all.Wait()
	seen := map[string]bool{}
	for b, err := range j.List(journal.Filter{State: journal.Logged}) {
		if err != nil {
			t.Fatal(err)
		}
		if seen[b.Number] {
			t.Errorf("the number %s was given out twice", b.Number)
		}
		seen[b.Number] = true
	}
	if len(seen) != processes*each {
		t.Errorf("%d batches are logged, want %d", len(seen), processes*each)
	}
}

// A slow reader of a list does not keep a writer out.
func TestListLetsWritersIn(t *testing.T) {
	path := filepath.Join(t.TempDir(), "hepar.journal")
	j := journaltest.Open(t, path, journal.Options{Wait: -1})
	for range 3 {
		if _, err := j.Create(order(1)); err != nil {
			t.Fatal(err)
		}
	}
	for _, sort := range journal.Sorts() {
		rows := 0
		for _, err := range j.List(journal.Filter{Sort: sort, Limit: 3}) {
			if err != nil {
				t.Fatal(err)
			}
			if rows++; rows == 1 {
				if _, err := j.Create(order(1)); err != nil {
					t.Errorf("while a list sorted by %s is being read: %v", sort, err)
				}
			}
		}
		if rows != 3 {
			t.Errorf("the list sorted by %s had %d rows, want 3", sort, rows)
		}
	}
}

// One Journal serves several goroutines at once.
func TestGoroutines(t *testing.T) {
	j := journaltest.New(t)
	var all sync.WaitGroup
	for range 8 {
		all.Go(func() {
			for range 5 {
				b, err := j.Create(order(1))
				if err == nil {
					_, err = j.Get(b.Number)
				}
				if err != nil {
					t.Error(err)
				}
			}
		})
	}
	all.Wait()
	if n, err := j.Count(journal.Filter{}); n != 40 || err != nil {
		t.Errorf("%d batches, %v; want 40", n, err)
	}
}

// playReader lists all batches over and over.
func playReader(j *journal.Journal) error {
	fmt.Println("ready")
	for {
		if _, err := content(j); err != nil {
			return err
		}
	}
}

// Readers share the lock. Their turns overlap without end where several are at
// work, and a writer must get his between them all the same.
func TestReadersLetAWriterIn(t *testing.T) {
	if runtime.GOOS != "linux" {
		t.Skip("there is no turnstile here")
	}
	j := large(t, 2000)
	journaltest.Sound(t, j)
	for range 4 {
		c := startChild(t, "read", j.Path(), 0)
		if line, err := c.out.ReadString('\n'); err != nil {
			t.Fatalf("a reader said %q, %v: %s", line, err, c.err)
		}
	}
	time.Sleep(100 * time.Millisecond) // until all of them read
	// Without the turnstile a writer waits for as long as chance has it: 0.7 s on average here.
	writer := journal.At(j.Path(), journal.Options{Wait: time.Second})
	var worst time.Duration
	for range 40 {
		begun := time.Now()
		if _, err := writer.Create(order(1)); err != nil {
			t.Fatal(err)
		}
		worst = max(worst, time.Since(begun))
	}
	t.Logf("a writer waited %v at most", worst)
}

// Readers do not keep each other out, not even those that do not wait.
func TestReadersShare(t *testing.T) {
	j := large(t, 50)
	journaltest.Sound(t, j)
	impatient := journal.At(j.Path(), journal.Options{Wait: -1})
	err := journal.Held(j, func() error {
		if _, err := impatient.Get("2018-001"); err != nil {
			return err
		}
		if _, err := impatient.Create(order(1)); fault.KindOf(err) != fault.Busy || !strings.Contains(err.Error(), "this very process") {
			t.Errorf("a writer got %v, want busy", err)
		}
		return nil
	})
	if err != nil {
		t.Error(err)
	}
	// Within a change the same journal cannot be read: that would wait for itself.
	err = j.Update(func(*journal.Writer) error { _, err := impatient.Get("2018-001"); return err })
	if fault.KindOf(err) != fault.Busy || !strings.Contains(err.Error(), "this very process") {
		t.Errorf("within a change: %v", err)
	}
}
