package main

import (
	"cmp"
	"fmt"
	"strings"
	"time"

	"hepar/journal"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/metal"
	"hepar/recipe/run"
)

func journalShow(e *env) *verb {
	return command("show BATCH", "one batch with all its changes", at(e, func(p *place) {
		b := fault.Must(p.journal.Get(p.Args().First()))
		p.show(b, func() {
			if printBatch(e, p.units, b); p.Bool("sheet") {
				d, r := frozen(b)
				p.say("\n")
				printSheet(e, p.units, d, r, false)
			}
		})
	}), yes("sheet", "print the frozen batch sheet as well"))
}

func printBatch(e *env, u measure.System, b journal.Batch) {
	e.say("%s\n", e.heading(fmt.Sprintf("BATCH %s, %s", b.Number, b.State)))
	t := table{}
	review := cmp.Or(textOf(b.Review, func(r journal.Review) string {
		return fmt.Sprintf("%d points, %s%s", len(r.Points), moment(r.At), byText(r.By))
	}), "none in the journal")
	pieces := fmt.Sprint(b.Pieces) + when(b.Spares > 0, fmt.Sprintf(" and %d spares", b.Spares))
	t.facts("recipe", fmt.Sprintf("%s, revision %d (%s)", b.Slug, b.Revision, b.Title), "digest", b.Recipe.Digest,
		"pieces", strings.Join(nonEmpty(pieces, b.Alloy, b.Shape), ", "), "planned", moment(b.Created)+byText(b.By), "order", b.Order, "review", review)
	if b.Result != nil {
		t.add("result", resultText(b))
		for _, f := range resultFields() {
			value := f.Get(&b)
			if f.Unit != "" && value != "" {
				x, _ := f.Figure(&b)
				value = figure(u, f.Unit, x)
			}
			t.facts(f.Label, when(f.Unit != "" || f.Text, value))
		}
	}
	for _, what := range b.Newer {
		t.add("from a newer hepar", what+"; update hepar to read it")
	}
	for _, what := range b.Faults {
		t.add("incomplete", what)
	}
	t.add("id", b.ID.String())
	t.write(e.out, "  ")
	printBook(e, u, b)
	printEvents(e, b.Events)
}

func printBook(e *env, u measure.System, b journal.Batch) {
	add := func(name, text string) { e.put("  "+name+": ", text) }
	if d := b.Dip; d != nil {
		text := fmt.Sprintf("%s, %s%s", moment(d.Started), plural(len(d.Loads), "load"), byText(strings.Join(run.People(b.Bench), " and ")))
		for _, l := range d.Loads {
			text += fmt.Sprintf("; %d:%s %s", l.Number, wordsIf(" ", textOf(l.Temperature, u.Temperature)), cmp.Or(textOf(l.Time, u.Time), "time not known"))
			text += when(len(l.Causes) > 0, fmt.Sprintf("; %d not good: %s", l.Number, causesText(l.Causes)))
		}
		add("dipped", text)
	}
	add("without review", b.WithoutReview)
	for _, use := range b.Uses {
		add("used", fmt.Sprintf("%s of %s from %s, lot %s", amountText(u, use.Amount, use.Unit), substanceName(use.Substance), use.Number, cmp.Or(use.Lot, "not known")))
	}
	for _, w := range b.Waste {
		text := fmt.Sprintf("%s into %s", u.Volume(w.Liters), w.Container) + wordsIf(", gone to ", w.Went)
		for _, part := range w.Contents {
			text += fmt.Sprintf("; %s %s mg/L (%s)", part.What, measure.Figures(part.MilligramsPerLiter, 2), part.Source)
		}
		add("waste", text)
	}
	for _, photo := range b.Photos {
		add("photo", fmt.Sprintf("%s, sha256 %x", photo.Path, photo.SHA256[:9]))
	}
	if s := b.SignOff; s != nil {
		add("signed off", strings.Join(nonEmpty(s.By, moment(s.At), s.Note), ", "))
		add("since then", when(s.AmendedSince, "the record was amended: it may be signed off again"))
	}
}

func moment(s journal.Stamp) string { return s.Time().Format("2006-01-02 15:04 -07:00") }

// figure writes a figure of a result in the units of the reader.
func figure(u measure.System, unit string, x float64) string {
	switch unit {
	case "C":
		return u.Temperature(measure.Celsius(x))
	case "s":
		return u.Time(measure.Seconds(x))
	}
	return atMost(x, 4) + " " + unit
}

