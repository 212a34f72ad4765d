// Package page prints a safety review to hang up and to keep: what was done and read, with room
// to sign, on the first page; gas, limits and substances on the second. Call Review.
package page

import (
	"cmp"
	_ "embed"
	"slices"
	"strings"
	"time"

	"hepar/recipe/measure"
	"hepar/recipe/paper"
	"hepar/recipe/safety"
	"hepar/recipe/safety/gas"
)

//go:embed review.html
var body string

// Given is a review that somebody gave, as it was kept. Without By nobody did, and there are lines to sign.
type Given struct {
	By      string
	At      time.Time
	Points  []string          // codes of what was confirmed
	Answers map[string]string // by what was asked
	Room    string            // its volume, "32 m3"
}

// row is a line to confirm.
type row struct {
	Text, Answer string
	Asked, Done  bool
}

// Review returns the page as one HTML file that loads nothing, for a batch or, without its number, for a
// recipe. A review that was given is assessed again with its answers.
func Review(s safety.Subject, number, order string, given Given) ([]byte, error) {
	for ask, text := range given.Answers {
		_ = s.Answer(ask, text, given.At) // what an older program took stands there as it was written
	}
	_ = s.Room.Read(given.Room) // likewise
	r, err := safety.Assess(s)
	if err != nil {
		return nil, err
	}
	type limit struct {
		Gas string // the first time only
		Row []string
	}
	var gases [][]string
	var limits []limit
	var confirm []row
	for _, c := range r.Confirm {
		line := row{c.Text, cmp.Or(given.Answers[c.Ask], c.Answer), c.Ask != "", given.By != "" && slices.Contains(given.Points, c.Code)}
		if line.Asked {
			line.Text = strings.TrimSuffix(c.Text, ".") + ":"
		}
		confirm = append(confirm, line)
	}
	for _, g := range r.Gas {
		gases = append(gases, []string{g.Gas, g.Scenario, gas.Text(g.RoomLowPPM, 2) + " to " + gas.Text(g.RoomHighPPM, 2), gas.Text(g.NearLowPPM, 2) + " to " + gas.Text(g.NearHighPPM, 2)})
	}
	for i, l := range r.Limits {
		name := l.Gas
		if i > 0 && name == r.Limits[i-1].Gas {
			name = ""
		}
		what := map[gas.Kind]string{gas.Working: "for work", gas.Escape: "danger to life: be out before", gas.Emergency: "for the public, after a release", gas.Own: l.Reason}[l.Kind]
		limits = append(limits, limit{name, []string{measure.Plain(l.Value) + " " + l.Unit, l.Averaging, l.List, what}})
	}
	return paper.Parse(body, "")(map[string]any{"Title": measure.Clean(s.Recipe.Title), "Number": number, "Order": measure.Clean(order), "R": r, "Given": given,
		"Confirm": confirm, "Gas": gases, "Limits": limits})
}
