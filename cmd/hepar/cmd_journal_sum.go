package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"hepar/journal"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

func journalSum(e *env) *cli.Command {
	return &cli.Command{
		Name: "sum", Usage: "counts, totals and means, of all batches or by what they have in common",
		Description: `Adds up the batches that the flags choose. Pieces and means are those of logged batches;
withdrawn ones are only counted. --json prints one object a line.

EXAMPLES
   hepar journal sum --per recipe --from 2026
   hepar journal sum --per month --recipe silver-black
   hepar journal sum --per person --result reject`,
		Flags: append(filterFlags(), &cli.StringFlag{Name: "per", Usage: strings.Join(journal.Pers(), ", ") + "; all together if not given"}),
		Action: at(e, 0, 0, "", func(c *cli.Context, p *place) error {
			f, err := filterFrom(e, c)
			if err != nil {
				return err
			}
			per := c.String("per")
			if c.IsSet("per") && !slices.Contains(journal.Pers(), per) {
				return fault.Usagef("a sum cannot be by %q", measure.Clean(per)).At("--per").Try("write one of %s", strings.Join(journal.Pers(), ", "))
			}
			if none, err := noJournalYet(c, p); none || err != nil {
				e.note(noBatchesYet)
				return err
			}
			groups, err := p.journal.Sum(f, per)
			if err != nil {
				return err
			}
			return printSums(e, p.units, per, groups)
		}),
	}
}

// printSums prints a row for each group, and below it the causes and the batches
// that the figures are not of.
func printSums(e *env, u measure.System, per string, groups []journal.Group) error {
	t := table{head: []string{orElse(per, "all"), "batches", "good", "rework", "reject", "missing", "yield", "bath", "dip"},
		right: []bool{false, true, true, true, true, true, true, true, true}}
	for _, g := range groups {
		if e.json {
			if err := e.printJSON(g); err != nil {
				return err
			}
			continue
		}
		yield, bath, dip := "-", "-", "-"
		if g.Yield != nil {
			yield = measure.Round(*g.Yield*100, 1) + " %"
		}
		if m, ok := g.Means["temperature_c"]; ok {
			bath = u.Temperature(measure.Celsius(m.Mean))
		}
		if m, ok := g.Means["time_s"]; ok {
			dip = u.Time(measure.Seconds(m.Mean))
		}
		name := orElse(g.Key, "-")
		if per == "" {
			name = ""
		}
		t.add(cut(name, 28), fmt.Sprint(g.Batches), fmt.Sprint(g.Good), fmt.Sprint(g.Rework), fmt.Sprint(g.Reject), fmt.Sprint(g.Missing), yield, bath, dip)
		remarks := nonEmpty(causesText(g.Causes))
		if open := g.Batches - g.Logged - g.Withdrawn; open > 0 {
			remarks = append(remarks, fmt.Sprintf("%s not logged yet", grouped(open)))
		}
		if g.Withdrawn > 0 {
			remarks = append(remarks, fmt.Sprintf("%s withdrawn", grouped(g.Withdrawn)))
		}
		if g.WithoutReview > 0 {
			remarks = append(remarks, fmt.Sprintf("%s without a valid review", grouped(g.WithoutReview)))
		}
		t.remark(strings.Join(remarks, "; "))
	}
	switch {
	case e.json:
	case len(t.rows) == 0:
		e.note("no batches yet, or none that fit\n")
	default:
		t.write(e.out, "")
	}
	return nil
}
