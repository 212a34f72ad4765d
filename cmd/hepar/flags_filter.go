package main

import (
	"strings"
	"time"

	"github.com/urfave/cli/v2"

	"hepar/journal"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// filterFlags choose batches.
func filterFlags() []cli.Flag {
	text := func(name, usage string) cli.Flag { return &cli.StringFlag{Name: name, Usage: usage} }
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

// orderingFlags say in which order batches come, and which part of them.
func orderingFlags() []cli.Flag {
	text := func(name, usage string) cli.Flag { return &cli.StringFlag{Name: name, Usage: usage} }
	return []cli.Flag{
		text("sort", strings.Join(journal.Sorts(), ", ")), &cli.BoolFlag{Name: "reverse", Usage: "the other way round"},
		&cli.BoolFlag{Name: "oldest", Usage: "oldest first; newest first if not given"},
		text("limit", "at most so many"), text("offset", "leave out so many first"),
	}
}

// filterFrom reads the flags of filterFlags and orderingFlags.
func filterFrom(e *env, c *cli.Context) (journal.Filter, error) {
	f := journal.Filter{Recipe: c.String("recipe"), Kind: c.String("kind"), Alloy: c.String("alloy"), State: journal.State(c.String("state")),
		Result: c.String("result"), Cause: c.String("cause"), By: c.String("person"), Lot: c.String("lot"), Waste: c.String("waste"),
		Text: c.String("text"), Sort: c.String("sort"), Reverse: c.Bool("reverse") != c.Bool("oldest")}
	for _, name := range []string{"recipe", "kind", "alloy", "state", "result", "cause", "person", "lot", "waste", "text", "sort"} {
		if c.IsSet(name) && strings.TrimSpace(c.String(name)) == "" {
			return f, fault.Usagef("it is empty").At("--" + name).Try("name what to look for, or leave it out")
		}
	}
	if f, err := f.Clean(); err != nil {
		return f, err
	}
	if c.Bool("oldest") && f.Sort != "" && f.Sort != journal.SortOrder {
		return f, fault.Usagef("it asks for another order than --sort %s", f.Sort).At("--oldest").Try("leave one of the two out; --reverse turns any order round")
	}
	err := dateSpan(e, c, "from", "to", &f.From, &f.To)
	if err == nil {
		err = dateSpan(e, c, "logged-from", "logged-to", &f.Since, &f.Until)
	}
	if err == nil {
		err = take(c, "limit", atLeastOne, &f.Limit)
	}
	if err == nil {
		err = take(c, "offset", countUpTo(1_000_000_000), &f.Offset)
	}
	return f, err
}

// dateSpan reads two flags that are the first and the last day of a span, and gives its
// beginning and what comes after its end.
func dateSpan(e *env, c *cli.Context, first, last string, from, to *time.Time) error {
	for _, flag := range []string{first, last} {
		if !c.IsSet(flag) {
			continue
		}
		begins, ends, err := dayOrMore(c.String(flag), e.now())
		if err != nil {
			return atFlag(flag, err)
		}
		if flag == first {
			*from = begins
		} else {
			*to = ends
		}
	}
	if !from.IsZero() && !to.IsZero() && !from.Before(*to) {
		return fault.Usagef("it lies after --%s", last).At("--"+first).Try("put the earlier day at --%s", first)
	}
	return nil
}

// dayOrMore reads a year, a month, a day or a time at the bench, and gives when it
// begins and what comes after it.
func dayOrMore(text string, now time.Time) (begins, ends time.Time, err error) {
	for form, more := range map[string][3]int{"2006": {1, 0, 0}, "2006-01": {0, 1, 0}, time.DateOnly: {0, 0, 1}} {
		if t, err := time.ParseInLocation(form, text, now.Location()); err == nil {
			return t, t.AddDate(more[0], more[1], more[2]), nil
		}
	}
	t, err := parseWhen(text, now.AddDate(100, 0, 0))
	if err != nil {
		err = fault.Usagef("%q is not a day", measure.Clean(text)).Try("write 2026-11-24, a month 2026-11, a year 2026, or a time 2026-11-24T16:30")
	}
	return t, t.Add(time.Nanosecond), err
}
