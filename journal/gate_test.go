package journal_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"hepar/journal"
	"hepar/recipe/fault"
)

// A saved batch is dipped and logged under a review that holds, or with a reason
// that is kept.
func TestGate(t *testing.T) {
	const right = "sha256:6c1f"
	start := time.Date(2026, 5, 4, 8, 0, 0, 0, time.FixedZone("", 2*3600))
	for _, c := range []struct {
		name     string
		reviews  []string      // digests, one a minute from the start
		back     time.Duration // by which the clock is put back before the last
		after    time.Duration // from the last review to the work
		given    bool          // the time of the work is given, and not that of the clock
		reason   string
		kind     fault.Kind
		say      string // of the refusal; empty where it goes on
		withoutR string
	}{
		{name: "missing", say: "no safety review"},
		{name: "missing, with a reason", reason: " the reviewer is ill ", withoutR: "the reviewer is ill"},
		{name: "missing, with an empty reason", reason: " \n", say: "no safety review"},
		{name: "just read", reviews: []string{right}},
		{name: "a day old", reviews: []string{right}, after: 24 * time.Hour},
		{name: "a day and a minute old", reviews: []string{right}, after: 24*time.Hour + time.Minute, say: "more than a day"},
		{name: "a day and a nanosecond old", reviews: []string{right}, after: 24*time.Hour + 1, say: "more than a day"},
		{name: "old, with a reason", reviews: []string{right}, after: 48 * time.Hour, reason: "same bath, same room", withoutR: "same bath, same room"},
		{name: "for another recipe", reviews: []string{"sha256:0000"}, say: "another recipe"},
		{name: "for no recipe", reviews: []string{""}, say: "another recipe"},
		{name: "right, then for another", reviews: []string{right, "sha256:0000"}, say: "another recipe"},
		{name: "for another, then right", reviews: []string{"sha256:0000", right}},
		{name: "the clock was put back", reviews: []string{right}, after: -2 * time.Hour, say: "after the time of the work"},
		{name: "the clock was put back, and reviewed again", reviews: []string{right, right}, back: 2 * time.Hour},
		{name: "the work was before the review", reviews: []string{right}, after: -time.Hour, given: true, say: "after the time of the work"},
		{name: "a time to the minute", reviews: []string{right}, after: -30 * time.Second, given: true},
		{name: "written two days later", reviews: []string{right}, after: 3 * time.Hour, given: true},
		{name: "an escape in the reason", reason: "a\x1b[2Jb", kind: fault.Usage, say: "control character"},
	} {
		kind := c.kind
		if kind == 0 {
			kind = fault.Safety
		}
		for _, how := range []string{"dip", "log"} {
			t.Run(c.name+", "+how, func(t *testing.T) {
				j, clock := atClock(t, start)
				b := create(t, j)
				for i, digest := range c.reviews {
					clock.Add(time.Minute)
					if i == len(c.reviews)-1 {
						clock.Add(-c.back)
					}
					if _, err := j.Review(b.Number, journal.Acknowledgement{Digest: digest}); err != nil {
						t.Fatal(err)
					}
				}
				at := time.Time{}
				if c.given {
					at = clock.Now().Add(c.after)
					clock.Add(48 * time.Hour)
				} else {
					clock.Add(c.after)
				}
				var got journal.Batch
				var err error
				state := journal.Dipped
				if how == "dip" {
					got, err = j.Dip(b.Number, journal.DipRecord{Started: at}, journal.Gate{WithoutReview: c.reason})
				} else {
					state = journal.Logged
					got, err = j.LogWith(b.Number, journal.Result{Good: 10}, journal.LogOptions{At: at, WithoutReview: c.reason})
				}
				if c.say == "" {
					if err != nil || got.State != state || got.WithoutReview != c.withoutR || got.Events[len(got.Events)-1].Reason != c.withoutR {
						t.Errorf("got %+v, %v; want it %s, without a review because of %q", got, err, state, c.withoutR)
					}
					return
				}
				if fault.KindOf(err) != kind || !strings.Contains(fmt.Sprint(err), c.say) {
					t.Errorf("got %v, want %q of kind %d", err, c.say, kind)
				}
				if kind == fault.Safety && !strings.Contains(fault.CureOf(err), "hepar review "+b.Number) {
					t.Errorf("the cure is %q", fault.CureOf(err))
				}
				if after, err := j.Get(b.Number); err != nil || len(after.Events) != 1+len(c.reviews) {
					t.Errorf("after the refusal: %+v, %v", after, err)
				}
			})
		}
	}
}

