package main

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"hepar/cmd/hepar/bench"
	"hepar/journal"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/metal"
	"hepar/recipe/run"
)

func logCommand(e *env) *verb {
	var o journal.LogOptions
	b, alloy := journal.Batch{Result: &journal.Result{}}, metal.Alloy{}
	return command("log [BATCH]", "write down how a batch turned out", at(e, func(p *place) { runLog(p, &b, alloy.Name, o) }),
		append([]option{
			text("recipe", "RECIPE: the recipe, if there is no saved sheet"),
			value("pieces", "COUNT: how many pieces, if there is no saved sheet", atLeastOne, &b.Pieces),
			value("alloy", "METAL: the metal, if there is no saved sheet", metal.Find, &alloy),
			text("by", "NAME: person who did the work"),
			text("without-review", "REASON: log a batch without a valid review; the journal keeps the reason", &o.WithoutReview),
			many("of-load", "CAUSE=LOAD: load of the pieces with that cause; may be repeated"),
			value("at", "TIME: when it was done, 2026-11-24 16:30 or 2026-11-24 (default: now)", e.when, &o.At),
		}, resultFlags(&b)...)...)
}

func runLog(p *place, b *journal.Batch, alloy string, o journal.LogOptions) {
	saved := p.NArg() == 1
	refuse(!saved && !p.IsSet("recipe"),
		fault.Usagef("a batch or --recipe is required").Try("name a planned batch, hepar log 2026-014 ..., or give --recipe and --pieces"))
	for _, flag := range []string{"recipe", "pieces", "alloy"} {
		refuse(saved && p.IsSet(flag), fault.Usagef("--%s has no effect on a saved batch", flag).Try("leave out --%s, or the batch", flag))
	}
	if saved && p.inTTY && p.errTTY && !p.json && !p.IsSet(causeFlag) && !slices.ContainsFunc(resultFields(), func(f journal.Field) bool { return p.IsSet(f.Name) }) {
		if run := p.bench(p.Args().First(), p.person(p.String("by"))); run.Batch.State == journal.Dipped {
			askLog(p, run, o)
			return
		}
	}
	for _, f := range resultFields() {
		refuse(f.Required && !p.IsSet(f.Name), fault.Usagef("--%s is required", f.Name).Try("write --%s %s", f.Name, f.Help))
	}
	if p.IsSet(causeFlag) {
		f, _ := journal.Named(journal.Fields(), causesField)
		fault.Check(atFlag(causeFlag, f.Set(b, run.AllOf(strings.Join(p.StringSlice(causeFlag), ", "), b.Rework+b.Reject))))
	}
	o.At = cmp.Or(o.At, p.now())
	fresh := p.newJournal()
	var batch journal.Batch
	if saved {
		loads, err := run.LoadsOf(p.StringSlice("of-load"), b.Causes)
		fault.Check(atFlag("of-load", err))
		batch = bench.Log(p.journal, p.Args().First(), *b.Result, loads, o)
	} else {
		refuse(!p.IsSet("pieces"), fault.Usagef("--pieces is required").Try("write --pieces 24"))
		r, err := p.recipe(p.String("recipe"))
		fault.Check(atFlag("recipe", err))
		p.tell("note: ", when(alloy != "" && !slices.Contains(r.Alloys, alloy), fmt.Sprintf("the recipe %s is not for %s", r.Slug, alloy)))
		batch = fault.Must(p.journal.LogNew(journal.Plan{Created: journal.StampOf(o.At), Recipe: frozenRecipe(r), Pieces: b.Pieces, Alloy: alloy}, *b.Result, o))
	}
	fresh()
	p.show(batch, func() {
		noteNobody(p.env, batch)
		p.say("logged %s: %s, %s\n", batch.Number, batch.Recipe.Slug, resultText(batch))
		noteOdd(p, batch)
		if batch.Dip != nil {
			b := p.bench(batch.ID.String(), o.By)
			offTheShelf(p, b)
			p.put("  ", b.Untaken()...)
		}
	})
}

// noteOdd says what does not fit together in the result of a batch, or with its plan and its run, and how it is put right.
func noteOdd(p *place, b journal.Batch) {
	if b.Missing == nil {
		return
	}
	named, bad, through := 0, b.Rework+b.Reject, b.Counted()
	for _, n := range b.Causes {
		named += n
	}
	far, wrong := "", []string{}
	if b.SheetSHA != nil {
		on := p.bench(b.ID.String(), "")
		far, wrong = run.Far(p.units, on.Recipe, on.Sheet.Loads, b.Temperature, b.Time)
		if b.Dip != nil {
			_, through, _ = on.Run.Dipped()
		}
	} else if r, err := p.library.Get(b.Slug); err == nil {
		far, wrong = run.Far(p.units, r, nil, b.Temperature, b.Time)
	}
	cure := "; to correct it: hepar journal amend " + b.Number + " "
	count := cure + "good=... --reason ..."
	p.tell("note: ", when(*b.Missing > 0, fmt.Sprintf("%d of the pieces started are not accounted for", *b.Missing)+count),
		when(b.Counted() > through, fmt.Sprintf("%s are counted, and %d went through the bath", plural(b.Counted(), "piece"), through)+count),
		when(named > 0 && named != bad, fmt.Sprintf("the causes name %s, and %d are not good", plural(named, "piece"), bad)+cure+"causes=... --reason ..."),
		when(far != "", far+cure+strings.Join(append(wrong, "--reason ..."), "=... ")))
}

func noteNobody(e *env, b journal.Batch) {
	if last := b.Latest(); last.By == "" {
		e.note("note: no person is recorded for this; add --by NAME, or set person in the shop file\n")
	}
}

// The causes are given one by one: --cause spots=4 --cause patchy=1.
const causesField, causeFlag = "causes", "cause"

func resultFields() []journal.Field {
	return slices.DeleteFunc(slices.Clone(journal.Fields()), func(f journal.Field) bool { return !f.OfResult })
}

// resultFlags are the flags that the table of fields makes.
func resultFlags(b *journal.Batch) []option {
	return mapped(resultFields(), func(f journal.Field) option {
		if f.Name == causesField {
			return many(causeFlag, "NAME=COUNT: why pieces are not good; may be repeated")
		}
		return does(f.Name, f.Label+", as in "+quoted(f.Help), func(text string) error { return f.Set(b, text) })
	})
}

// when reads a date, or a date and a time, that has been.
func (e *env) when(text string) (time.Time, error) {
	begins, _, err := parsePeriod(text, e.now())
	switch {
	case err != nil || len(text) < len(time.DateOnly):
		err = fault.Usagef("%q is not a time", measure.Clean(text)).Try("write 2026-11-24 16:30, 2026-11-24, or a time with its zone, 2026-11-24T16:30:00+01:00")
	case begins.After(e.now().Add(24 * time.Hour)):
		err = fault.Usagef("%q is in the future", text).Try("give the time when it was done")
	}
	return begins, err
}
