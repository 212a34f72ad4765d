package journal_test

import (
	"cmp"
	"crypto/rand"
	"sync"
	"time"

	"hepar/journal"
	"hepar/recipe/fault"
	"hepar/recipe/run"
)

// dipped writes down loads of so many pieces that came out of the bath, and what was used.
// It goes on where the batch stands.
func dipped(j *journal.Journal, ref, by string, g string, uses []journal.Use, loads ...journal.Load) (b journal.Batch, err error) {
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

// clock is a time that stands until it is moved. Use its Now in the options.
type clock struct {
	mu sync.Mutex
	at time.Time
}

// newClock returns a clock that stands at t.
func newClock(t time.Time) *clock { return &clock{at: t} }

// Now returns the time of the clock.
func (c *clock) Now() time.Time {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.at
}

// Set puts the clock to t, forward or back.
func (c *clock) Set(t time.Time) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.at = t
}

// Add moves the clock by d.
func (c *clock) Add(d time.Duration) { c.Set(c.Now().Add(d)) }
