package main

import (
	"io"

	"github.com/urfave/cli/v2"

	"hepar/journal"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

func journalExport(e *env) *cli.Command {
	return &cli.Command{
		Name: "export", Usage: "write the batches as CSV or JSON Lines",
		Description: `Writes batches for a spreadsheet (csv, units in the headings) or a program (jsonl: everything,
one object a line). With --whole each line has the text of its recipe and its sheet as well, so
that journal import elsewhere makes the same journal of it.

EXAMPLES
   hepar journal export --format csv > batches.csv
   hepar journal export --format jsonl --whole > batches.jsonl
   hepar journal export --format jsonl --recipe silver-black --from 2026
   hepar journal export --schema`,
		Flags: append(append(filterFlags(), orderingFlags()...), &cli.StringFlag{Name: "format", Value: "csv", Usage: "csv or jsonl"},
			&cli.BoolFlag{Name: "whole", Usage: "jsonl with the text of each recipe and sheet"},
			&cli.BoolFlag{Name: "schema", Usage: "print the JSON Schema of a line of jsonl"}),
		Action: at(e, 0, 0, "", func(c *cli.Context, p *place) error {
			if c.Bool("schema") {
				_, err := e.out.Write(journal.Schema())
				return err
			}
			if none, err := noJournalYet(c, p); none || err != nil {
				e.note(noBatchesYet)
				return err
			}
			return runExport(e, c, p)
		}),
	}
}

func runExport(e *env, c *cli.Context, p *place) error {
	format, err := exportFormat(e, c)
	if err != nil {
		return err
	}
	f, err := filterFrom(e, c)
	if err != nil {
		return err
	}
	if f.Frozen = c.Bool("whole"); f.Frozen && format != journal.JSONLines {
		return fault.Usagef("a table cannot hold recipes and sheets").At("--whole").Try("write --format jsonl --whole")
	}
	told := newProgress(e, "KiB written")
	n, err := p.journal.Export(&counted{Writer: e.out, each: told.tell}, format, f)
	told.end()
	if err == nil {
		e.note("%s written\n", batchesText(n))
	}
	return err
}

// exportFormat reads the format of an export; --json asks for lines of JSON.
func exportFormat(e *env, c *cli.Context) (string, error) {
	format := c.String("format")
	switch {
	case format != journal.CSV && format != journal.JSONLines:
		return "", fault.Usagef("%q is not a format", measure.Clean(format)).At("--format").Try("write csv or jsonl")
	case e.json && c.IsSet("format") && format != journal.JSONLines:
		return "", fault.Usagef("--format csv contradicts --json").At("--format").Try("leave one of the two out")
	case e.json:
		return journal.JSONLines, nil
	}
	return format, nil
}

// counted tells how many KiB went through.
type counted struct {
	io.Writer
	bytes int
	each  func(kib int)
}

func (w *counted) Write(b []byte) (int, error) {
	n, err := w.Writer.Write(b)
	w.bytes += n
	w.each(w.bytes >> 10)
	return n, err
}

func batchesText(n int) string { return isOrAre(n, "batch", "batches") }
