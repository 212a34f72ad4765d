package label

import (
	"slices"
	"time"

	"hepar/recipe/fault"
)

// Words that a waste container may carry; others can be given.
const (
	USWords    = "Hazardous Waste" // the words of 40 CFR 262.15(a)(5)(i) and 262.16(b)(6)(i)
	PlainWords = "Waste chemicals"
)

// WasteLabel is what stands on a waste container. What is in it must be given.
type WasteLabel struct {
	Words    string // the heading; empty for [USWords]
	Shop     string // name of the workshop
	ID       string // number of the container
	Contents []Content
	Volume   string    // in words: "about 3 L of 5 L"; empty: a blank to write in
	Hazards  string    // more about the hazards, in words
	Started  time.Time // the first day; zero: a blank to write in
	Full     time.Time // the day it was full; zero where it is not
	Estimate []string  // lines of package waste, marked there as estimates
	Note     string
}

// Waste makes the label of a waste container: the words, the contents in words, an
// indication of the hazards by words and symbols, the start date, the volume, what it
// must be kept apart from, and to ask the local authority. The words do not classify
// the waste: whoever makes it has to find out what it is. Errors are of kind Usage;
// contents that must not meet in one container are an error of kind Safety.
func Waste(w WasteLabel) (Label, error) {
	if err := tidy("the heading", &w.Words, "the name of the shop", &w.Shop, "the number of the container", &w.ID,
		"the volume", &w.Volume, "the hazards", &w.Hazards, "the note", &w.Note); err != nil {
		return Label{}, err
	}
	if w.Words == "" {
		w.Words = USWords
	}
	if len(w.Contents) == 0 {
		return Label{}, fault.Usagef("what is in the waste container is not given").Try("name the contents in words")
	}
	contents, err := settleAll(w.Contents)
	if err != nil {
		return Label{}, err
	}
	for _, t := range []time.Time{w.Started, w.Full} {
		if err := dated("a date of the waste", t); err != nil {
			return Label{}, err
		}
	}
	if !w.Full.IsZero() && w.Full.Before(w.Started) {
		return Label{}, fault.Usagef("the container was full on %s, before it was started on %s", day(w.Full), day(w.Started)).Try("look at the two dates")
	}
	if len(w.Estimate) > mostContents {
		return Label{}, fault.Usagef("%d lines of estimate on one label", len(w.Estimate)).Try("give at most %d", mostContents)
	}
	d := dangers(contents)
	l := Label{kind: "waste", frame: true, title: upper(w.Words)}
	for _, s := range []struct{ name, value string }{{"", w.Shop}, {"container", w.ID}} {
		if s.value != "" {
			if len(l.kicker) > 0 {
				l.kicker = append(l.kicker, plainly("·"))
			}
			l.kicker = append(l.kicker, plainly(s.name), boldly(s.value))
		}
	}
	l.under = []block{{spans: append([]span{plainly("Contents:")}, list(contents)...), scale: 1.15}}
	l.take(d)
	start := box{name: "ACCUMULATION START"}
	if !w.Started.IsZero() {
		start.value = day(w.Started)
	}
	l.boxes = []box{start, {name: "VOLUME", value: w.Volume}}
	if w.Hazards != "" {
		l.lines = append(l.lines, block{spans: []span{boldly(upper(w.Hazards))}, scale: 1})
	}
	if !w.Full.IsZero() {
		l.boxes = append(l.boxes, box{name: "FULL", value: day(w.Full)})
	}
	l.keep(contents)
	for _, line := range w.Estimate {
		if line, err = prose("the estimate", line); err != nil {
			return Label{}, err
		}
		l.lines = append(l.lines, block{spans: []span{plainly(line)}, scale: 0.9, last: inBrief})
	}
	if w.Note != "" {
		l.lines = append(l.lines, block{spans: []span{plainly(w.Note)}, scale: 0.95, last: inBrief})
	}
	ask := []span{boldly("Keep closed. Ask your local authority"), plainly("which collection takes it; no drain.")}
	l.foot.spans = append(slices.Clone(ask), d.origin(false)...)
	l.foot.brief = append(slices.Clone(ask), d.origin(true)...)
	return l, nil
}
