package journal

import (
	"errors"
	"time"

	"hepar/recipe/fault"
)

// ReviewLasts is how long a safety review holds: after it the bath, the room and
// the people may have changed. A choice of ours; common practice, no published source.
const ReviewLasts = 24 * time.Hour

// reviewSlack is by how much a review may seem to lie ahead, because people give
// times to the minute.
const reviewSlack = time.Minute

// Gate is what is said where work goes on that should have been reviewed.
type Gate struct {
	// WithoutReview is the reason to go on although the review is missing, old or
	// for another recipe. It is kept in the event. Empty means there is none.
	WithoutReview string
}

// LogOptions is what LogWith and LogNewWith may be told beyond the result.
type LogOptions struct {
	By            string    // who did it; empty means the person of the options of the journal
	At            time.Time // when the result was had; zero means now
	WithoutReview string    // see Gate
}

// Ready says whether a saved batch may be dipped at a time: nil, or a fault of
// kind Safety where its review is missing, is older than ReviewLasts, was given
// after the time, or was for another recipe than the frozen one. A review dated
// after the time does not count, even where only the clock was put back: doing it
// again takes a minute. Batches from Get and List both have what it looks at.
func Ready(b Batch, at time.Time) error {
	r := b.Review
	if r == nil {
		return unready(b.Number, "has no safety review")
	}
	day := r.At.Format("2006-01-02 15:04")
	switch age := at.Sub(r.At); {
	case r.Digest != b.Recipe.Digest:
		return unready(b.Number, "was reviewed for another recipe than the one frozen with it")
	case age > ReviewLasts:
		return unready(b.Number, "was reviewed at "+day+", more than a day before")
	case age < -reviewSlack:
		return unready(b.Number, "was reviewed at "+day+", which is after the time of the work")
	}
	return nil
}

func unready(number, what string) error {
	return fault.Safetyf("batch %s %s", number, what).Try("go through its points first: hepar review %s", number)
}

// gate refuses work on a batch that is not ready, unless there is a reason, which
// it cleans.
func (w *Writer) gate(b *batchRecord, at time.Time, reason string) (string, error) {
	reason, err := note("reason to go without a review", reason)
	if err != nil || reason != "" {
		return reason, err
	}
	out, err := w.public(b, detail{})
	if err != nil {
		return "", err
	}
	return "", Ready(out, at)
}

// logGate is the gate of a result: a batch whose dip is recorded passed it then.
func (w *Writer) logGate(b *batchRecord, at time.Time, reason string) (string, error) {
	if b.Dip != nil {
		return note("reason to go without a review", reason)
	}
	reason, err := w.gate(b, at, reason)
	var refusal *fault.Error
	if errors.As(err, &refusal) && refusal.Kind == fault.Safety {
		n := b.Plan.Number
		err = refusal.Try("not run yet: hepar review %s; run within a day of its review: log it with the time, --at; run without one: say why, --without-review", n)
	}
	return reason, err
}

// notAhead refuses a time that the clock has not reached, with which a review
// could be made to last longer.
func (w *Writer) notAhead(what string, at time.Time) error {
	if at.Sub(w.now) > reviewSlack {
		return fault.Usagef("the time of the %s, %s, is ahead of the clock", what, at.Format("2006-01-02 15:04")).
			Try("give the time it was, or set the clock right")
	}
	return nil
}
