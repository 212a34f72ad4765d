package main

import (
	"encoding/json"

	"github.com/urfave/cli/v2"

	"hepar/journal"
	"hepar/recipe"
	"hepar/recipe/bath"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/metal"
	"hepar/recipe/safety"
)

func prepareCommand(e *env) *cli.Command {
	return &cli.Command{
		Name: "prepare", Usage: "make the batch sheet for a number of pieces", ArgsUsage: "[RECIPE]",
		Description: `Scales a recipe to a batch: what to weigh, which water, how many loads, what limits
the bath, what to watch for. --working shows every formula with its numbers and
sources. --save keeps the sheet and the recipe in the journal as a planned batch.

EXAMPLES
   hepar prepare silver-black --pieces 60 --spares 3 --alloy sterling-925 \
         --shape disc --diameter 24mm --thickness 1.6mm --vessel 200x140x90mm \
         --save-piece token-24
   hepar prepare --piece token-24 --pieces 60 --save
   hepar prepare --like last --pieces 80 --save --output sheet.html`,
		Flags: append(append(orderFlags(), group("THE SHEET",
			&cli.BoolFlag{Name: "detail", Usage: "add losses, rinses, time and all assumptions, and the steps in full"},
			&cli.BoolFlag{Name: "working", Usage: "show every formula with its numbers and sources"},
			&cli.BoolFlag{Name: "save", Usage: "keep the sheet and the recipe in the journal as a planned batch"},
			&cli.StringFlag{Name: "by", Usage: "NAME: who plans it"},
			&cli.StringFlag{Name: "note", Usage: "TEXT: customer, order, anything to find it by"},
		)...), group("THE SHEET", pageFlags()...)...),
		Action: func(c *cli.Context) error {
			if err := arguments(c, 0, 1, "the name of a recipe"); err != nil {
				return err
			}
			return runPrepare(e, c)
		},
	}
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

func runPrepare(e *env, c *cli.Context) error {
	if err := idleFlags(c); err != nil {
		return err
	}
	place, err := openPlace(e, c)
	if err != nil {
		return err
	}
	slug, last, err := repeat(c, place)
	if err != nil {
		return err
	}
	r, err := place.recipe(slug)
	if err != nil {
		return err
	}
	order, err := orderFrom(c, place.shop)
	if err != nil {
		return err
	}
	order.Recipe = r
	if order.Measured, err = learnt(e, c, place, r, order.Piece.Alloy); err != nil {
		return err
	}
	sheet, err := bath.Prepare(order)
	if err != nil {
		return err
	}
	review, err := safety.Assess(subject(r, &order.Piece, sheet))
	if err != nil {
		return err
	}
	if err := safety.Refused(review.Points); err != nil {
		return err
	}
	doc := document{Sheet: sheet, Order: c.String("note"), Asked: asked(c), LastTime: last, Safety: review.Points}
	warnings, err := shelfWarnings(e, c, place, doc)
	if err != nil {
		return err
	}
	for _, text := range warnings {
		doc.Warnings = append(doc.Warnings, bath.Warning{Code: "shelf", Note: measure.Say(text)})
	}
	if c.Bool("save") {
		fresh, err := place.newJournal()
		if err != nil {
			return err
		}
		batch, err := save(place, doc, r, order, c.String("by"), c.String("note"))
		if err != nil {
			return err
		}
		doc.Number = batch.Number
		fresh(e)
	}
	if c.IsSet("save-piece") {
		if err := savePiece(e, c, place, slug); err != nil {
			return err
		}
	}
	if c.IsSet("output") {
		return writePage(e, c, place.units, doc, r)
	}
	if c.Bool("working") || c.IsSet("explain") {
		doc.Working = sheet.Working
	}
	if e.json {
		return e.printJSON(doc)
	}
	printSheet(e, place.units, doc, r, c.Bool("detail") || c.Bool("working") || c.IsSet("explain"))
	return nil
}

// idleFlags refuses flags that have no effect beside the others.
func idleFlags(c *cli.Context) error {
	switch {
	case c.IsSet("confidence") && !c.IsSet("yield"):
		return fault.Usagef("--confidence has no effect without --yield").Try("add --yield, the share that is good at the first go")
	case c.Bool("by-hand") && c.IsSet("rack"):
		return fault.Usagef("--by-hand and --rack are both given").Try("leave out one")
	case c.Bool("letter") && !c.IsSet("output"):
		return fault.Usagef("--letter has no effect without --output").Try("add --output sheet.html")
	case c.IsSet("note") && !c.Bool("save"):
		return fault.Usagef("--note has no effect without --save").Try("add --save, or leave the note out")
	}
	return nil
}

// subject is what the safety review looks at.
func subject(r *recipe.Recipe, p *metal.Piece, s *bath.Sheet) safety.Subject {
	out := safety.Subject{Recipe: r}
	if p != nil {
		out.Alloy = &p.Alloy
	}
	if s != nil {
		out.MetalArea = measure.SquareCM(s.MetalAreaDM * 100)
		out.Bath = measure.Liters(s.Bath.VolumeL)
		out.BathC, out.Reagents, out.Plan = measure.Celsius(s.Bath.TemperatureC), s.Amounts(), s.AllAmounts()
		out.Lid = s.Run != nil && s.Run.Lid
		if v := s.Bath.Vessel; v != nil {
			out.SurfaceCM2 = v.FloorCM2()
		}
	}
	return out
}

// save freezes sheet and recipe in the journal.
func save(p *place, doc document, r *recipe.Recipe, o bath.Order, by, note string) (journal.Batch, error) {
	text, err := json.Marshal(doc)
	if err != nil {
		return journal.Batch{}, err
	}
	return p.journal.Create(journal.Plan{
		Recipe: frozenRecipe(r),
		Alloy:  o.Piece.Alloy.Name, Shape: o.Piece.Shape, Pieces: doc.Pieces, Spares: doc.Spares,
		By: by, Order: note,
	}, text)
}

// frozenRecipe is what a batch keeps of its recipe for ever.
func frozenRecipe(r *recipe.Recipe) journal.Recipe {
	return journal.Recipe{Slug: r.Slug, Title: r.Title, Kind: string(r.Kind), Revision: r.Revision, Digest: r.Digest, Text: r.Text}
}
