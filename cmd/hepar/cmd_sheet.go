package main

import (
	"encoding/json"

	"github.com/urfave/cli/v2"

	"hepar/journal"
	"hepar/recipe"
	"hepar/recipe/bath"
	"hepar/recipe/bath/page"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

func sheetCommand(e *env) *cli.Command {
	return &cli.Command{
		Name: "sheet", Usage: "write the sheet of a saved batch as one page for the wall", ArgsUsage: "BATCH",
		Description: `Writes one page of paper: what to weigh, loads with boxes and lines to write on, the
bath's curve, the steps, and the number as a code to scan. Print it from a browser.

EXAMPLES
   hepar sheet last --output sheet.html
   hepar sheet 2026-014 --output sheet.html --letter`,
		Flags: pageFlags(),
		Action: func(c *cli.Context) error {
			if err := arguments(c, 1, 1, "the number of a batch"); err != nil {
				return err
			}
			if !c.IsSet("output") {
				return fault.Usagef("--output is required").Try("write --output sheet.html")
			}
			p, err := openPlace(e, c)
			if err != nil {
				return err
			}
			b, err := p.journal.Get(c.Args().First())
			if err != nil {
				return err
			}
			d, r, err := frozenDocument(b)
			if err != nil {
				return err
			}
			return writePage(e, c, p.units, d, r)
		},
	}
}

func pageFlags() []cli.Flag {
	return []cli.Flag{
		&cli.StringFlag{Name: "output", Usage: "FILE: the page to write, as in sheet.html; never overwrites one"},
		&cli.BoolFlag{Name: "letter", Usage: "US Letter instead of A4"},
	}
}

// frozenDocument reads the sheet and the recipe that a batch was saved with.
func frozenDocument(b journal.Batch) (document, *recipe.Recipe, error) {
	d := document{Sheet: &bath.Sheet{}}
	if len(b.Sheet) == 0 {
		return d, nil, fault.Failuref("batch %s was logged without a sheet", b.Number).Try("plan one: hepar prepare %s ... --save", b.Slug)
	}
	if err := json.Unmarshal(b.Sheet, &d); err != nil {
		return d, nil, fault.Damagedf("the sheet of batch %s cannot be read", b.Number).Because(err).Try("run hepar journal verify")
	}
	r, findings := recipe.Decode(b.Slug+".toml", []byte(b.Text))
	if r == nil {
		return d, nil, fromFindings(b.Slug, findings)
	}
	d.Number, d.Order = b.Number, b.Order
	return d, r, nil
}

// writePage writes the paper of a sheet.
func writePage(e *env, c *cli.Context, u measure.System, d document, r *recipe.Recipe) error {
	html, err := page.Sheet(d.Sheet, r, page.Options{Number: d.Number, Order: d.Order, Last: d.LastTime, Letter: c.Bool("letter"), Units: u})
	if err != nil {
		return err
	}
	file := c.String("output")
	if err := writeNew(file, html); err != nil {
		return err
	}
	if e.json {
		return e.printJSON(map[string]any{"file": file, "bytes": len(html)})
	}
	e.say("wrote %s: open it in a browser and print it\n", oneLine(file))
	return nil
}
