package journal

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"hepar/recipe/fault"
)

// maxEvents is how many events a batch may have in an import.
const maxEvents = 10_000

// row is a batch from elsewhere with its times read and its words clean.
type row struct {
	View
	id      id // zero where the row has none
	created time.Time
	logged  time.Time     // zero where there is no result
	review  *reviewRecord // nil where there is none
	events  []rowEvent
	loose   bool  // from a table, which has no events, reviews or kinds
	aside   bool  // the table tells more of it than is read
	doubt   error // what would be wrong if its events did not lead to it
}

// rowEvent is an event of a row with its id and times read.
type rowEvent struct {
	id          id
	at, written time.Time
	// What it said that a later one took the place of.
	result *resultRecord
	review *reviewRecord
	note   string
}

// cleanBefore reads what an event said that a later one took the place of.
func (v *EventView) cleanBefore(to *rowEvent, what string) (err error) {
	if r := v.Result; r != nil {
		result, err := Result{Good: r.Good, Rework: r.Rework, Reject: r.Reject, Causes: r.Causes, Temperature: celsiusOf(r.TemperatureC),
			Time: secondsOf(r.TimeS), Shade: r.Shade, Note: r.Note}.clean()
		if err != nil {
			return err
		}
		to.result = result.record(stampOf(to.at))
	}
	if r := v.Review; r != nil {
		if to.review, err = r.record("review of " + what); err != nil {
			return err
		}
	}
	to.note, err = note("note of "+what, v.Note)
	return err
}

// record reads a review.
func (v *ReviewView) record(what string) (*reviewRecord, error) {
	out := &reviewRecord{}
	var err error
	if out.By, err = line("by of the "+what, v.By); err != nil {
		return nil, err
	}
	if out.Digest, err = line("digest of the "+what, v.Digest); err != nil {
		return nil, err
	}
	if out.At, err = parseStamp("time of the "+what, v.At); err != nil {
		return nil, err
	}
	for _, p := range v.Points {
		if p, err = line("point of the "+what, p); err != nil {
			return nil, err
		}
		out.Points = append(out.Points, p)
	}
	return out, nil
}

// parseTime reads a time as timeText writes it.
func parseTime(what, text string) (time.Time, error) {
	t, err := time.Parse(time.RFC3339Nano, text)
	if err != nil {
		return t, fault.Usagef("%s is no time: %q", what, cut(text)).Try("write it as in 2026-03-09T08:15:00+01:00")
	}
	if _, offset := t.Zone(); offset%60 != 0 {
		return t, fault.Usagef("the offset of %s has seconds", what).Try("write it as in 2026-03-09T08:15:00+01:00")
	}
	return t, cleanTime(what, t)
}

// parseID reads an id in its 26 characters.
func parseID(what, text string) (i id, err error) {
	low, high, ok := idRange(text)
	if !ok || low != high {
		return i, fault.Usagef("%s is no id: %q", what, cut(text)).Try("an id has 26 characters, the first from 0 to 7")
	}
	if low.millis() > uint64(time.Date(lastYear+1, 1, 1, 0, 0, 0, 0, time.UTC).UnixMilli()) {
		return i, fault.Usagef("%s has a time after the year %d in it: %s", what, lastYear, text).Try("take the id as the journal wrote it")
	}
	return low, nil
}

// cut shortens a text from outside for a message.
func cut(text string) string {
	if utf8.RuneCountInString(text) > 40 {
		return string([]rune(text)[:37]) + "..."
	}
	return text
}

// cleanView checks everything in a row that can be checked without the journal
// and puts its words as the journal would have them.
func cleanView(v View) (*row, error) {
	r := &row{View: v}
	var err error
	for _, w := range []struct {
		what string
		text *string
	}{
		{"recipe", &r.Recipe}, {"recipe_title", &r.RecipeTitle}, {"recipe_kind", &r.RecipeKind}, {"recipe_digest", &r.RecipeDigest},
		{"alloy", &r.Alloy}, {"shape", &r.Shape}, {"by", &r.By},
	} {
		if *w.text, err = line(w.what, *w.text); err != nil {
			return nil, err
		}
	}
	if r.Order, err = note("order", r.Order); err != nil {
		return nil, err
	}
	if r.created, err = parseTime("created", r.Created); err != nil {
		return nil, err
	}
	if r.ID != "" {
		if r.id, err = parseID("id", r.ID); err != nil {
			return nil, err
		}
		if r.id.millis() < millisOf(r.created) {
			return nil, fault.Usagef("the id %s is of a time before the batch was created", r.ID).Try("take the id as the journal wrote it")
		}
	}
	if r.Number != "" {
		if _, _, ok := splitNumber(r.Number); !ok {
			return nil, fault.Usagef("%q is no number of a batch", cut(r.Number)).Try("write it as in 2026-014")
		}
	}
	switch {
	case r.State == "":
	case !slices.Contains(States(), State(r.State)):
		return nil, fault.Usagef("there is no state %q", cut(r.State)).Try("name one of planned, reviewed, dipped, logged, withdrawn")
	case State(r.State) == Logged && r.Good == nil:
		return nil, fault.Usagef("the batch is logged and has no result").Try("give good, rework and reject")
	}
	if r.Recipe == "" {
		return nil, fault.Usagef("the row names no recipe").Try("name the recipe it was made by")
	}
	if err := count("pieces", r.Pieces, 1); err != nil {
		return nil, err
	}
	if err := count("spares", r.Spares, 0); err != nil {
		return nil, err
	}
	if err := count("the revision of the recipe", r.RecipeRevision, 0); err != nil {
		return nil, err
	}
	if err := r.cleanFrozen(); err != nil {
		return nil, err
	}
	if err := r.cleanResult(); err != nil {
		return nil, err
	}
	if err := r.cleanReview(); err != nil {
		return nil, err
	}
	return r, r.cleanEvents()
}

