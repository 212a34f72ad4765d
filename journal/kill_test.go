package journal_test

import (
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"hepar/journal"
	"hepar/journal/journaltest"
)

var (
	kills   = flag.Int("kills", 30, "how often TestKilled kills a process that logs")
	damages = flag.Int("damages", 500, "how many damages by chance TestDamage does, and a thirtieth of it in other tests")
)

// A process that logs as fast as it can is killed at random. What it has
// acknowledged is there afterwards, and the journal is sound.
func TestKilled(t *testing.T) {
	path := filepath.Join(t.TempDir(), "hepar.journal")
	seed := rand.Uint64()
	t.Logf("seed %d", seed)
	chance := rand.New(rand.NewPCG(seed, 0))
	state := map[string]string{} // number -> the last that was acknowledged
	for n := range *kills {
		c := startChild(t, "log", path, 0)
		if line, err := c.out.ReadString('\n'); err != nil {
			t.Fatalf("the process that logs said %q, %v: %s", line, err, c.err)
		}
		most := 60_000 // microseconds: soon, so that many kills meet the beginning of the work
		if n%2 == 1 {
			most = 600_000 // late, so that many meet a journal in full swing
		}
		time.AfterFunc(time.Duration(chance.IntN(most))*time.Microsecond, func() { _ = c.Process.Kill() })
		for {
			line, err := c.out.ReadString('\n')
			if err != nil {
				break // a line cut short was not acknowledged
			}
			verb, number, _ := strings.Cut(strings.TrimSpace(line), " ")
			state[number] = verb
		}
		_ = c.Wait()
		if c.err.Len() > 0 {
			t.Fatalf("the process that logs failed: %s", c.err)
		}
		j := journal.At(path, journal.Options{})
		journaltest.Sound(t, j)
		there := map[string]journal.State{}
		for b, err := range j.List(journal.Filter{Brief: true}) {
			if err != nil {
				t.Fatal(err)
			}
			there[b.Number] = b.State
		}
		for number, verb := range state {
			if there[number] == "" {
				t.Fatalf("batch %s was acknowledged and is lost", number)
			}
			if verb == "logged" && there[number] != journal.Logged {
				t.Fatalf("batch %s was acknowledged as logged and is %s", number, there[number])
			}
		}
		if t.Failed() {
			return
		}
	}
	if len(state) == 0 {
		t.Fatal("nothing was logged before the kills: the test proves nothing")
	}
	t.Logf("%d kills, %d batches acknowledged, none lost", *kills, len(state))
}

// playMaker makes journals, each in a folder of its own.
func playMaker(j *journal.Journal) error {
	fmt.Println("ready")
	for n := 0; ; n++ {
		dir := filepath.Join(filepath.Dir(j.Path()), fmt.Sprint(n))
		if err := os.MkdirAll(dir, 0o700); err != nil {
			return err
		}
		if err := journal.At(filepath.Join(dir, "hepar.journal"), journal.Options{}).Init(); err != nil {
			return err
		}
	}
}

// A store file that is being laid out when the process ends is a ruin. So it is laid
// out beside, and what has the name of a journal is one.
func TestKilledWhileMade(t *testing.T) {
	seed := rand.Uint64()
	t.Logf("seed %d", seed)
	chance := rand.New(rand.NewPCG(seed, 0))
	whole, beside := 0, 0
	for range max(5, *kills/3) {
		dir := t.TempDir()
		c := startChild(t, "make", filepath.Join(dir, "hepar.journal"), 0)
		if line, err := c.out.ReadString('\n'); err != nil {
			t.Fatalf("the process that makes journals said %q, %v: %s", line, err, c.err)
		}
		time.Sleep(time.Duration(chance.IntN(60_000)) * time.Microsecond)
		_ = c.Process.Kill()
		_ = c.Wait()
		files, err := filepath.Glob(filepath.Join(dir, "*", "hepar.journal"))
		if err != nil {
			t.Fatal(err)
		}
		for _, file := range files {
			journaltest.Sound(t, journal.At(file, journal.Options{}))
			whole++
		}
		left, err := filepath.Glob(filepath.Join(dir, "*", ".hepar.journal.new-*"))
		if err != nil {
			t.Fatal(err)
		}
		beside += len(left)
	}
	if whole == 0 || *kills >= 30 && beside == 0 {
		t.Errorf("%d journals made and %d left half made: the test proves nothing", whole, beside)
	}
	t.Logf("%d journals made, %d left half made beside their place", whole, beside)
}
