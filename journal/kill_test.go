package journal_test

import (
	"fmt"
	"math/rand/v2"
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

// TestKilled kills a process that logs as fast as it can. What it has acknowledged
// is there afterwards, and the journal is sound.
func TestKilled(t *testing.T) {
	path := filepath.Join(t.TempDir(), "hepar.journal")
	seed := rand.Uint64()
	chance := rand.New(rand.NewPCG(seed, 0))
	state := map[string]string{} // number -> the last that was acknowledged
	for n := range *kills {
		c := startChild(t, "log", path, 0)
		line, err := c.out.ReadString('\n')
		if err != nil {
			t.Fatalf("the process that logs said %q, %v: %s", line, err, c.err)
		}
		most := 30_000 // microseconds: soon, so that many kills meet the beginning of the work
		if n%2 == 1 {
			most = 300_000 // late, so that many meet a journal in full swing
		}
		time.AfterFunc(time.Duration(chance.IntN(most))*time.Microsecond, func() { _ = c.Process.Kill() })
		for _, line := range append([]string{strings.TrimSpace(line)}, c.lines(t)...) {
			verb, number, _ := strings.Cut(line, " ")
			state[number] = verb
		}
		j := journal.At(path, journal.Options{})
		journaltest.Sound(t, j)
		there := map[string]journal.State{}
		for b, err := range j.List(journal.Filter{}) {
			if err != nil {
				t.Fatal(err)
			}
			there[b.Number] = b.State
		}
		for number, verb := range state {
			if there[number] == "" || verb == "logged" && there[number] != journal.Logged {
				t.Fatalf("seed %d: batch %s was acknowledged as %s and is %q", seed, number, verb, there[number])
			}
		}
		if t.Failed() {
			t.FailNow()
		}
	}
	if len(state) < *kills {
		t.Fatalf("only %d batches were logged before the kills: the test proves nothing", len(state))
	}
	t.Logf("%d kills, %d batches acknowledged, none lost", *kills, len(state))
}

// TestKilledWhileMade kills a process that makes journals. What has the name of a
// journal is one.
func TestKilledWhileMade(t *testing.T) {
	chance := rand.New(rand.NewPCG(rand.Uint64(), 0))
	whole := 0
	for range max(5, *kills/3) {
		dir := t.TempDir()
		c := startChild(t, "make", filepath.Join(dir, "book"), 0)
		if line, err := c.out.ReadString('\n'); err != nil {
			t.Fatalf("the process that makes journals said %q, %v: %s", line, err, c.err)
		}
		time.Sleep(time.Duration(20_000+chance.IntN(60_000)) * time.Microsecond)
		_ = c.Process.Kill()
		c.lines(t)
		files, err := filepath.Glob(filepath.Join(dir, "*", "hepar.journal"))
		if err != nil {
			t.Fatal(err)
		}
		for _, file := range files {
			journaltest.Sound(t, journal.At(file, journal.Options{}))
			whole++
		}
	}
	if whole == 0 {
		t.Error("no journal was made: the test proves nothing")
	}
}

// TestEightProcesses logs from eight processes at once beside backups and lists:
// nothing is lost, no number is given out twice, every backup is sound.
func TestEightProcesses(t *testing.T) {
	const processes, each = 8, 12
	j := journaltest.New(t)
	must[journal.Batch](t)(j.Create(tokens(), nil))
	var all sync.WaitGroup
	for range processes {
		c := startChild(t, "log", j.Path(), each)
		all.Go(func() {
			if n := len(c.lines(t)); n != 2*each {
				t.Errorf("a process acknowledged %d changes, want %d", n, 2*each)
			}
		})
	}
	done := make(chan struct{})
	go func() { all.Wait(); close(done) }()
	last := 0
	for running := true; running; {
		select {
		case <-done:
			running = false
		case <-time.After(20 * time.Millisecond):
		}
		report, err := j.Backup("")
		if err != nil {
			t.Fatal(err)
		}
		if report.Events < last {
			t.Errorf("a backup has %d events after one with %d", report.Events, last)
		}
		last = report.Events
		must[int](t)(count(j, journal.Filter{}))
	}
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
	if len(seen) != processes*each || last != 1+2*processes*each {
		t.Errorf("%d batches are logged and the last backup has %d events", len(seen), last)
	}
	for _, b := range must[[]journal.BackupFile](t)(j.Backups("")) {
		journaltest.Sound(t, journal.At(b.Path, journal.Options{}))
	}
}

// TestBusyNamesTheHolder waits a while for another process and then names it.
func TestBusyNamesTheHolder(t *testing.T) {
	j := journaltest.New(t)
	c := startChild(t, "hold", j.Path(), 0)
	if line, err := c.out.ReadString('\n'); err != nil || strings.TrimSpace(line) != "holding" {
		t.Fatalf("the holder said %q, %v: %s", line, err, c.err)
	}
	impatient := journal.At(j.Path(), journal.Options{Wait: -1})
	for what, call := range map[string]func() error{
		"create":  func() error { _, err := impatient.Create(tokens(), nil); return err },
		"count":   func() error { _, err := count(impatient, journal.Filter{}); return err },
		"verify":  func() error { _, err := impatient.Verify(); return err },
		"backup":  func() error { _, err := impatient.Backup(""); return err },
		"compact": func() error { _, err := impatient.Compact(); return err },
	} {
		err := call()
		kind(t, err, fault.Busy, "is held by")
		if _, locks := os.Stat("/proc/locks"); runtime.GOOS == "linux" && locks == nil && !strings.Contains(err.Error(), fmt.Sprintf("pid %d", c.Process.Pid)) {
			t.Errorf("%s: %q does not name process %d", what, err, c.Process.Pid)
		}
	}
	time.AfterFunc(50*time.Millisecond, func() { c.stdin.Close() })
	must[journal.Batch](t)(j.Create(tokens(), nil))
}
