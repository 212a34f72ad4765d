package main

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/urfave/cli/v2"

	"hepar/cmd/hepar/bench"
	"hepar/journal"
	"hepar/recipe/bath/job"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/metal"
)

func logCommand(e *env) *cli.Command {
	return command("log [BATCH]", "write down how a batch turned out",
		at(e, 0, 1, "", runLog),
		append([]cli.Flag{
			text("recipe", "the recipe, where there is no saved sheet"),
			text("pieces", "how many pieces, where there is no saved sheet"),
			text("alloy", "the metal, where there is no saved sheet"),
			text("by", "who did it"),
			text("without-review", "the reason to log a batch that has no review that holds; it is kept"),
			many("of-load", "CAUSE=LOAD, the load of the pieces with that cause; may be given again"),
			text("at", "when, if not now: 2026-11-24 16:30 or 2026-11-24"),
		}, resultFlags()...)...)
}

func runLog(p *place) error {
	refuse(p.NArg() == 0 && !p.IsSet("recipe"),
		fault.Usagef("a batch or --recipe is required").Try("name a planned batch, hepar log 2026-014 ..., or give --recipe and --pieces"))
	result := resultFrom(p.Context)
	at := p.now()
	fault.Check(p.takeTime("at", &at))
	fresh := p.newJournal()
	var batch journal.Batch
	if p.NArg() == 1 {
		for _, flag := range []string{"recipe", "pieces", "alloy"} {
			refuse(p.IsSet(flag), fault.Usagef("--%s has no effect on a saved batch", flag).Try("leave out --%s, or the batch", flag))
		}
		loads := fault.Must(loadsFrom(p.StringSlice("of-load"), result.Causes))
		batch = fault.Must(bench.Log(p.journal, p.Args().First(), result, loads, journal.LogOptions{At: at, WithoutReview: p.String("without-review")}))
	} else {
		batch = logWithoutSheet(p, result, at)
	}
	fresh()
	return p.show(batch, nil, func() {
		noteNobody(p.env, batch)
		p.say("logged %s: %s, %s\n", batch.Number, batch.Recipe.Slug, resultText(batch))
		noteCounts(p.env, batch)
	})
}

func noteCounts(e *env, b journal.Batch) {
	if b.Missing == nil {
		return
	}
	named, bad := 0, b.Rework+b.Reject
	for _, n := range b.Causes {
		named += n
	}
	const cure = "; hepar journal amend puts it right"
	e.tell("note: ", when(*b.Missing > 0, fmt.Sprintf("%d of the pieces started are not accounted for", *b.Missing)+cure),
		when(named > 0 && named != bad, fmt.Sprintf("the causes name %s, and %d are not good", plural(named, "piece"), bad)+cure))
}

// loadsFrom reads of which load the pieces with a cause are: too-light=4.
func loadsFrom(pairs []string, causes map[string]int) (map[string]int, error) {
	loads := map[string]int{}
	for _, pair := range pairs {
		cause, number, _ := strings.Cut(pair, "=")
		n, err := measure.ParseCount(strings.TrimSpace(number), 1, job.MostPieces)
		if err != nil || causes[cause] == 0 {
			return nil, fault.Usagef("%q is not CAUSE=LOAD with a cause that --cause names", measure.Clean(pair)).At("--of-load").Try("write --cause too-light=3 --of-load too-light=4")
		}
		loads[cause] = n
	}
	return loads, nil
}

func noteNobody(e *env, b journal.Batch) {
	if last := b.Latest(); last != nil && last.By == "" {
		e.note("note: nobody is named for this; --by NAME says who, or a person in the shop file\n")
	}
}

// resultFrom reads the flags that the table of fields makes.
func resultFrom(c *cli.Context) journal.Result {
	b := journal.Batch{Result: &journal.Result{}}
	for _, f := range resultFields() {
		refuse(f.Required && !c.IsSet(f.Name), fault.Usagef("--%s is required", f.Name).Try("write --%s %s", f.Name, f.Help))
		flag, text := f.Name, c.String(f.Name)
		if f.Name == causesField {
			flag, text = causeFlag, strings.Join(c.StringSlice(causeFlag), ", ")
		}
		if c.IsSet(flag) {
			refuse(text == "", fault.Usagef("--%s is empty", flag).Try("leave it out, or write %s", f.Help))
			fault.Check(atFlag(flag, setField(f, &b, text)))
		}
	}
	return *b.Result
}

func setField(f journal.Field, b *journal.Batch, text string) error {
	fixed, err := f.Parse(text)
	if err == nil {
		err = f.Set(b, fixed)
	}
	return err
}

// The causes are given one by one: --cause spots=4 --cause patchy=1.
const (
	causesField = "causes"
	causeFlag   = "cause"
)

func resultFields() []journal.Field {
	return slices.DeleteFunc(slices.Clone(journal.Fields()), func(f journal.Field) bool { return !f.OfResult })
}

func resultFlags() []cli.Flag {
	var out []cli.Flag
	for _, f := range resultFields() {
		if f.Name == causesField {
			out = append(out, &cli.StringSliceFlag{Name: causeFlag, Usage: "NAME=COUNT, why pieces are not good; may be given again"})
			continue
		}
		out = append(out, &cli.StringFlag{Name: f.Name, Usage: f.Label + ", as in " + quoted(f.Help)})
	}
	return out
}

func logWithoutSheet(p *place, result journal.Result, at time.Time) journal.Batch {
	refuse(!p.IsSet("pieces"), fault.Usagef("--pieces is required").Try("write --pieces 24"))
	r, err := p.recipe(p.String("recipe"))
	fault.Check(atFlag("recipe", err))
	var a metal.Alloy
	plan := journal.Plan{Created: journal.StampOf(at), Recipe: frozenRecipe(r)}
	fault.Check(cmp.Or(take(p.Context, "pieces", atLeastOne, &plan.Pieces), take(p.Context, "alloy", metal.Find, &a)))
	plan.Alloy = a.Name
	p.tell("note: ", when(a.Name != "" && !slices.Contains(r.Alloys, a.Name), fmt.Sprintf("the recipe %s is not for %s", r.Slug, a.Name)))
	return fault.Must(p.journal.LogNew(plan, result, journal.LogOptions{WithoutReview: p.String("without-review")}))
}

// parseWhen reads a date, or a date and a time, in the zone of now.
func parseWhen(text string, now time.Time) (time.Time, error) {
	for _, form := range []string{time.RFC3339, "2006-01-02 15:04:05", "2006-01-02 15:04", "2006-01-02T15:04", "2006-01-02"} {
		if t, err := time.ParseInLocation(form, text, now.Location()); err == nil {
			if t.After(now.Add(24 * time.Hour)) {
				return t, fault.Usagef("%q lies in the future", text).At("--at").Try("give when it was done")
			}
			return t, nil
		}
	}
	return time.Time{}, fault.Usagef("%q is not a time", measure.Clean(text)).At("--at").Try("write 2026-11-24 16:30, 2026-11-24, or a time with its zone, 2026-11-24T16:30:00+01:00")
}