// What was dipped in time may be logged later; a new review meanwhile changes nothing.
func TestDippedInTimeThenLogged(t *testing.T) {
	for name, again := range map[string]bool{"reviewed once": false, "reviewed again after the dip": true} {
		t.Run(name, func(t *testing.T) {
			j, clock := atClock(t, time.Date(2026, 5, 4, 8, 0, 0, 0, time.UTC))
			b := create(t, j)
			review(t, j, b.Number)
			clock.Add(3 * time.Hour)
			if _, err := j.Dip(b.Number, journal.DipRecord{}, journal.Gate{}); err != nil {
				t.Fatal(err)
			}
			clock.Add(72 * time.Hour)
			if again {
				review(t, j, b.Number)
				if got, err := j.Get(b.Number); err != nil || got.State != journal.Dipped {
					t.Errorf("after the review: %s, %v", got.State, err)
				}
			} else if _, err := j.Dip(b.Number, journal.DipRecord{}, journal.Gate{}); fault.KindOf(err) != fault.Safety {
				t.Errorf("dipped again under the old review: %v", err)
			}
			got, err := j.Log(b.Number, journal.Result{Good: 10}, "", time.Time{})
			if err != nil || got.State != journal.Logged || got.WithoutReview != "" {
				t.Errorf("got %+v, %v", got, err)
			}
		})
	}
}

// A result without a sheet had nothing to review. A reason for that is kept.
func TestLogNewWith(t *testing.T) {
	j, clock := atClock(t, time.Date(2026, 5, 4, 8, 0, 0, 0, time.UTC))
	at := clock.Now().Add(-5 * time.Hour)
	b, err := j.LogNewWith(order(10), journal.Result{Good: 10}, journal.LogOptions{By: "Tomas Reh", At: at, WithoutReview: "done at the club"})
	if err != nil || b.WithoutReview != "done at the club" || b.Events[1].Reason != "done at the club" || b.Events[1].By != "Tomas Reh" || !b.Logged.Equal(at) {
		t.Errorf("got %+v, %v", b, err)
	}
	if v := b.View(); v.WithoutReview == nil || *v.WithoutReview != "done at the club" {
		t.Errorf("the view has %v", v.WithoutReview)
	}
	if b, err := j.LogNew(order(10), journal.Result{Good: 10}); err != nil || b.WithoutReview != "" || b.View().WithoutReview != nil {
		t.Errorf("without a reason: %+v, %v", b, err)
	}
}

// Nobody makes a review last longer by dating it ahead.
func TestReviewAheadOfTheClock(t *testing.T) {
	j, clock := atClock(t, time.Date(2026, 5, 4, 8, 0, 0, 0, time.UTC))
	b := create(t, j)
	for ahead, want := range map[time.Duration]bool{30 * time.Second: true, 2 * time.Minute: false, 20 * time.Hour: false} {
		_, err := j.Review(b.Number, journal.Acknowledgement{Digest: "sha256:6c1f", At: clock.Now().Add(ahead)})
		if (err == nil) != want || err != nil && fault.CureOf(err) == "" {
			t.Errorf("a review %v ahead: %v, want done = %v", ahead, err, want)
		}
	}
	if _, err := j.Dip(b.Number, journal.DipRecord{Started: clock.Now().Add(time.Hour)}, journal.Gate{}); fault.KindOf(err) != fault.Usage {
		t.Errorf("a dip ahead of the clock: %v", err)
	}
}

// Ready looks at what Get and List both give.
func TestReady(t *testing.T) {
	j, clock := atClock(t, time.Date(2026, 5, 4, 8, 0, 0, 0, time.UTC))
	b := create(t, j)
	review(t, j, b.Number)
	for b, err := range j.List(journal.Filter{Brief: true}) {
		if err != nil || journal.Ready(b, clock.Now()) != nil || journal.Ready(b, clock.Now().Add(25*time.Hour)) == nil {
			t.Errorf("batch %+v, %v", b, err)
		}
	}
}