func amountText(u measure.System, amount float64, unit string) string {
	return either(unit == journal.UnitML, u.Volume(measure.Liters(amount/1000)), u.Mass(measure.Grams(amount)))
}

func printEvents(e *env, events []*journal.Event) {
	h := table{}
	entries := map[string]string{}
	for _, ev := range events {
		text := eventText(ev)
		if n := ev.Bench; n != nil {
			entries[n.Key] = text
			if n.Do == run.Undone {
				text = "undone: " + entries[n.Undoes]
			}
		}
		h.add(moment(ev.At), cmp.Or(ev.By, "-"), text)
	}
	h.show(e, "WHAT HAPPENED")
}

// kindText is the kind of an event in words: "waste added".
func kindText(kind string) string { return strings.ReplaceAll(kind, "-", " ") }

func eventText(ev *journal.Event) string {
	what := kindText(ev.Kind) + when(ev.Field != "", fmt.Sprintf(" %s from %q to %q", ev.Field, ev.Old, ev.New))
	for _, u := range ev.Uses {
		what += " " + u.Text() + " from " + u.Number
	}
	if r := ev.Result; r != nil {
		what += fmt.Sprintf(" %d good, %d to rework, %d rejected", r.Good, r.Rework, r.Reject)
		more := nonEmpty(causesText(r.Causes), r.Shade, r.Note)
		what += when(len(more) > 0, " ("+strings.Join(more, "; ")+")")
	}
	if w := ev.Waste; w != nil {
		what += " " + measure.Metric.Volume(w.Liters) + " in " + w.Container + wordsIf(", gone to ", w.Went)
	}
	if ev.Review != nil {
		what += fmt.Sprintf(" %d points", len(ev.Review.Points))
		for _, ask := range keys(ev.Review.Answers) {
			what += "; " + ask + " " + ev.Review.Answers[ask]
		}
		what += when(len(ev.Review.Stops) > 0, ", found a stop: "+strings.Join(ev.Review.Stops, ", "))
	}
	if n := ev.Bench; n != nil {
		what = n.Text()
		more := nonEmpty(textOf(n.Time, func(t measure.Seconds) string { return fmt.Sprintf("%g s", float64(t)) }), textOf(n.Temperature, measure.Metric.Temperature),
			when(n.Load > 0 && n.Pieces > 0, plural(n.Pieces, "piece")))
		what += when(n.Do != run.Judged, wordsIf(", ", strings.Join(more, ", "))+wordsIf(": ", n.Note))
	}
	if w := ev.Written; w != "" && w.Time().Sub(ev.At.Time()).Abs() > time.Minute {
		what += ", written " + moment(ev.Written)
	}
	what += wordsIf(": ", ev.Note)
	return what + wordsIf(", because: ", ev.Reason)
}

// wordsIf puts a text behind what stands before it, where there is a text.
func wordsIf(before, text string) string { return when(text != "", before+text) }

func byText(by string) string { return wordsIf(", by ", by) }

func journalAmend(e *env) *verb {
	return command("amend BATCH FIELD=VALUE...", "correct fields of a batch, all or none; the old values and the reason are kept", at(e, func(p *place) {
		b, said := fault.Must(p.journal.Get(p.Args().First())), []string(nil) // Update would make a new journal
		fault.Check(p.journal.Update(func(tx *journal.Tx) error {
			for _, word := range p.Args().Tail() {
				field, value := fieldValue(word, "good=195")
				if field == "alloy" && value != "" {
					a, err := metal.Find(value)
					refuse(err != nil, fault.Usagef("alloy: unknown alloy %q", measure.Clean(value)).Try("%s", fault.CureOf(err)))
					value = a.Name
				}
				b = fault.Must(tx.Amend(b.ID.String(), field, value, p.String("reason"), ""))
				last := b.Latest()
				said = append(said, fmt.Sprintf("%s from %q to %q", last.Field, last.Old, last.New))
			}
			return nil
		}))
		e.show(b, func() {
			noteNobody(e, b)
			e.say("amended %s: %s\n", b.Number, strings.Join(said, "; "))
			noteOdd(p, b)
		})
	}), text("reason", "REASON: required; the journal keeps it"), text("by", "NAME: person who corrects it"))
}
