package main

import (
	"cmp"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"time"

	"hepar/journal"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

func journalList(e *env) *verb {
	var f journal.Filter
	return command("list", "the batches, newest first", at(e, func(p *place) {
		checkFilter(p, &f)
		p.ifKept(noBatchesYet)
		listBatches(p, f)
	}), append(filterFlags(e, &f), orderingFlags(&f)...)...)
}

const (
	noBatchesYet = "no batches yet; plan the first: hepar prepare RECIPE ... --save\n"
	noneFit      = "no batches yet, or none that match\n"
)

const mostListed = 500

func listBatches(p *place, f journal.Filter) {
	ends := f.Limit == 0 && !p.json
	if ends {
		f.Limit = mostListed + 1 // one more tells that there are more
	}
	lines := json.NewEncoder(p.out) // without a schema number: import reads them
	lines.SetEscapeHTML(false)
	t := table{head: []string{"batch", "day", "recipe", "alloy", "pieces", "good", "rework", "reject"},
		right: []bool{false, false, false, false, true, true, true, true}}
	more := false
	for b, err := range p.journal.List(f) {
		fault.Check(err)
		if p.json {
			if lines.Encode(b) != nil {
				return // flush says why, unless the reader has gone away
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
		day := cmp.Or(textOf(b.Result, func(r journal.Result) string { return r.Logged.Day() }), b.Created.Day())
		t.add(b.Number, day, cut(b.Slug, 24), cut(b.Alloy, 18), fmt.Sprint(b.Pieces), good, rework, reject)
		t.remark(strings.Join(remarks, "; "))
	}
	switch {
	case p.json:
	case len(t.rows) == 0:
		p.note(noneFit)
	default:
		p.note("%s", when(more, fmt.Sprintf("there are more: --limit %d shows twice as many, --offset %d goes on from here\n", 2*mostListed, f.Offset+mostListed)))
		t.write(p.out, "")
	}
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

func filterFlags(e *env, f *journal.Filter) []option {
	begins := func(text string) (time.Time, error) {
		begins, _, err := parsePeriod(text, e.now())
		return begins, err
	}
	ends := func(text string) (time.Time, error) {
		_, ends, err := parsePeriod(text, e.now())
		return ends, err
	}
	return []option{
		text("recipe", "RECIPE: only this recipe", &f.Recipe), text("kind", "KIND: only this kind of recipe, as recipe list shows it", &f.Kind), text("alloy", "METAL: only this metal", &f.Alloy),
		text("state", "STATE: planned, reviewed, dipped, logged or withdrawn", (*string)(&f.State)),
		text("result", "RESULT: good (no rework and no reject), rework or reject", &f.Result),
		text("cause", "CAUSE: only batches with this cause", &f.Cause), text("person", "NAME: only batches in which this person took part", &f.By),
		text("lot", "LOT: only batches that used a jar of this lot", &f.Lot), text("waste", "CONTAINER: only batches with waste in this container", &f.Waste),
		value("from", "DATE: created on or after this day, month or year, 2026-11-24", begins, &f.From), value("to", "DATE: created up to the end of this day, month or year", ends, &f.To),
		value("logged-from", "DATE: with a result on or after this day", begins, &f.Since), value("logged-to", "DATE: with a result up to the end of this day", ends, &f.Until),
		text("text", "TEXT: only batches with these words in a note, shade, order or number", &f.Text),
	}
}

func orderingFlags(f *journal.Filter) []option {
	return []option{
		text("sort", strings.Join(journal.Sorts(), ", "), &f.Sort), yes("reverse", "reverse the order"),
		yes("oldest", "list the oldest first (default: the newest first)"),
		value("limit", "COUNT: list at most this many", atLeastOne, &f.Limit), value("offset", "COUNT: skip this many at the start", countUpTo(0, 1_000_000_000), &f.Offset),
	}
}

// checkFilter checks what the flags of filterFlags and orderingFlags say together.
func checkFilter(p *place, f *journal.Filter) {
	fault.Must(f.Clean())
	f.Reverse = p.Bool("reverse") != p.Bool("oldest")
	refuse(p.Bool("oldest") && f.Sort != "" && f.Sort != journal.SortOrder,
		fault.Usagef("it contradicts --sort %s", f.Sort).At("--oldest").
			Try("leave out one of the two; --reverse reverses any order"))
}

// parsePeriod tells when a year, a month, a day or a moment begins, and what comes after it.
func parsePeriod(text string, now time.Time) (begins, ends time.Time, err error) {
	for form, more := range map[string][3]int{"2006": {1, 0, 0}, "2006-01": {0, 1, 0}, time.DateOnly: {0, 0, 1},
		time.RFC3339: {}, time.DateTime: {}, "2006-01-02 15:04": {}, "2006-01-02T15:04": {}} {
		if t, err := time.ParseInLocation(form, text, now.Location()); err == nil {
			return t, either(more == [3]int{}, t.Add(time.Nanosecond), t.AddDate(more[0], more[1], more[2])), nil
		}
	}
	return begins, ends, fault.Usagef("%q is not a day", measure.Clean(text)).Try("write 2026-11-24, a month 2026-11, a year 2026, or a time 2026-11-24T16:30")
}

func journalSum(e *env) *verb {
	var f journal.Filter
	var per string
	return command("sum", "counts, totals and means, of all batches or by what they have in common", at(e, func(p *place) {
		checkFilter(p, &f)
		p.ifKept(noBatchesYet)
		t := table{head: []string{cmp.Or(per, "all"), "batches", "good", "rework", "reject", "missing", "yield", "bath", "dip"},
			right: []bool{false, true, true, true, true, true, true, true, true}}
		list(p.env, fault.Must(p.journal.Sum(f, per)), noneFit, t, func(t *table, g journal.Group) { addSum(t, p.units, per, g) })
	}), append(filterFlags(e, &f), value("per", strings.Join(journal.Pers(), ", ")+" (default: all together)", oneOf("a way to sum", journal.Pers()...), &per))...)
}

// addSum adds a row for a group, and below it the causes and the batches that the figures
// are not of.
func addSum(t *table, u measure.System, per string, g journal.Group) {
	yield := cmp.Or(textOf(g.Yield, func(share float64) string { return measure.Round(share*100, 1) + " %" }), "-")
	mean := func(key, unit string) string {
		m, ok := g.Means[key]
		return either(ok, figure(u, unit, m.Mean), "-")
	}
	t.add(cut(when(per != "", cmp.Or(g.Key, "-")), 28), fmt.Sprint(g.Batches), fmt.Sprint(g.Good), fmt.Sprint(g.Rework), fmt.Sprint(g.Reject), fmt.Sprint(g.Missing), yield, mean("temperature_c", "C"), mean("time_s", "s"))
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
