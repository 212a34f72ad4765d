package main

import (
	"bufio"
	"strings"
	"testing"
	"time"

	"hepar/recipe/fault"
	"hepar/recipe/safety"
)

// TestReviewIsAsked: a value that is none is asked for again, Enter confirms nothing, what
// was given as a flag is not asked for, and a pH that is too low ends the review.
func TestReviewIsAsked(t *testing.T) {
	b, _, _ := plannedRun(t)
	named := safety.Answers{Capture: "hood", MeterPPM: 5, Second: "Marek Oja", SDS: "2025-04-30"}
	for _, c := range []struct {
		name, typed, says string
		given             safety.Answers
		asked, stops      int
	}{
		{"nothing confirmed", "Ilse Tamm\n\n\n", "", safety.Answers{}, 3, 0},
		{"all typed", "Ilse Tamm\ny\nwindow\nhood\n5\ny\ny\nMarek Oja\n2025-04-30\ny\n10,5\n", `"window" is not a word`, safety.Answers{}, 10, 0},
		{"named before", "Ilse Tamm\ny\ny\ny\ny\n10.5\n", "outdoors: hood", named, 5, 0},
		{"too sour", "Ilse Tamm\ny\ny\ny\ny\n8,2\n", "", named, 5, 1},
	} {
		sub := subjectOf(b.Batch)
		sub.Answers = c.given
		review := fault.Must(safety.Assess(sub))
		var stderr strings.Builder
		e := &env{in: strings.NewReader(c.typed), out: bufio.NewWriter(&stderr), err: &stderr, inTTY: true, now: time.Now, getenv: func(string) string { return "" }}
		by, after, err := askReview(e, &sub, review)
		asked := strings.Count(stderr.String(), "value, n to stop") + strings.Count(stderr.String(), "[y/n]")
		if (by == "Ilse Tamm") != (c.asked != 3) || (err == nil) != (c.asked != 3) || asked != c.asked || len(after.Stops()) != c.stops || !strings.Contains(stderr.String(), c.says) {
			t.Errorf("%s: %q asked %d times, stops %v, %v\n%s", c.name, by, asked, after.Stops(), err, stderr.String())
		}
	}
}
