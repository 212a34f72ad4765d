package main

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"

	"github.com/urfave/cli/v2"

	"hepar/cmd/hepar/bench"
	"hepar/journal"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/metal"
)

func journalShow(e *env) *cli.Command {
	return &cli.Command{
		Name: "show", Usage: "one batch with all its changes", ArgsUsage: "BATCH",
		Description: "Shows a batch by its number; --sheet prints its frozen batch sheet as well.",
		Flags:       []cli.Flag{&cli.BoolFlag{Name: "sheet", Usage: "print the frozen batch sheet as well"}},
		Action: at(e, 1, 1, "the number of a batch", func(c *cli.Context, p *place) error {
			b, err := p.journal.Get(c.Args().First())
			if err != nil {
				return err
			}
			if e.json {
				return e.printJSON(b)
			}
			printBatch(e, p.units, b)
			if c.Bool("sheet") {
				return printFrozen(e, p.units, b)
			}
			return nil
		}),
	}
}

func printBatch(e *env, u measure.System, b journal.Batch) {
	e.say("%s\n", e.heading(fmt.Sprintf("BATCH %s, %s", b.Number, b.State)))
	t := table{}
	t.add("recipe", fmt.Sprintf("%s, revision %d (%s)", b.Slug, b.Revision, b.Title))
	t.add("digest", b.Recipe.Digest)
	pieces := fmt.Sprintf("%d", b.Pieces)
	if b.Spares > 0 {
		pieces += fmt.Sprintf(" and %d spares", b.Spares)
	}
	t.add("pieces", strings.Join(nonEmpty(pieces, b.Alloy, b.Shape), ", "))
	t.add("planned", moment(b.Created)+byText(b.By))
	if b.Order != "" {
		t.add("order", b.Order)
	}
	if b.Review != nil {
		t.add("review", fmt.Sprintf("%d points, %s%s", len(b.Review.Points), moment(b.Review.At), byText(b.Review.By)))
	} else {
		t.add("review", "none in the journal")
	}
	if b.Result != nil {
		t.add("result", resultText(b))
		for _, f := range resultFields() {
			switch value := f.Get(&b); {
			case f.Figure != nil && value != "":
				x, _ := f.Figure(&b)
				t.add(f.Label, figure(u, f.Unit, x))
			case f.Text && value != "":
				t.add(f.Label, value)
			}
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
	for _, row := range bookRows(u, b) {
		e.say("%s", wrap("  "+row[0]+": ", row[1]))
	}
	printEvents(e, b.Events)
}

// bookRows are what a batch has besides plan and result.
func bookRows(u measure.System, b journal.Batch) [][2]string {
	var rows [][2]string
	if d := b.Dip; d != nil {
		var people []string
		for _, n := range b.Bench {
			if n.By != "" && !slices.Contains(people, n.By) {
				people = append(people, n.By)
			}
		}
		text := fmt.Sprintf("%s, %s%s", moment(d.Started), plural(len(d.Loads), "load"), byText(strings.Join(people, " and ")))
		for _, l := range d.Loads {
			if l.Temperature != nil && l.Time != nil {
				text += fmt.Sprintf("; %d: %s %s", l.Number, u.Temperature(*l.Temperature), u.Time(*l.Time))
			}
			if len(l.Causes) > 0 {
				text += fmt.Sprintf("; %d not good: %s", l.Number, causesText(l.Causes))
			}
		}
		rows = append(rows, [2]string{"dipped", text})
	}
	if b.WithoutReview != "" {
		rows = append(rows, [2]string{"without review", b.WithoutReview})
	}
	for _, use := range b.Uses {
		rows = append(rows, [2]string{"used", fmt.Sprintf("%s of %s from %s, lot %s", amountText(u, use.Amount, use.Unit), substanceName(use.Substance), use.Number, orElse(use.Lot, "not known"))})
	}
	for _, w := range b.Waste {
		text := fmt.Sprintf("%s into %s", u.Volume(w.Liters), w.Container)
		for _, part := range w.Contents {
			text += fmt.Sprintf("; %s %s mg/L (%s)", part.What, measure.Figures(part.MilligramsPerLiter, 2), part.Source)
		}
		rows = append(rows, [2]string{"waste", text})
	}
	for _, photo := range b.Photos {
		rows = append(rows, [2]string{"photo", photo.Path + ", sha256 " + fmt.Sprintf("%x", photo.SHA256[:9])})
	}
	if s := b.SignOff; s != nil {
		rows = append(rows, [2]string{"signed off", strings.Join(nonEmpty(s.By, moment(s.At), s.Note), ", ")})
		if s.AmendedSince {
			rows = append(rows, [2]string{"since then", "the record was amended: it may be signed off again"})
		}
	}
	return rows
}

// moment writes a time as it is shown.
func moment(s journal.Stamp) string { return s.Time().Format("2006-01-02 15:04 -07:00") }

// figure writes a figure of a result in the units of the reader.
func figure(u measure.System, unit string, x float64) string {
	switch unit {
	case "C":
		return u.Temperature(measure.Celsius(x))
	case "s":
		return u.Time(measure.Seconds(x))
	}
	return measure.Figures(x, 4) + " " + unit
}

// amountText writes an amount of stock.
func amountText(u measure.System, amount float64, unit string) string {
	if unit == journal.UnitML {
		return u.Volume(measure.Liters(amount / 1000))
	}
	return u.Mass(measure.Grams(amount))
}

// printEvents prints the changes, oldest first.
func printEvents(e *env, events []*journal.Event) {
	e.say("\n%s\n", e.heading("WHAT HAPPENED"))
	h := table{}
	entries := map[string]string{}
	for _, ev := range events {
		text := eventText(ev)
		if n := ev.Bench; n != nil {
			entries[n.Key] = text
			text += wordsIf(", undone: ", entries[n.Undoes])
		}
		h.add(moment(ev.At), orElse(ev.By, "-"), text)
	}
	h.write(e.out, "  ")
}

// eventText says in words what an event was.
func eventText(ev *journal.Event) string {
	what := ev.Kind
	if ev.Field != "" {
		what += fmt.Sprintf(" %s from %q to %q", ev.Field, ev.Old, ev.New)
	}
	for _, u := range ev.Uses {
		what += " " + u.Text() + " from " + u.Number
	}
	if r := ev.Result; r != nil {
		what += fmt.Sprintf(" %d good, %d to rework, %d rejected", r.Good, r.Rework, r.Reject)
		if more := nonEmpty(causesText(r.Causes), r.Shade, r.Note); len(more) > 0 {
			what += " (" + strings.Join(more, "; ") + ")"
		}
	}
	if ev.Review != nil {
		what += fmt.Sprintf(" %d points", len(ev.Review.Points))
		for _, ask := range slices.Sorted(maps.Keys(ev.Review.Answers)) {
			what += "; " + ask + " " + ev.Review.Answers[ask]
		}
		if len(ev.Review.Stops) > 0 {
			what += ", found a stop: " + strings.Join(ev.Review.Stops, ", ")
		}
	}
	if n := ev.Bench; n != nil {
		what = bench.EntryText(*n)
		if n.Time != nil {
			what += fmt.Sprintf(", %g s", float64(*n.Time))
		}
		if n.Temperature != nil {
			what += ", " + measure.Metric.Temperature(*n.Temperature)
		}
		if n.Load > 0 && n.Pieces > 0 {
			what += ", " + plural(n.Pieces, "piece")
		}
		what += wordsIf(": ", n.Note)
	}
	if w := ev.Written; !w.IsZero() && w.Time().Sub(ev.At.Time()).Abs() > time.Minute {
		what += ", written " + moment(ev.Written)
	}
	what += wordsIf(": ", ev.Note)
	if ev.Reason != "" {
		what += ", because: " + ev.Reason
	}
	return what
}

func wordsIf(before, text string) string {
	if text == "" {
		return ""
	}
	return before + text
}

func byText(by string) string {
	if by == "" {
		return ""
	}
	return ", by " + by
}

// printFrozen prints the sheet that the batch was saved with.
func printFrozen(e *env, u measure.System, b journal.Batch) error {
	d, r, err := frozenDocument(b)
	if err != nil {
		return err
	}
	e.say("\n")
	printSheet(e, u, d, r, false)
	return nil
}

func journalAmend(e *env) *cli.Command {
	return &cli.Command{
		Name: "amend", Usage: "put a figure right; the old one and the reason are kept", ArgsUsage: "BATCH FIELD=VALUE",
		Description: `Changes one field of a batch. The old value, the reason, the person and the time stay
in the journal. Fields: ` + strings.Join(journal.FieldNames(), ", ") + `.

EXAMPLES
   hepar journal amend 2026-014 good=195 --reason "one more spot found under the lamp"`,
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "reason", Usage: "why; required"},
			&cli.StringFlag{Name: "by", Usage: "who"},
		},
		Action: func(c *cli.Context) error {
			if err := arguments(c, 2, 2, "a batch or FIELD=VALUE"); err != nil {
				return err
			}
			field, value, ok := strings.Cut(c.Args().Get(1), "=")
			if !ok {
				return fault.Usagef("%q is not FIELD=VALUE", measure.Clean(c.Args().Get(1))).Try("write good=195")
			}
			p, err := openPlace(e, c)
			if err != nil {
				return err
			}
			if field == "alloy" && value != "" {
				a, err := metal.Find(value)
				if err != nil {
					return fault.Usagef("alloy: unknown alloy %q", measure.Clean(value)).Try("%s", fault.CureOf(err))
				}
				value = a.Name
			}
			b, err := p.journal.Amend(c.Args().First(), field, value, c.String("reason"), c.String("by"))
			if err != nil {
				return err
			}
			if e.json {
				return e.printJSON(b)
			}
			noteNobody(e, b)
			last := b.Latest()
			e.say("amended %s: %s from %q to %q\n", b.Number, last.Field, last.Old, last.New)
			return nil
		},
	}
}
