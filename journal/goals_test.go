package journal_test

import (
	"bytes"
	"flag"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"text/tabwriter"
	"time"

	bolt "go.etcd.io/bbolt"

	"hepar/journal"
)

var (
	goalBatches = flag.Int("batches", 1000, "the most batches TestGoals measures with; 1000000 for the figures in DEVELOPERS.md")
	goalRuns    = flag.Int("runs", 1, "how often TestGoals does each thing, the two sides in turn")
)

// TestGoals measures the goals for the speed of the journal, as ratios to the bare
// store and to the sqlite3 shell in one run, and what each thing costs at every
// power of ten up to -batches. It fails where the two sides do not give the same
// answers, never for a time. For the figures:
//
//	go test ./journal -run TestGoals -v -timeout 2h -args -batches 1000000
func TestGoals(t *testing.T) {
	sqlite, err := exec.LookPath("sqlite3")
	if err != nil {
		t.Skip("the shell sqlite3 is not installed: it is what the journal is measured against")
	}
	if testing.Short() {
		t.Skip("it builds the program and runs it some hundred times")
	}
	g := &goals{T: t, sqlite: sqlite, dir: t.TempDir()}
	g.hepar = filepath.Join(g.dir, "bin", "hepar")
	if out, err := exec.Command("go", "build", "-trimpath", "-ldflags", "-s -w", "-tags", "urfave_cli_no_docs", "-o", g.hepar, "hepar/cmd/hepar").CombinedOutput(); err != nil {
		t.Skipf("hepar cannot be built here: %v\n%s", err, out)
	}
	var sizes []int
	for n := 1000; n < *goalBatches; n *= 10 {
		sizes = append(sizes, n)
	}
	for _, n := range append(sizes, *goalBatches) {
		g.size(n)
	}
	t.Logf("goals at %d batches\n%s", *goalBatches, g.table())
	t.Logf("cost of each by number of batches, with its ratio\n%s", g.costs())
}

// goals are the measurements of one test.
type goals struct {
	*testing.T
	dir, hepar, sqlite string
	sizes              []int
	rows               []*goalRow
}

// goalRow is one thing that is measured, at each size.
type goalRow struct {
	what, peer, goal string
	of               []figure
}

// figure is what one thing took at one size.
type figure struct {
	ours, theirs float64 // ms, or bytes
	memory       int64   // private memory of ours at its highest, in bytes; 0 where it was not measured
	unit         string
}

func (g *goals) put(what, peer, goal string, f figure) {
	for _, r := range g.rows {
		if r.what == what {
			r.of = append(r.of, f)
			return
		}
	}
	g.rows = append(g.rows, &goalRow{what: what, peer: peer, goal: goal, of: []figure{f}})
}

func (g *goals) table() string {
	return tabbed(func(w io.Writer) {
		fmt.Fprintln(w, "what\tours\tpeer's\tratio\tgoal\tprivate MiB\tagainst")
		for _, r := range g.rows {
			f := r.of[len(r.of)-1]
			memory := "-"
			if f.memory > 0 {
				memory = fmt.Sprintf("%.0f", float64(f.memory)/(1<<20))
			}
			ratio := "-"
			if f.theirs > 0 {
				ratio = fmt.Sprintf("%.2f", f.ours/f.theirs)
			}
			fmt.Fprintf(w, "%s\t%.2f %s\t%.2f %s\t%s\t%s\t%s\t%s\n", r.what, f.ours, f.unit, f.theirs, f.unit, ratio, r.goal, memory, r.peer)
		}
	})
}

func (g *goals) costs() string {
	return tabbed(func(w io.Writer) {
		fmt.Fprint(w, "what")
		for _, n := range g.sizes {
			fmt.Fprintf(w, "\t%d", n)
		}
		fmt.Fprintln(w, "\t")
		for _, r := range g.rows {
			fmt.Fprint(w, r.what)
			for _, f := range r.of {
				fmt.Fprintf(w, "\t%.2f", f.ours)
				if f.theirs > 0 {
					fmt.Fprintf(w, " (%.2f)", f.ours/f.theirs)
				}
			}
			fmt.Fprintf(w, "\t%s\n", r.of[0].unit)
		}
	})
}

func tabbed(write func(io.Writer)) string {
	var text bytes.Buffer
	w := tabwriter.NewWriter(&text, 0, 0, 2, ' ', 0)
	write(w)
	if w.Flush() != nil {
		return ""
	}
	return text.String()
}

// run runs a process and gives what it printed, and how long it took in ms.
func (g *goals) run(input, program string, args ...string) (string, float64) {
	g.Helper()
	out, took, _ := g.watched(false, input, program, args...)
	return out, took
}

// watched also gives the private memory at its highest, if it is to watch: looking
// at it takes time of its own.
func (g *goals) watched(watch bool, input, program string, args ...string) (string, float64, int64) {
	g.Helper()
	c := exec.Command(program, args...)
	c.Env = append(os.Environ(), "HOME="+g.dir, "XDG_DATA_HOME="+g.dir, "XDG_CONFIG_HOME="+g.dir)
	var out, errs bytes.Buffer
	c.Stdin, c.Stdout, c.Stderr = strings.NewReader(input), &out, &errs
	start := time.Now()
	if err := c.Start(); err != nil {
		g.Fatal(err)
	}
	var most int64
	var watching sync.WaitGroup
	end := make(chan struct{})
	if watch {
		watching.Go(func() {
			for {
				most = max(most, privateMemory(c.Process.Pid))
				select {
				case <-end:
					return
				case <-time.After(time.Millisecond):
				}
			}
		})
	}
	err := c.Wait()
	took := time.Since(start)
	close(end)
	watching.Wait()
	if err != nil {
		g.Fatalf("%s %s: %v\n%s", filepath.Base(program), strings.Join(args, " "), err, errs.String())
	}
	return out.String(), milli(took), most
}

