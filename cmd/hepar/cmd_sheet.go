package main

import (
	"cmp"
	"encoding/json"

	"github.com/urfave/cli/v2"

	"hepar/journal"
	"hepar/recipe"
	"hepar/recipe/bath"
	"hepar/recipe/bath/page"
	"hepar/recipe/fault"
)

func sheetCommand(e *env) *cli.Command {
	return command("sheet BATCH", "write the sheet of a saved batch as one page for the wall", at(e, 1, 1, "the number of a batch", func(p *place) error {
		refuse(!p.IsSet("output"), fault.Usagef("--output is required").Try("write --output sheet.html"))
		b := fault.Must(p.journal.Get(p.Args().First()))
		d, r := frozen(b)
		return writeSheet(p, d, r)
	}), pageFlags()...)
}

func pageFlags() []cli.Flag {
	return []cli.Flag{
		text("output", "FILE: the page to write, as in sheet.html; never overwrites one"),
		yes("letter", "US Letter instead of A4"),
	}
}

// frozen returns the sheet and the recipe that a batch was saved with.
func frozen(b journal.Batch) (document, *recipe.Recipe) {
	d := document{Sheet: &bath.Sheet{}}
	refuse(len(b.Sheet) == 0 || b.Text == "",
		fault.Failuref("batch %s was logged without a sheet", b.Number).Try("use the recipe itself, %s, or plan a batch: hepar prepare %s ... --save", b.Slug, b.Slug))
	err := json.Unmarshal(b.Sheet, &d)
	refuse(err != nil, fault.Damagedf("the sheet of batch %s cannot be read", b.Number).Because(err).Try("run hepar journal verify"))
	r, findings := recipe.Decode(b.Slug+".toml", []byte(b.Text))
	refuse(r == nil, cmp.Or(recipe.Findings(findings).Of("recipe"), error(fault.Failuref("the recipe %s cannot be read", b.Slug))))
	d.Number, d.Order = b.Number, b.Order
	return d, r
}

func writeSheet(p *place, d document, r *recipe.Recipe) error {
	html := fault.Must(page.Sheet(d.Sheet, r, page.Options{Number: d.Number, Order: d.Order, Last: d.LastTime, Letter: p.Bool("letter"), Units: p.units}))
	file := p.String("output")
	return p.show(map[string]any{"file": file, "bytes": len(html)}, writeNew(file, html), func() { p.say("wrote %s: open it in a browser and print it\n", oneLine(file)) })
}