func (r *row) cleanFrozen() error {
	if string(r.Sheet) == "null" {
		r.Sheet = nil
	}
	if err := cleanFrozen(r.RecipeText, r.Sheet); err != nil {
		return err
	}
	r.Sheet = bytes.Clone(r.Sheet) // it lies in the line, which is read over
	return nil
}

func (r *row) cleanResult() (err error) {
	if r.Good == nil {
		if r.Rework != nil || r.Reject != nil || len(r.Causes) > 0 || r.Logged != nil {
			return fault.Usagef("there is a part of a result and no number of good pieces").Try("give good, rework and reject, or none of a result")
		}
		return nil
	}
	zero := 0
	if r.Rework == nil {
		r.Rework = &zero
	}
	if r.Reject == nil {
		r.Reject = &zero
	}
	r.logged = r.created
	if r.Logged != nil {
		if r.logged, err = parseTime("logged", *r.Logged); err != nil {
			return err
		}
	}
	result, err := r.result().clean()
	if err != nil {
		return err
	}
	r.Causes, r.Shade, r.Note = result.Causes, &result.Shade, &result.Note
	trial := batchRecord{Plan: planRecord{Number: r.Number, Pieces: r.Pieces, Spares: r.Spares}, Result: result.record(stamp{})}
	if err = trial.fits(); err != nil && r.benches() {
		r.doubt, err = err, nil // the events will tell whether two benches made it so
	}
	return err
}

// result gives the result of a row that has one.
func (r *row) result() Result {
	out := Result{Good: *r.Good, Rework: *r.Rework, Reject: *r.Reject, Causes: r.Causes}
	if r.Shade != nil {
		out.Shade = *r.Shade
	}
	if r.Note != nil {
		out.Note = *r.Note
	}
	out.Temperature, out.Time = celsiusOf(r.TemperatureC), secondsOf(r.TimeS)
	return out
}

func (r *row) cleanReview() (err error) {
	if r.WithoutReview != nil {
		reason, err := note("without_review", *r.WithoutReview)
		if err != nil {
			return err
		}
		r.WithoutReview = &reason
	}
	if r.Review != nil {
		r.review, err = r.Review.record("review")
	}
	return err
}

func (r *row) cleanEvents() (err error) {
	if len(r.Events) == 0 {
		return nil
	}
	if r.ID == "" {
		return fault.Usagef("the batch has events and no id").Try("take the line as it was exported, or leave out the events")
	}
	r.events = make([]rowEvent, len(r.Events))
	for i := range r.Events {
		e, to := &r.Events[i], &r.events[i]
		what := fmt.Sprintf("event %d", i+1)
		if to.id, err = parseID("the id of "+what, e.ID); err != nil {
			return err
		}
		if i > 0 && r.events[i-1].id.compare(to.id) >= 0 {
			return fault.Usagef("%s does not come after the event before it", what).Try("take the events in the order in which they were exported")
		}
		if to.at, err = parseTime("the time of "+what, e.At); err != nil {
			return err
		}
		to.written = to.at
		if e.Written != "" && e.Written != e.At {
			if to.written, err = parseTime("the time of "+what, e.Written); err != nil {
				return err
			}
		}
		if e.By, err = line("by of "+what, e.By); err != nil {
			return err
		}
		for _, text := range []*string{&e.Reason, &e.Old, &e.New} {
			if *text, err = note("text of "+what, *text); err != nil {
				return err
			}
		}
		e.Field = strings.TrimSpace(e.Field)
		if err := e.cleanBefore(to, what); err != nil {
			return err
		}
	}
	return nil
}