// privateMemory is the memory of a process that is not a map of a file; 0 where
// that cannot be told.
func privateMemory(pid int) int64 {
	text, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", pid))
	if err != nil {
		return 0
	}
	_, rest, ok := strings.Cut(string(text), "RssAnon:")
	if !ok {
		return 0
	}
	n, err := strconv.ParseInt(strings.Fields(rest)[0], 10, 64)
	if err != nil {
		return 0
	}
	return n << 10 // it is given in kB
}

func milli(d time.Duration) float64 { return float64(d.Nanoseconds()) / 1e6 }

// pair runs two things in turn and gives the median of each.
func pair(runs int, ours, theirs func() float64) figure {
	var a, b []float64
	for range runs {
		a = append(a, ours())
		b = append(b, theirs())
	}
	slices.Sort(a)
	slices.Sort(b)
	return figure{ours: a[len(a)/2], theirs: b[len(b)/2], unit: "ms"}
}

// size measures everything with n batches.
func (g *goals) size(n int) {
	g.Logf("%d batches", n)
	g.sizes = append(g.sizes, n)
	dir := filepath.Join(g.dir, strconv.Itoa(n))
	path := makeWorkshop(g, dir, n)
	lines := filepath.Join(dir, "batches.jsonl")
	g.export(path, lines)
	db := filepath.Join(dir, "peer.db")
	g.importing(lines, filepath.Join(dir, "again.db"), db, n)
	g.lists(path, db)
	g.sums(path, db)
	g.sizeOf(path, lines, n)
	g.logging(path, n)
	if err := os.RemoveAll(dir); err != nil { // a million take three gigabytes
		g.Fatal(err)
	}
}

// logging measures a durable log entry with all its indexes, within the process and
// as a process, against the bare store with as many records.
func (g *goals) logging(path string, n int) {
	j := journal.At(path, journal.Options{By: "Ilse Tamm"})
	plan := journal.Batch{Recipe: journal.RecipeRef{Slug: "silver-black", Digest: "sha256:6c1f"}, Alloy: "sterling-925", Pieces: 48, Spares: 2}
	result := journal.Result{Good: 47, Rework: 2, Reject: 1, Shade: "blue-black", Causes: map[string]int{"too-light": 2, "spots": 1}}
	ready := func() string {
		b, err := j.Create(plan)
		if err == nil {
			_, err = j.Review(b.Number, journal.Acknowledgement{Digest: "sha256:6c1f", Points: []string{"gas"}})
		}
		if err != nil {
			g.Fatal(err)
		}
		return b.Number
	}
	first := ready()
	if _, err := j.Log(first, result, "", time.Time{}); err != nil {
		g.Fatal(err)
	}
	stored, err := journal.StoredBytes(path, first)
	if err != nil {
		g.Fatal(err)
	}
	s := &bare{path: filepath.Join(filepath.Dir(path), "bare")}
	s.fill(g, uint64(n), stored)
	value := make([]byte, stored)
	update := func() float64 {
		start := time.Now()
		db := openBare(g, s.path)
		s.update(g, db, value)
		if err := db.Close(); err != nil {
			g.Fatal(err)
		}
		return milli(time.Since(start))
	}
	f := pair(*goalRuns*20, func() float64 {
		number := ready()
		start := time.Now()
		if _, err := j.Log(number, result, "", time.Time{}); err != nil {
			g.Fatal(err)
		}
		return milli(time.Since(start))
	}, update)
	g.put("one durable log entry with its indexes", "bare update of the same bytes and one index", "1.3", f)

	log := func(watch bool) (float64, int64) {
		number := ready()
		out, took, memory := g.watched(watch, "", g.hepar, "log", number, "--good", "47", "--rework", "2", "--reject", "1",
			"--cause", "too-light=2", "--cause", "spots=1", "--shade", "blue-black", "--by", "Ilse Tamm", "--journal", path)
		if !strings.Contains(out, number) {
			g.Fatalf("it printed %q", out)
		}
		return took, memory
	}
	f = pair(*goalRuns*6, func() float64 { took, _ := log(false); return took }, func() float64 {
		_, took := g.run("", g.hepar, "--version")
		return took + update()
	})
	_, f.memory = log(true)
	g.put("hepar log, whole process", "hepar --version and one bare durable update", "1.5", f)
	f = pair(*goalRuns*4, func() float64 {
		_, took := g.run("", g.hepar, "journal", "show", first, "--json", "--journal", path)
		return took
	},
		func() float64 { _, took := g.run("", g.hepar, "--version"); return took })
	g.put("hepar journal show, whole process", "hepar --version", "-", f)
	if report, err := j.Verify(); err != nil || !report.Sound() {
		g.Fatal(err, report.Err())
	}
}

// fill gives the bare store n records of as many bytes.
func (s *bare) fill(t testing.TB, n uint64, size int) {
	db := openBare(t, s.path)
	db.NoSync = true
	value := make([]byte, size)
	for s.n < n {
		if err := db.Update(func(tx *bolt.Tx) error {
			for range min(10_000, n-s.n) {
				if err := s.put(tx, value); err != nil {
					return err
				}
			}
			return nil
		}); err != nil {
			t.Fatal(err)
		}
	}
	if err := db.Sync(); err != nil {
		t.Fatal(err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
}
