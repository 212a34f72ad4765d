// Package journaltest opens journals for tests: each proves itself sound when the
// test ends. Every test that touches a journal gets it from here:
//
//	j := journaltest.New(t)
//
// Use Open for a path or options of your own, and a Clock to hold the time.
package journaltest

import (
	"cmp"
	"crypto/rand"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"hepar/journal"
	"hepar/recipe/bath/run"
	"hepar/recipe/fault"
)

// New returns a journal in a folder of its own, not made yet, that is verified when
// the test ends.
func New(t testing.TB) *journal.Journal {
	t.Helper()
	return Open(t, filepath.Join(t.TempDir(), "hepar.journal"), journal.Options{By: "Ilse Tamm"})
}

// Open returns the journal at path, verified when the test ends.
func Open(t testing.TB, path string, o journal.Options) *journal.Journal {
	t.Helper()
	j := journal.At(path, o)
	t.Cleanup(func() { Sound(t, j) })
	return j
}

// Sound fails the test if the journal has findings; one that was never made has none.
func Sound(t testing.TB, j *journal.Journal) {
	t.Helper()
	var report journal.Report
	there, err := j.Exists()
	if err == nil && there {
		report, err = j.Verify()
	}
	if err != nil {
		t.Errorf("verify the journal: %v", err)
	}
	for _, f := range report.Findings {
		t.Errorf("verify the journal: %s: %s", f.Where, f.What)
	}
}

// Dip writes down loads of so many pieces that came out of the bath, and what was used.
// It goes on where the batch stands.
func Dip(j *journal.Journal, ref, by string, g string, uses []journal.Use, loads ...journal.Load) (b journal.Batch, err error) {
	next := 1
	if b, err := j.Get(ref); err == nil && b.Dip != nil {
		next += len(b.Dip.Loads)
	}
	err = j.Update(func(tx *journal.Tx) error {
		return fault.Caught(func() {
			for i, l := range loads {
				e := run.Entry{Key: rand.Text(), Do: run.Out, Load: cmp.Or(l.Number, next+i), Pieces: l.Pieces, Temperature: l.Temperature, Time: l.Time, Note: l.Note, By: by}
				b = fault.Must(tx.Bench(ref, e, g))
			}
			for _, use := range uses {
				fault.Must(tx.Use(use, ref, by))
			}
		})
	})
	if err == nil && len(uses) > 0 {
		b, err = j.Get(b.ID.String())
	}
	return b, err
}

// Clock is a time that stands until it is moved. Use its Now in the options.
type Clock struct {
	mu sync.Mutex
	at time.Time
}

// NewClock returns a clock that stands at t.
func NewClock(t time.Time) *Clock { return &Clock{at: t} }

// Now returns the time of the clock.
func (c *Clock) Now() time.Time {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.at
}

// Set puts the clock to t, forward or back.
func (c *Clock) Set(t time.Time) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.at = t
}

// Add moves the clock by d.
func (c *Clock) Add(d time.Duration) { c.Set(c.Now().Add(d)) }
