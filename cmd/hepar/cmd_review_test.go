package main

import (
	"bufio"
	"strings"
	"testing"
	"time"

	"hepar/recipe/fault"
	"hepar/recipe/safety"
	"hepar/recipe/shop"
)

// TestReviewIsAsked: a value that is none is asked for again, Enter confirms nothing, what was
// given as a flag is confirmed like the rest, b goes back, nobody is their own second person, and
// a stop is asked again, and kept where the review is left at it. A first name stands for the one
// person who has it, and no word for a name.
func TestReviewIsAsked(t *testing.T) {
	b, _, _ := plannedRun(t)
	named := safety.Answers{Capture: "hood", MeterPPM: 5, Second: "Marek Oja", SDS: "2025-04-30"}
	for _, c := range []struct {
		name, typed, says string
		given             safety.Answers
		asked, stops      int
		capture, second   string
	}{
		{"nothing confirmed", "Ilse Tamm\n\n\n", "", safety.Answers{}, 3, 0, "", ""},
		{"all typed", "ilse\ny\nwindow\nhood\n5\ny\ny\nMarek\n2025-04-30\ny\n10,5\n", `"window" is not a word`, safety.Answers{}, 10, 0, "hood", "Marek Oja"},
		{"the person of the shop", "\ny\nhood\n5\ny\ny\nRunar Vik\n2025-04-30\ny\n10,5\n", "or Enter for Ilse Tamm", safety.Answers{}, 9, 0, "hood", "Runar Vik"},
		{"named before", "Ilse Tamm\ny\ny\ny\ny\ny\ny\ny\ny\n10.5\n", "hood: y or another value", named, 9, 0, "hood", "Marek Oja"},
		{"back", "Ilse Tamm\ny\nhood\nb\nslot\n5\ny\ny\nMarek Oja\n2025-04-30\ny\n10,5\n", "", safety.Answers{}, 11, 0, "slot", "Marek Oja"},
		{"alone", "Ilse Tamm\ny\nhood\n5\ny\ny\nilse\nMarek Oja\n2025-04-30\ny\n10,5\n", "the second person is Ilse Tamm", safety.Answers{}, 10, 0, "hood", "Marek Oja"},
		{"too sour", "Ilse Tamm\ny\ny\ny\ny\ny\ny\ny\ny\n8,2\n", "", named, 10, 1, "hood", "Marek Oja"},
		{"a meter set too high", "Ilse Tamm\ny\nhood\n5000\n500\n5\ny\ny\nMarek Oja\n2025-04-30\ny\n10,5\n", "lower", safety.Answers{}, 11, 0, "hood", "Marek Oja"},
		{"a measured stop put right", "Ilse Tamm\ny\ny\ny\ny\ny\ny\ny\ny\n8,2\n10,5\n", "bring the bath to pH 10", named, 10, 0, "hood", "Marek Oja"},
		{"left at a stop", "Ilse Tamm\ny\nnone\nn\n", "no capture", named, 3, 1, "hood", "Marek Oja"},
		{"nearly the same name", "Ilse Tamm\ny\nhood\n5\ny\ny\nIlse Tam\nMarek Oja\n2025-04-30\ny\n10,5\n", "and Ilse Tamm is", safety.Answers{}, 10, 0, "hood", "Marek Oja"},
		{"an old data sheet", "Ilse Tamm\ny\nhood\n5\ny\ny\nMarek Oja\n1991-02-03\ny\n10,5\n", "1991-02-03 is more than 3 years old", safety.Answers{}, 9, 0, "hood", "Marek Oja"},
		{"neither yes nor no", "Ilse Tamm\nmaybe\n?\n", "y says that it is done", safety.Answers{}, 3, 0, "", ""},
		{"stopped at once", "n\nIlse Tamm\ny\n", "", named, 0, 0, "", ""},
		{"no name", "y\nI\nilse tam\nIlse Tamm\n", "and Ilse Tamm is", named, 1, 0, "", ""},
	} {
		sub := subjectOf(b.Batch)
		sub.Answers, sub.People = c.given, []string{"Ilse Tamm", "Marek Oja"}
		review := fault.Must(safety.Assess(sub))
		var stderr strings.Builder
		e := &env{in: strings.NewReader(c.typed), out: bufio.NewWriter(&stderr), err: &stderr, inTTY: true, now: time.Now, getenv: func(string) string { return "" }}
		p := &place{env: e, shop: shop.Shop{Person: "Ilse Tamm", People: sub.People}}
		by, after, err := askReview(p, &sub, review)
		asked := strings.Count(stderr.String(), "n to stop")
		if done := c.capture != ""; (by == "Ilse Tamm") != done || (err == nil) != done || asked != c.asked || len(after.Stops()) != c.stops ||
			!strings.Contains(stderr.String(), c.says) || done && (sub.Capture != c.capture || sub.Second != c.second) {
			t.Errorf("%s: %q asked %d times, stops %v, %v, %+v\n%s", c.name, by, asked, after.Stops(), err, sub.Answers, stderr.String())
		}
	}
}
