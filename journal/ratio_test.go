package journal_test

import (
	"crypto/sha256"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	bolt "go.etcd.io/bbolt"

	"hepar/journal"
)

// TestRatios measures our work and a plain measure of the same in turn, and prints
// the ratios: go test ./journal -run Ratios -v -args -bench. It is no timed test.
func TestRatios(t *testing.T) {
	if !*ratios {
		t.Skip("a long run: add -args -bench")
	}
	const batches, entries = 100_000, 200
	dir := t.TempDir()
	entry, bare := logEntries(t, filepath.Join(dir, "entries.journal"), filepath.Join(dir, "bare.db"), entries)
	j := journal.At(filepath.Join(dir, "hepar.journal"), journal.Options{By: "Ilse Tamm"})
	for n := 0; n < batches; {
		if err := j.Update(func(tx *journal.Tx) error {
			for range 500 {
				p := tokens()
				p.Order = fmt.Sprintf("order %d", n)
				if _, err := tx.LogNew(p, journal.Result{Good: 60, Rework: n % 3, Note: strings.Repeat("dull ", n%9)}, journal.LogOptions{WithoutReview: "for the test"}); err != nil {
					return err
				}
				n++
			}
			return nil
		}); err != nil {
			t.Fatal(err)
		}
	}
	hash := timed(t, func() error {
		file, err := os.Open(j.Path())
		if err != nil {
			return err
		}
		defer file.Close()
		_, err = io.Copy(sha256.New(), file)
		return err
	})
	var verify, salvage time.Duration
	grown := private(func() {
		verify = timed(t, func() error {
			report, err := j.Verify()
			if err == nil {
				err = report.Err()
			}
			return err
		})
	})
	grownBySalvage := private(func() {
		salvage = timed(t, func() error { _, err := j.Salvage(filepath.Join(dir, "saved.journal")); return err })
	})
	t.Logf("%-34s %12s %12s %8s %12s", "work", "time", "against", "ratio", "memory")
	for _, row := range []struct {
		work        string
		took, plain time.Duration
		private     int64
	}{
		{"a durable log entry | bare store", entry, bare, 0},
		{"verify 100,000 batches | sha256", verify, hash, grown},
		{"salvage 100,000 batches | sha256", salvage, hash, grownBySalvage},
	} {
		t.Logf("%-34s %12s %12s %7.1fx %8d MiB", row.work, row.took.Round(time.Microsecond), row.plain.Round(time.Microsecond), float64(row.took)/float64(row.plain), row.private>>20)
	}
}

// logEntries returns the median times of a log entry and of a bare update of the
// store with the same bytes and one index, in pairs. Both open the file.
func logEntries(t *testing.T, path, bare string, entries int) (ours, theirs time.Duration) {
	t.Helper()
	j := journal.At(path, journal.Options{By: "Ilse Tamm"})
	for range entries {
		must[journal.Batch](t)(j.Create(tokens(), nil))
	}
	var a, b []time.Duration
	for n := range entries {
		number := fmt.Sprintf("%d-%03d", time.Now().Year(), n+1)
		a = append(a, timed(t, func() error {
			_, err := j.Log(number, journal.Result{Good: 60, Rework: 1}, journal.LogOptions{WithoutReview: "a test"})
			return err
		}))
		frame := framesOf(t, path)[uint64(entries+n+1)]
		b = append(b, timed(t, func() error {
			db, err := bolt.Open(bare, 0o600, nil)
			if err != nil {
				return err
			}
			defer db.Close()
			return db.Update(func(tx *bolt.Tx) error {
				events, err := tx.CreateBucketIfNotExists([]byte("events"))
				if err != nil {
					return err
				}
				index, err := tx.CreateBucketIfNotExists([]byte("index"))
				if err != nil {
					return err
				}
				key := fmt.Appendf(nil, "%08d", n)
				if err := events.Put(key, frame); err != nil {
					return err
				}
				return index.Put(append([]byte("state logged "), key...), []byte{})
			})
		}))
	}
	slices.Sort(a)
	slices.Sort(b)
	return a[len(a)/2], b[len(b)/2]
}

func timed(t *testing.T, fn func() error) time.Duration {
	t.Helper()
	start := time.Now()
	if err := fn(); err != nil {
		t.Fatal(err)
	}
	return time.Since(start)
}

// private returns by how many bytes the memory of the process that is no file grew
// at the most while fn ran; 0 where that cannot be read.
func private(fn func()) int64 {
	read := func() (n int64) {
		status, _ := os.ReadFile("/proc/self/status")
		_, rest, _ := strings.Cut(string(status), "RssAnon:")
		_, _ = fmt.Sscan(rest, &n)
		return n << 10
	}
	before := read()
	most := before
	done, stopped := make(chan struct{}), make(chan struct{})
	go func() {
		defer close(stopped)
		for {
			select {
			case <-done:
				return
			case <-time.After(10 * time.Millisecond):
				most = max(most, read())
			}
		}
	}()
	fn()
	close(done)
	<-stopped
	return most - before
}
