package main

import (
	"fmt"
	"sort"
	"strings"

	"github.com/urfave/cli/v2"

	"hepar/journal"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

func journalCommand(e *env) *cli.Command {
	return &cli.Command{
		Name: "journal", Usage: "the batches: list, show, amend, export, verify, backup",
		Subcommands: []*cli.Command{journalList(e), journalShow(e), journalAmend(e), journalExport(e), journalWaste(e), journalPhoto(e), journalSign(e), journalWithdraw(e), journalVerify(e), journalBackup(e), journalRestore(e), journalSalvage(e), journalCompact(e)},
	}
}

// filterFlags choose batches.
func filterFlags() []cli.Flag {
	text := func(name, usage string) cli.Flag { return &cli.StringFlag{Name: name, Usage: usage} }
	return []cli.Flag{
		text("recipe", "only this recipe"), text("alloy", "only this metal"),
		text("state", "planned, reviewed, dipped, logged or withdrawn"),
		text("result", "good (nothing to do again), rework or reject"),
		text("cause", "only those with this cause"), text("person", "only what this person did"),
		text("from", "from this day on, 2026-11-24"), text("to", "up to and with this day"),
		text("text", "only those with these words in a note, shade or number"),
		text("limit", "at most so many"), text("offset", "leave out so many first"),
		&cli.BoolFlag{Name: "oldest", Usage: "oldest first; newest first if not given"},
	}
}

func filterFrom(e *env, c *cli.Context) (journal.Filter, error) {
	f := journal.Filter{Recipe: c.String("recipe"), Alloy: c.String("alloy"), State: journal.State(c.String("state")),
		Result: c.String("result"), Cause: c.String("cause"), By: c.String("person"), Text: c.String("text"), Reverse: c.Bool("oldest")}
	switch f.State {
	case "", journal.Planned, journal.Reviewed, journal.Dipped, journal.Logged, journal.Withdrawn:
	default:
		return f, fault.Usagef("%q is not a state", measure.Clean(string(f.State))).At("--state").Try("write planned, reviewed, dipped, logged or withdrawn")
	}
	switch f.Result {
	case "", "good", "rework", "reject":
	default:
		return f, fault.Usagef("%q is not a result", measure.Clean(f.Result)).At("--result").Try("write good, rework or reject")
	}
	now := e.now()
	if c.IsSet("from") {
		t, err := parseWhen(c.String("from"), now.AddDate(100, 0, 0))
		if err != nil {
			return f, atFlag("from", err)
		}
		f.From = t
	}
	if c.IsSet("to") {
		t, err := parseWhen(c.String("to"), now.AddDate(100, 0, 0))
		if err != nil {
			return f, atFlag("to", err)
		}
		if !strings.Contains(c.String("to"), ":") {
			t = t.AddDate(0, 0, 1) // the whole of that day
		}
		f.To = t
	}
	if !f.To.IsZero() && f.From.After(f.To) {
		return f, fault.Usagef("it lies after --to").At("--from").Try("put the earlier day at --from")
	}
	if err := take(c, "limit", atLeastOne, &f.Limit); err != nil {
		return f, err
	}
	return f, take(c, "offset", countUpTo(1_000_000_000), &f.Offset)
}

func journalList(e *env) *cli.Command {
	return &cli.Command{
		Name: "list", Usage: "the batches, newest first",
		Description: `Lists batches, newest first. --json prints one object a line.

EXAMPLES
   hepar journal list --recipe silver-black --from 2026-01-01
   hepar journal list --result reject --cause spots`,
		Flags: filterFlags(),
		Action: at(e, 0, 0, "", func(c *cli.Context, p *place) error {
			f, err := filterFrom(e, c)
			if err != nil {
				return err
			}
			if none, err := noJournalYet(c, p); none || err != nil {
				e.note("no batches yet: hepar prepare ... --save plans the first\n")
				return err
			}
			return runList(e, p, f)
		}),
	}
}

// noJournalYet tells whether this is a new home, where nothing was kept so far. A
// journal named by hand has to be there.
func noJournalYet(c *cli.Context, p *place) (bool, error) {
	if c.String("journal") != "" {
		return false, nil
	}
	there, err := p.journal.Exists()
	return !there, err
}

func runList(e *env, p *place, f journal.Filter) error {
	t := table{head: []string{"batch", "day", "recipe", "alloy", "pieces", "good", "rework", "reject"},
		right: []bool{false, false, false, false, true, true, true, true}}
	for b, err := range p.journal.List(f) {
		if err != nil {
			return err
		}
		if e.json {
			if err := e.printJSON(b.View()); err != nil {
				return err
			}
			continue
		}
		good, rework, reject, remarks := "", "", "", nonEmpty(string(b.State), b.Note)
		if r := b.Result; r != nil {
			good, rework, reject = fmt.Sprint(r.Good), fmt.Sprint(r.Rework), fmt.Sprint(r.Reject)
			remarks = nonEmpty(causesText(r.Causes), r.Shade, r.Note, b.Note)
			if b.State == journal.Withdrawn {
				remarks = append([]string{string(b.State)}, remarks...)
			}
		}
		t.add(b.Number, day(b), cut(b.Recipe.Slug, 24), cut(b.Alloy, 18), fmt.Sprint(b.Pieces), good, rework, reject)
		t.remark(strings.Join(remarks, "; "))
	}
	if e.json {
		return nil
	}
	if len(t.rows) == 0 {
		e.note("no batches yet, or none that fit\n")
		return nil
	}
	t.write(e.out, "")
	return nil
}

func day(b journal.Batch) string {
	if !b.Logged.IsZero() {
		return b.Logged.Format("2006-01-02")
	}
	return b.Created.Format("2006-01-02")
}

func nonEmpty(parts ...string) []string {
	var out []string
	for _, p := range parts {
		if p != "" {
			out = append(out, p)
		}
	}
	return out
}

func causesText(causes map[string]int) string {
	names := keys(causes)
	sort.SliceStable(names, func(i, j int) bool { return causes[names[i]] > causes[names[j]] })
	for i, n := range names {
		names[i] = fmt.Sprintf("%s %d", n, causes[n])
	}
	return strings.Join(names, ", ")
}

// resultText says a result in words.
func resultText(b journal.Batch) string {
	r := b.Result
	if r == nil {
		return string(b.State)
	}
	text := fmt.Sprintf("%d good, %d to rework, %d rejected of %d", r.Good, r.Rework, r.Reject, b.Pieces+b.Spares)
	if c := causesText(r.Causes); c != "" {
		text += " (" + c + ")"
	}
	return text
}

func journalExport(e *env) *cli.Command {
	return &cli.Command{
		Name: "export", Usage: "write the batches as CSV or JSON Lines",
		Description: `Writes batches for a spreadsheet (csv, units in the header) or a program (jsonl).

EXAMPLES
   hepar journal export --format csv > batches.csv
   hepar journal export --format jsonl --recipe silver-black`,
		Flags: append(filterFlags(), &cli.StringFlag{Name: "format", Value: "csv", Usage: "csv or jsonl"}),
		Action: func(c *cli.Context) error {
			if err := arguments(c, 0, 0, ""); err != nil {
				return err
			}
			format := c.String("format")
			if format != "csv" && format != "jsonl" {
				return fault.Usagef("%q is not a format", measure.Clean(format)).At("--format").Try("write csv or jsonl")
			}
			p, err := openPlace(e, c)
			if err != nil {
				return err
			}
			f, err := filterFrom(e, c)
			if err != nil {
				return err
			}
			n, err := p.journal.Export(e.out, format, f)
			if err != nil {
				return err
			}
			e.note("%d batches written\n", n)
			return nil
		},
	}
}

func journalVerify(e *env) *cli.Command {
	return &cli.Command{
		Name: "verify", Usage: "prove that nothing was altered, dropped or damaged",
		Action: at(e, 0, 0, "", func(c *cli.Context, p *place) error {
			report, err := p.journal.Verify()
			if err != nil {
				return err
			}
			if e.json {
				if err := e.printJSON(report); err != nil {
					return err
				}
			} else {
				for _, f := range report.Findings {
					e.say("%s", wrap("  ! ", f.Where+": "+f.What))
				}
			}
			if len(report.Findings) > 0 {
				return damaged(p, len(report.Findings))
			}
			if !e.json {
				e.say("nothing wrong found: %d batches, %d events, the chain and every checksum agree\n", report.Batches, report.Events)
			}
			return nil
		}),
	}
}
