package safety

import (
	_ "embed"
	"slices"
	"strings"
	"time"

	"hepar/recipe/measure"
	"hepar/recipe/paper"
	"hepar/recipe/safety/gas"
)

//go:embed review.html
var pageBody string

// Paper is what stands on the page of a review beside the review.
type Paper struct {
	Number, Order string    // of the batch; empty for a recipe
	By            string    // who gave the review; empty: lines to sign
	At            time.Time // when
	Done          []string  // codes of what was confirmed
}

// Recall takes over what a review was given with, as it was kept: the answers by what was asked,
// and the volume of the room.
func (s *Subject) Recall(answers map[string]string, room string, day time.Time) error {
	for ask, text := range answers {
		if err := s.Answer(ask, text, day); err != nil {
			return err
		}
	}
	if room == "" {
		return nil
	}
	liters, err := measure.ParseVolume(room)
	s.Room.VolumeM3, s.Room.Outdoors = float64(liters)/1000, false
	return err
}

// Page prints a review as one HTML file that loads nothing: what is done, read and signed on the
// first page, gas, limits and substances on the second.
func Page(s Subject, r Review, about Paper) ([]byte, error) {
	type limit struct {
		Gas string // the first time only
		Row []string
	}
	var gases [][]string
	var limits []limit
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
	return paper.Parse(pageBody, "")(map[string]any{"Title": measure.Clean(s.Recipe.Title), "Order": measure.Clean(about.Order), "R": r, "About": about, "Gas": gases, "Limits": limits})
}

// Confirmed reports whether a line was confirmed in the review that the page shows.
func (p Paper) Confirmed(code string) bool {
	return p.By != "" && slices.Contains(p.Done, code)
}

// Question is a line that asks for a value, up to the value.
func (c Confirmation) Question() string { return strings.TrimSuffix(c.Text, ".") + ":" }

// Line is one line to confirm, with its value or the room for it.
func (c Confirmation) Line() string {
	switch {
	case c.Ask == "":
		return c.Text
	case c.Answer == "":
		return c.Question() + " ______"
	}
	return c.Question() + " " + c.Answer
}
