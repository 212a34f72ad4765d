package main

import (
	"cmp"
	"io"
	"slices"

	"github.com/urfave/cli/v2"

	"hepar/journal"
	"hepar/recipe/fault"
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
		Flags: slices.Concat(filterFlags(), orderingFlags(), []cli.Flag{&cli.StringFlag{Name: "format", Value: "csv", Usage: "csv or jsonl"},
			yes("whole", "jsonl with the text of each recipe and sheet"), yes("schema", "print the JSON Schema of a line of jsonl")}),
		Action: at(e, 0, 0, "", func(p *place) error {
			return export(p, journal.Schema, noBatchesYet, func(format string) error { return exportBatches(p, format) })
		}),
	}
}

func exportBatches(p *place, format string) error {
	f, err := filterFrom(p)
	if err != nil {
		return err
	}
	if f.Frozen = p.Bool("whole"); f.Frozen && format != journal.JSONLines {
		return fault.Usagef("a table cannot hold recipes and sheets").At("--whole").Try("write --format jsonl --whole")
	}
	told := newProgress(p.env, "KiB written")
	n, err := p.journal.Export(&counted{Writer: p.out, each: told.tell}, format, f)
	told.end()
	if err == nil {
		p.note("%s written\n", batchesText(n))
	}
	return err
}

// export prints the schema of an export where it is asked for, or has it written in the
// format that the flags name; --json asks for lines of JSON.
func export(p *place, schema string, none string, write func(format string) error) error {
	if p.Bool("schema") {
		_, err := io.WriteString(p.out, schema)
		return err
	}
	if err := oneOf(p.Context, "format", "a format", journal.CSV, journal.JSONLines); err != nil {
		return err
	}
	format := cmp.Or(p.String("format"), journal.CSV)
	if p.json && p.IsSet("format") && format != journal.JSONLines {
		return fault.Usagef("--format csv contradicts --json").At("--format").Try("leave one of the two out")
	}
	return p.ifKept(none, func() error { return write(either(p.json, journal.JSONLines, format)) })
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
