package main

import (
	"github.com/urfave/cli/v2"

	"hepar/journal"
	"hepar/recipe/bath/run"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// book makes a command that adds something to one batch.
func book(e *env, name, usage, description string, flags []cli.Flag, act func(*cli.Context, *place, string) (journal.Batch, error)) *cli.Command {
	return &cli.Command{
		Name: name, Usage: usage, ArgsUsage: "BATCH", Description: description,
		Flags: append(flags, &cli.StringFlag{Name: "by", Usage: "who"}),
		Action: at(e, 1, 1, "the number of a batch", func(c *cli.Context, p *place) error {
			b, err := act(c, p, c.Args().First())
			if err != nil {
				return err
			}
			if e.json {
				return e.printJSON(b)
			}
			noteNobody(e, b)
			e.say("%s: %s\n", b.Number, b.Latest().Kind)
			return nil
		}),
	}
}

func journalWithdraw(e *env) *cli.Command {
	return book(e, "withdraw", "take a batch out of the count; it stays readable", "",
		[]cli.Flag{&cli.StringFlag{Name: "reason", Usage: "why; required"}},
		func(c *cli.Context, p *place, ref string) (journal.Batch, error) {
			return p.journal.Withdraw(ref, c.String("reason"), c.String("by"))
		})
}

func journalSignOff(e *env) *cli.Command {
	return book(e, "sign-off", "sign off a batch as a second person", "",
		[]cli.Flag{&cli.StringFlag{Name: "note", Usage: "what was looked at"}},
		func(c *cli.Context, p *place, ref string) (journal.Batch, error) {
			return p.journal.SignOff(ref, c.String("by"), c.String("note"))
		})
}

func journalPhoto(e *env) *cli.Command {
	return book(e, "photo", "keep where a photograph is, and its fingerprint", "The picture stays where it is; its path, size and SHA-256 are kept.",
		[]cli.Flag{&cli.StringFlag{Name: "file", Usage: "the picture"}, &cli.StringFlag{Name: "note", Usage: "what it shows"}},
		func(c *cli.Context, p *place, ref string) (journal.Batch, error) {
			if !c.IsSet("file") {
				return journal.Batch{}, fault.Usagef("--file is required").Try("write --file tokens.jpg")
			}
			photo, err := journal.ReadPhoto(c.String("file"))
			if err != nil {
				return journal.Batch{}, err
			}
			photo.By, photo.Note = c.String("by"), c.String("note")
			return p.journal.AddPhoto(ref, photo)
		})
}

func journalWaste(e *env) *cli.Command {
	c := book(e, "waste", "write down what a batch left and where it is kept",
		`Keeps volume, container and what is estimated to be in it. An estimate is no analysis
and no classification: your local authority decides where it may go.

EXAMPLES
   hepar journal waste 2026-014 --container W-3 --volume 1.9L`,
		[]cli.Flag{&cli.StringFlag{Name: "container", Usage: "the waste container, as on its label"}, &cli.StringFlag{Name: "volume", Usage: "how much, \"1.9 L\""},
			&cli.StringFlag{Name: "went", Usage: "where it went, once it has gone"}},
		func(c *cli.Context, p *place, ref string) (journal.Batch, error) {
			if c.String("container") == "" {
				return journal.Batch{}, fault.Usagef("--container is required").Try("write --container W-3, as on its label")
			}
			b, err := p.journal.Get(ref)
			if err != nil {
				return b, err
			}
			w := journal.Waste{Container: c.String("container"), Went: c.String("went"), By: c.String("by")}
			var volume measure.Liters
			if err := take(c, "volume", positive("waste", measure.ParseVolume), &volume); err != nil {
				return b, err
			}
			w.Liters = volume
			if b.Recipe.Text != "" {
				if err := estimated(p, b, &w); err != nil {
					return b, err
				}
			}
			return p.journal.AddWaste(b.Number, w)
		})
	c.Flags = append(c.Flags, &cli.BoolFlag{Name: "list", Usage: "list what is in the waste containers, or in the one of --container"})
	add := c.Action
	c.Action = func(ctx *cli.Context) error {
		if !ctx.Bool("list") {
			return add(ctx)
		}
		return at(e, 0, 0, "", func(ctx *cli.Context, p *place) error { return listWaste(e, ctx, p) })(ctx)
	}
	return c
}

// listWaste prints what went into which container.
func listWaste(e *env, c *cli.Context, p *place) error {
	var list []journal.WasteOf
	none, err := noJournalYet(c, p)
	if !none && err == nil {
		list, err = p.journal.ListWaste(c.String("container"))
	}
	if err != nil {
		return err
	}
	if len(list) == 0 {
		e.note("no waste yet, or none that fits\n")
	}
	t := table{head: []string{"container", "day", "volume", "batch", "recipe"}, right: []bool{false, false, true}}
	for _, entry := range list {
		if e.json {
			if err := e.printJSON(entry); err != nil {
				return err
			}
			continue
		}
		t.add(cut(entry.Container, 24), entry.At.Day(), p.units.Volume(entry.Liters), entry.Batch, entry.Recipe)
	}
	if len(t.rows) > 0 {
		t.write(e.out, "")
	}
	return nil
}

// estimated adds to a waste what its batch is estimated to leave in the bath.
func estimated(p *place, b journal.Batch, w *journal.Waste) error {
	sub, sheet, err := frozen(b)
	if err != nil {
		return err
	}
	bench := run.New(sheet, sub.Recipe, b.Bench)
	estimate, err := wasteOf(p, sheet, bench)
	if err != nil {
		return err
	}
	if w.Liters == 0 {
		w.Liters = measure.Liters(estimate.BathL)
		if n := bench.Baths(); n > 0 {
			w.Liters *= measure.Liters(n) // every bath that was mixed
		} else if sheet.Run != nil {
			w.Liters *= measure.Liters(max(sheet.Run.Totals.Baths, 1))
		}
	}
	for _, f := range estimate.Bath {
		w.Contents = append(w.Contents, journal.WastePart{What: f.What, MilligramsPerLiter: f.Expected, Source: "estimate: " + f.Source})
	}
	return nil
}
