package record

import (
	"time"

	"hepar/recipe/fault"
)

// ReviewLasts is how long a safety review is valid: after it the bath, the room
// and the people may have changed. A choice of ours; common practice, no published source.
const ReviewLasts = 24 * time.Hour

// Slack is by how much a time may seem to lie ahead of the clock, because people
// give times to the minute.
const Slack = time.Minute

// Ready returns nil if the batch has a valid safety review for work at a time, or
// a fault of kind Safety: the review is missing, is older than ReviewLasts, was
// given after that time, or was for another recipe than the frozen one.
func (b *Batch) Ready(at time.Time) error {
	r := b.Review
	if r == nil {
		return b.unready("has no safety review")
	}
	switch age := at.Sub(r.At.Time()); {
	case r.Digest != b.Recipe.Digest:
		return b.unready("was reviewed for another recipe than the one frozen with it")
	case age > ReviewLasts:
		return b.unready("was reviewed at " + r.At.Minute() + ", more than a day before")
	case age < -Slack:
		return b.unready("was reviewed at " + r.At.Minute() + ", which is after the time of the work")
	case len(b.Newer) > 0:
		return b.unready("was written to by a newer hepar, which may have more to say")
	}
	return nil
}

func (b *Batch) unready(what string) error {
	return fault.Safetyf("batch %s %s", b.Number, what).Try("go through its points first: hepar review %s", b.Number)
}
