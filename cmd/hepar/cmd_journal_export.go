package main

import (
	"cmp"
	"io"
	"slices"

	"github.com/urfave/cli/v2"

	"hepar/journal"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

func journalExport(e *env) *cli.Command {
	return command("export", "write the batches as CSV or JSON Lines",
		at(e, 0, 0, "", func(p *place) error {
			return export(p, journal.Schema, noBatchesYet, func(format string) error { return exportBatches(p, format) })
		}),
		slices.Concat(filterFlags(), orderingFlags(), []cli.Flag{&cli.StringFlag{Name: "format", Value: "csv", Usage: "csv or jsonl"},
			yes("whole", "jsonl with the text of each recipe and sheet"), yes("schema", "print the JSON Schema of a line of jsonl")})...)
}

func exportBatches(p *place, format string) error {
	f := filterFrom(p)
	if f.Frozen = p.Bool("whole"); f.Frozen && format != journal.JSONLines {
		return fault.Usagef("a table cannot hold recipes and sheets").At("--whole").Try("write --format jsonl --whole")
	}
	bytes, tell := 0, p.progress("KiB written")
	n := fault.Must(p.journal.Export(io.MultiWriter(p.out, counter(func(n int) {
		bytes += n
		tell(bytes >> 10)
	})), format, f))
	p.note("%s written\n", batchesText(n))
	return nil
}

// export prints the schema of an export where it is asked for, or has it written in the
// format that the flags name; --json asks for lines of JSON.
func export(p *place, schema string, none string, write func(format string) error) error {
	if p.Bool("schema") {
		_, err := io.WriteString(p.out, schema)
		return err
	}
	fault.Check(oneOf(p.Context, "format", "a format", journal.CSV, journal.JSONLines))
	format := cmp.Or(p.String("format"), journal.CSV)
	refuse(p.json && p.IsSet("format") && format != journal.JSONLines,
		fault.Usagef("csv contradicts --json").At("--format").Try("leave one of the two out"))
	return p.ifKept(none, func() error { return write(either(p.json, journal.JSONLines, format)) })
}

// counter hears how many bytes go through.
type counter func(bytes int)

func (c counter) Write(b []byte) (int, error) {
	c(len(b))
	return len(b), nil
}

func batchesText(n int) string { return measure.Counted(n, "batch", "batches") }
