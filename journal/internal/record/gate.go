package record

import (
	"slices"
	"strings"
	"time"

	"hepar/recipe/fault"
)

// Slack is by how much a time may seem to lie ahead of the clock, because people
// give times to the minute.
const Slack = time.Minute

// Ready returns nil if the batch has a valid safety review for work of a person at a
// time, or a fault of kind Safety. A review belongs to one batch, its recipe and its
// people, and to the day at the bench on which it was made, until midnight: after that
// the bath, the room and the people may have changed (a choice of ours; common practice,
// no published source). A review that found a stop takes an earlier one back. Without a
// name the person is not looked at.
func (b *Batch) Ready(at time.Time, by string) error {
	r := b.Review
	if r == nil {
		return b.unready("has no safety review")
	}
	reviewed := r.At.Time()
	switch people := r.People(); {
	case len(r.Stops) > 0:
		return b.unready("was reviewed last at " + r.At.Minute() + ", and the review found a stop (" + strings.Join(r.Stops, ", ") + ")")
	case r.Digest != b.Recipe.Digest:
		return b.unready("was reviewed for another recipe than the one frozen with it")
	case at.Sub(reviewed) < -Slack:
		return b.unready("was reviewed at " + r.At.Minute() + ", which is after the time of the work")
	case at.In(reviewed.Location()).Format(time.DateOnly) != r.At.Day():
		return b.unready("was reviewed on " + r.At.Day() + "; a review holds until midnight")
	case by != "" && len(people) > 0 && !slices.ContainsFunc(people, func(name string) bool { return Fold(name) == Fold(by) }):
		return b.unready("was reviewed by " + strings.Join(people, " and ") + ", not by " + by)
	case len(b.Newer) > 0:
		return b.unready("was written to by a newer hepar, which may have more to say")
	}
	return nil
}

// People returns who took part in the review: who confirmed it, and the second person.
func (r *Review) People() []string {
	return slices.DeleteFunc([]string{r.By, r.Answers["second"]}, func(name string) bool { return name == "" })
}

func (b *Batch) unready(what string) error {
	return fault.Safetyf("batch %s %s", b.Number, what).Try("go through its points first: hepar review %s", b.Number)
}
