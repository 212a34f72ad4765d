package main

import (
	"cmp"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/urfave/cli/v2"

	"hepar/journal"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

func journalList(e *env) *cli.Command {
	return command("list", "the batches, newest first", at(e, 0, 0, "", func(p *place) error {
		f := filterFrom(p)
		return p.ifKept(noBatchesYet, func() error { return listBatches(p, f) })
	}), append(filterFlags(), orderingFlags()...)...)
}

const (
	noBatchesYet = "no batches yet: hepar prepare RECIPE ... --save plans the first\n"
	noneFit      = "no batches yet, or none that fit\n"
)

const mostListed = 500

func listBatches(p *place, f journal.Filter) error {
	ends := f.Limit == 0 && !p.json
	if ends {
		f.Limit = mostListed + 1 // one more tells that there are more
	}
	lines := json.NewEncoder(p.out) // without a schema number: import reads them
	lines.SetEscapeHTML(false)
	t := table{head: []string{"batch", "day", "recipe", "alloy", "pcs", "good", "redo", "bad"},
		right: []bool{false, false, false, false, true, true, true, true}}
	more := false
	for b, err := range p.journal.List(f) {
		fault.Check(err)
		if p.json {
			if lines.Encode(b) != nil {
				return nil // flush says why, unless the reader has gone away
			}
			continue
		}
		if more = ends && len(t.rows) == mostListed; more {
			break
		}
		good, rework, reject, remarks := "", "", "", nonEmpty(string(b.State), b.Order)
		if r := b.Result; r != nil {
			good, rework, reject = fmt.Sprint(r.Good), fmt.Sprint(r.Rework), fmt.Sprint(r.Reject)
			remarks = nonEmpty(when(b.State == journal.Withdrawn, string(b.State)), causesText(r.Causes), r.Shade, r.Note, b.Order)
		}
		remarks = append(remarks, nonEmpty(wordsIf("without review: ", b.WithoutReview))...)
		t.add(b.Number, day(b), cut(b.Slug, 24), cut(b.Alloy, 18), fmt.Sprint(b.Pieces), good, rework, reject)
		t.remark(strings.Join(remarks, "; "))
	}
	switch {
	case p.json:
		return nil
	case len(t.rows) == 0:
		p.note(noneFit)
		return nil
	case more:
		p.note("there are more: --limit %d shows twice as many, --offset %d goes on from here\n", 2*mostListed, f.Offset+mostListed)
	}
	t.write(p.out, "")
	return nil
}

func day(b journal.Batch) string {
	if b.Result != nil {
		return b.Result.Logged.Day()
	}
	return b.Created.Day()
}

func nonEmpty(parts ...string) []string {
	return slices.DeleteFunc(parts, func(p string) bool { return p == "" })
}

func causesText(causes map[string]int) string {
	names := keys(causes)
	slices.SortStableFunc(names, func(a, b string) int { return causes[b] - causes[a] })
	return strings.Join(mapped(names, func(name string) string { return fmt.Sprintf("%s %d", name, causes[name]) }), ", ")
}

func resultText(b journal.Batch) string {
	if b.Result == nil {
		return string(b.State)
	}
	causes := causesText(b.Causes)
	return fmt.Sprintf("%d good, %d to rework, %d rejected of %d%s", b.Good, b.Rework, b.Reject, b.Pieces+b.Spares, when(causes != "", " ("+causes+")"))
}

func filterFlags() []cli.Flag {
	return []cli.Flag{
		text("recipe", "only this recipe"), text("kind", "only this finish: the kind that recipe list shows"), text("alloy", "only this metal"),
		text("state", "planned, reviewed, dipped, logged or withdrawn"),
		text("result", "good (nothing to do again), rework or reject"),
		text("cause", "only those with this cause"), text("person", "only what this person had a hand in"),
		text("lot", "only those that took from a container of this lot"), text("waste", "only those whose waste is in this container"),
		text("from", "opened from this day, month or year on, 2026-11-24"), text("to", "up to and with this day, month or year"),
		text("logged-from", "with a result from this day on"), text("logged-to", "with a result up to and with this day"),
		text("text", "only those with these words in a note, shade, order or number"),
	}
}

func orderingFlags() []cli.Flag {
	return []cli.Flag{
		text("sort", strings.Join(journal.Sorts(), ", ")), yes("reverse", "the other way round"),
		yes("oldest", "oldest first; newest first if not given"),
		text("limit", "at most so many"), text("offset", "leave out so many first"),
	}
}

// filterFrom reads the flags of filterFlags and orderingFlags.
func filterFrom(p *place) journal.Filter {
	c := p.Context
	f := journal.Filter{Recipe: c.String("recipe"), Kind: c.String("kind"), Alloy: c.String("alloy"), State: journal.State(c.String("state")),
		Result: c.String("result"), Cause: c.String("cause"), By: c.String("person"), Lot: c.String("lot"), Waste: c.String("waste"),
		Text: c.String("text"), Sort: c.String("sort"), Reverse: c.Bool("reverse") != c.Bool("oldest")}
	for _, name := range []string{"recipe", "kind", "alloy", "state", "result", "cause", "person", "lot", "waste", "text", "sort"} {
		refuse(c.IsSet(name) && strings.TrimSpace(c.String(name)) == "",
			fault.Usagef("it is empty").At("--"+name).Try("name what to look for, or leave it out"))
	}
	fault.Must(f.Clean())
	refuse(c.Bool("oldest") && f.Sort != "" && f.Sort != journal.SortOrder,
		fault.Usagef("it contradicts --sort %s", f.Sort).At("--oldest").
			Try("leave one of the two out; --reverse turns any order round"))
	f.From, f.To = dateSpan(p, "from", "to")
	f.Since, f.Until = dateSpan(p, "logged-from", "logged-to")
	fault.Check(cmp.Or(take(c, "limit", atLeastOne, &f.Limit), take(c, "offset", countUpTo(0, 1_000_000_000), &f.Offset)))
	return f
}

// period is a year, a month, a day or a moment: when it begins, and what comes after it.
type period struct{ begins, ends time.Time }

// dateSpan reads two flags that are the first and the last day of a span, and returns its
// beginning and what comes after its end.
func dateSpan(p *place, first, last string) (begins, ends time.Time) {
	var a, b period
	parse := func(text string) (period, error) { return parsePeriod(text, p.now()) }
	fault.Check(cmp.Or(take(p.Context, first, parse, &a), take(p.Context, last, parse, &b)))
	refuse(!a.begins.IsZero() && !b.ends.IsZero() && !a.begins.Before(b.ends),
		fault.Usagef("it is after --%s", last).At("--"+first).Try("put the earlier day at --%s", first))
	return a.begins, b.ends
}

func parsePeriod(text string, now time.Time) (period, error) {
	for form, more := range map[string][3]int{"2006": {1, 0, 0}, "2006-01": {0, 1, 0}, time.DateOnly: {0, 0, 1}} {
		if t, err := time.ParseInLocation(form, text, now.Location()); err == nil {
			return period{t, t.AddDate(more[0], more[1], more[2])}, nil
		}
	}
	t, err := parseWhen(text, now.AddDate(100, 0, 0))
	if err != nil {
		err = fault.Usagef("%q is not a day", measure.Clean(text)).Try("write 2026-11-24, a month 2026-11, a year 2026, or a time 2026-11-24T16:30")
	}
	return period{t, t.Add(time.Nanosecond)}, err
}

func journalSum(e *env) *cli.Command {
	return command("sum", "counts, totals and means, of all batches or by what they have in common",
		at(e, 0, 0, "", runSum),
		append(filterFlags(), text("per", strings.Join(journal.Pers(), ", ")+"; all together if not given"))...)
}

func runSum(p *place) error {
	f := filterFrom(p)
	per := p.String("per")
	refuse(p.IsSet("per") && !slices.Contains(journal.Pers(), per),
		fault.Usagef("the journal has no sum by %q", measure.Clean(per)).At("--per").Try("write one of %s", strings.Join(journal.Pers(), ", ")))
	return p.ifKept(noBatchesYet, func() error {
		groups, err := p.journal.Sum(f, per)
		t := table{head: []string{cmp.Or(per, "all"), "batches", "good", "rework", "reject", "missing", "yield", "bath", "dip"},
			right: []bool{false, true, true, true, true, true, true, true, true}}
		return list(p.env, groups, err, noneFit, t, func(t *table, g journal.Group) { addSum(t, p.units, per, g) })
	})
}

// addSum adds a row for a group, and below it the causes and the batches that the figures
// are not of.
func addSum(t *table, u measure.System, per string, g journal.Group) {
	yield := cmp.Or(textOf(g.Yield, func(share float64) string { return measure.Round(share*100, 1) + " %" }), "-")
	bath, dip := "-", "-"
	if m, ok := g.Means["temperature_c"]; ok {
		bath = u.Temperature(measure.Celsius(m.Mean))
	}
	if m, ok := g.Means["time_s"]; ok {
		dip = u.Time(measure.Seconds(m.Mean))
	}
	t.add(cut(when(per != "", cmp.Or(g.Key, "-")), 28), fmt.Sprint(g.Batches), fmt.Sprint(g.Good), fmt.Sprint(g.Rework), fmt.Sprint(g.Reject), fmt.Sprint(g.Missing), yield, bath, dip)
	remarks := nonEmpty(causesText(g.Causes))
	for _, but := range []struct {
		n    int
		what string
	}{{g.Batches - g.Logged - g.Withdrawn, "not logged yet"}, {g.Withdrawn, "withdrawn"}, {g.WithoutReview, "without a valid review"}} {
		if but.n > 0 {
			remarks = append(remarks, measure.Grouped(but.n)+" "+but.what)
		}
	}
	t.remark(strings.Join(remarks, "; "))
}
