package label

import (
	"cmp"
	"slices"
	"time"

	"hepar/recipe/fault"
	"hepar/recipe/reagent"
)

// USWords are those of 40 CFR 262.15(a)(5)(i) and 262.16(b)(6)(i) for a waste container.
const USWords = "Hazardous Waste"

// WasteLabel is what stands on a waste container. It needs the contents.
type WasteLabel struct {
	Vented   bool   // gas comes off it: hydrogen, ammonia, the last of a pickle
	Words    string // the heading; empty for [USWords]
	Shop     string // name of the workshop
	ID       string // number of the container
	Of       string // the batches in it, in words
	Contents []Content
	Volume   string    // in words: "about 3 L of 5 L"; empty: a blank to write in
	Hazards  string    // more about the hazards, in words
	Started  time.Time // the first day; zero: a blank to write in
	Estimate []string  // lines of package waste, marked there as estimates
	Note     string
}

// Waste makes the label of a waste container. Its words do not classify the waste: the workshop
// that makes it must find out what it is. Errors are of kind Usage; contents that must not meet
// in one container are an error of kind Safety.
func Waste(w WasteLabel) (Label, error) {
	if err := tidy("the heading", &w.Words, "the name of the shop", &w.Shop, "the number of the container", &w.ID, "the batches", &w.Of,
		"the volume", &w.Volume, "the hazards", &w.Hazards, "the note", &w.Note); err != nil {
		return Label{}, err
	}
	if len(w.Contents) == 0 {
		return Label{}, fault.Usagef("the waste container has no contents").Try("name the contents in words")
	}
	bare := slices.Clone(w.Contents)
	for i := range bare {
		bare[i].Amount = "" // how strong the bath was says nothing of a container with its rinses
	}
	contents, err := settleAll(bare)
	if err != nil {
		return Label{}, err
	}
	l := Label{Kind: "waste", Title: upper(cmp.Or(w.Words, USWords))}
	if reference := dotted(bold(w.Shop), pair("container", bold(w.ID)), words(w.Of)); reference != "" {
		l.Head = append(l.Head, part{Class: "kicker", Words: reference})
	}
	holds := "Contents: "
	if slices.ContainsFunc(bare, func(c Content) bool { return c.Name == "" }) {
		holds = "Contents: spent bath and its rinses, with "
	}
	l.Head = append(l.Head,
		part{Class: "title", Words: bold(l.Title)},
		part{Class: "text", Words: words(holds) + list(contents)})
	d := dangers(contents)
	l.warn(d)
	l.Main = append(l.Main, part{Class: "boxes", Parts: []part{figure("ACCUMULATION START", written(w.Started, day)), figure("VOLUME", w.Volume)}})
	if w.Hazards != "" {
		l.Main = append(l.Main, part{Class: "text", Words: bold(upper(w.Hazards))})
	}
	l.keepApart(contents)
	for _, line := range w.Estimate {
		if err := tidy("the estimate", &line); err != nil {
			return Label{}, err
		}
		l.note(line)
	}
	l.note(w.Note)
	shut := "Keep closed."
	if w.Vented || anyIn(contents, reagent.OxidizingAcid, reagent.Peroxide, reagent.Hypochlorite) {
		shut = "Never close it tight: vented cap." // beats keeping it closed
	}
	ask := bold(shut+" Ask your local authority") + " which collection takes it. Never pour it down a drain."
	l.End = append(l.End, foot(ask, ask, d))
	return l, nil
}
