package main

import (
	"encoding/json"

	"github.com/urfave/cli/v2"

	"hepar/journal"
	"hepar/recipe"
	"hepar/recipe/bath"
	"hepar/recipe/bath/plan"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/metal"
	"hepar/recipe/safety"
)

func prepareCommand(e *env) *cli.Command {
	return command("prepare [RECIPE]", "make the batch sheet for a number of pieces",
		at(e, 0, 1, "the name of a recipe", runPrepare),
		append(orderFlags(), group("THE SHEET", append([]cli.Flag{
			yes("detail", "add losses, rinses, time and all assumptions, and the steps in full"),
			yes("working", "show every formula with its numbers and sources"),
			yes("save", "keep the sheet and the recipe in the journal as a planned batch"),
			text("by", "NAME: who plans it"),
			text("note", "TEXT: customer, order, anything to find it by"),
		}, pageFlags()...)...)...)...)
}

// document is the batch sheet as it is printed with --json and frozen in the journal.
type document struct {
	*bath.Sheet
	Number   string              `json:"number,omitempty"`
	Order    string              `json:"order,omitempty"`
	Asked    map[string][]string `json:"asked"` // the flags that it was prepared with
	LastTime []string            `json:"last_time,omitempty"`
	Safety   []safety.Point      `json:"safety"`
	Working  []metal.Step        `json:"working,omitempty"`
}

func runPrepare(p *place) error {
	refuseIdle(p.Context)
	slug, last := repeat(p)
	r := fault.Must(p.recipe(slug))
	order := orderFrom(p)
	order.Recipe, order.Measured = r, learnt(p, r, order.Kinds[0].Piece.Alloy)
	sheet := fault.Must(bath.Prepare(order))
	review := fault.Must(safety.Assess(subject(r, &order.Kinds[0].Piece.Alloy, sheet)))
	fault.Check(safety.Refused(review.Points))
	doc := document{Sheet: sheet, Order: p.String("note"), Asked: asked(p.Context), LastTime: last, Safety: review.Points}
	for _, text := range shelfWarnings(p, doc) {
		doc.Warnings = append(doc.Warnings, plan.Warning{Code: "shelf", Note: measure.Say(text)})
	}
	if p.Bool("save") {
		save(p, &doc, r, order)
	}
	if p.IsSet("save-piece") {
		savePiece(p, slug)
	}
	if p.IsSet("output") {
		if doc.Number != "" && !p.json {
			p.say("saved as batch %s\n", doc.Number)
		}
		p.tell("look out: ", mapped(sheet.Warnings, func(w plan.Warning) string { return w.In(p.units) })...)
		return writeSheet(p, doc, r)
	}
	whole := p.Bool("working") || p.IsSet("explain")
	if whole {
		doc.Working = sheet.Working
	}
	return p.show(doc, nil, func() { printSheet(p.env, p.units, doc, r, whole || p.Bool("detail")) })
}

func refuseIdle(c *cli.Context) {
	refuse(c.IsSet("confidence") && !c.IsSet("yield"),
		fault.Usagef("--confidence has no effect without --yield").Try("add --yield, the share that is good at the first go"))
	refuse(c.Bool("by-hand") && c.IsSet("rack"), fault.Usagef("--by-hand and --rack are both given").Try("leave out one"))
	refuse(c.Bool("letter") && !c.IsSet("output"), fault.Usagef("--letter has no effect without --output").Try("add --output sheet.html"))
	refuse(c.IsSet("note") && !c.Bool("save"), fault.Usagef("--note has no effect without --save").Try("add --save, or leave the note out"))
}

// subject is what the safety review looks at. There may be no sheet, and no metal.
func subject(r *recipe.Recipe, alloy *metal.Alloy, s *bath.Sheet) safety.Subject {
	out := safety.Subject{Recipe: r, Alloy: alloy}
	if s != nil {
		out.MetalArea = measure.SquareCM(s.MetalAreaDM * 100)
		out.Bath = measure.Liters(s.Bath.VolumeL)
		out.BathC, out.Reagents, out.Plan = measure.Celsius(s.Bath.TemperatureC), s.Amounts(), s.AllAmounts()
		out.Lid = s.Run != nil && s.Run.Lid
		out.SurfaceCM2 = s.Bath.Vessel.FloorCM2()
	}
	return out
}

func save(p *place, d *document, r *recipe.Recipe, o bath.Order) {
	fresh := p.newJournal()
	text := fault.Must(json.Marshal(d))
	piece := o.Kinds[0].Piece
	batch := fault.Must(p.journal.Create(journal.Plan{Recipe: frozenRecipe(r), Alloy: piece.Alloy.Name, Shape: piece.Shape, Pieces: d.Pieces, Spares: d.Spares, Order: d.Order}, text))
	d.Number = batch.Number
	fresh()
}

// frozenRecipe is what a batch keeps of its recipe for ever.
func frozenRecipe(r *recipe.Recipe) journal.Recipe {
	return journal.Recipe{Slug: r.Slug, Title: r.Title, Kind: string(r.Kind), Revision: r.Revision, Digest: r.Digest, Text: r.Text}
}
