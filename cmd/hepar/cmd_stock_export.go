package main

import (
	"github.com/urfave/cli/v2"

	"hepar/journal"
)

func stockExport(e *env) *cli.Command {
	return &cli.Command{
		Name: "export", Usage: "write the shelf as CSV or JSON Lines",
		Description: `Writes every jar, the empty ones as well, for a spreadsheet (csv) or a program (jsonl, with all
that happened to it). journal import reads the lines of jsonl.

EXAMPLES
   hepar stock export --format csv > shelf.csv
   hepar stock export --format jsonl --substance liver-of-sulfur
   hepar stock export --schema`,
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "format", Value: journal.CSV, Usage: "csv or jsonl"},
			&cli.StringFlag{Name: "substance", Usage: "only this one"},
			&cli.StringFlag{Name: "lot", Usage: "only this lot"},
			&cli.BoolFlag{Name: "schema", Usage: "print the JSON Schema of a line of jsonl"},
		},
		Action: at(e, 0, 0, "", func(c *cli.Context, p *place) error {
			if c.Bool("schema") {
				_, err := e.out.Write(journal.ContainerSchema())
				return err
			}
			format, err := exportFormat(e, c)
			if err != nil {
				return err
			}
			if none, err := noJournalYet(c, p); none || err != nil {
				e.note(noJarsYet)
				return err
			}
			n, err := p.journal.ExportContainers(e.out, format, journal.ContainerFilter{Substance: c.String("substance"), Lot: c.String("lot"), Empty: true})
			if err == nil {
				e.note("%s written\n", plural(n, "jar"))
			}
			return err
		}),
	}
}
