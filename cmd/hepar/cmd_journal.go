package main

import (
	"fmt"
	"strings"

	"github.com/urfave/cli/v2"

	"hepar/journal"
	"hepar/recipe/bath/run"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

func journalCommand(e *env) *cli.Command {
	return family("journal", "the batches: list, show, sum, amend, export, import, merge, verify, backup", append([]*cli.Command{
		journalList(e), journalShow(e), journalSum(e), journalAmend(e), journalExport(e), journalImport(e), journalMerge(e),
		journalWaste(e), journalPhoto(e), journalSignOff(e), journalWithdraw(e),
	}, keepCommands(e)...)...)
}

// book makes a command that adds something to one batch.
func book(e *env, name, usage string, flags []cli.Flag, act func(p *place, ref string) (journal.Batch, error)) *cli.Command {
	return command(name+" BATCH", usage, at(e, 1, 1, "the number of a batch", func(p *place) error {
		b, err := act(p, p.Args().First())
		return p.show(b, err, func() {
			noteNobody(e, b)
			e.say("%s: %s\n", b.Number, b.Latest().Kind)
		})
	}), append(flags, text("by", "who"))...)
}

func journalWithdraw(e *env) *cli.Command {
	return book(e, "withdraw", "take a batch out of the count; it stays readable", []cli.Flag{text("reason", "why; required")},
		func(p *place, ref string) (journal.Batch, error) {
			return p.journal.Withdraw(ref, p.String("reason"), "")
		})
}

func journalSignOff(e *env) *cli.Command {
	return book(e, "sign-off", "sign off a batch as a second person", []cli.Flag{text("note", "what was looked at")},
		func(p *place, ref string) (journal.Batch, error) { return p.journal.SignOff(ref, "", p.String("note")) })
}

func journalPhoto(e *env) *cli.Command {
	return book(e, "photo", "keep where a photograph is, and its fingerprint",
		[]cli.Flag{text("file", "the picture"), text("note", "what it shows")},
		func(p *place, ref string) (journal.Batch, error) {
			refuse(!p.IsSet("file"), fault.Usagef("--file is required").Try("write --file tokens.jpg"))
			photo := fault.Must(journal.ReadPhoto(p.String("file")))
			photo.By, photo.Note = p.String("by"), p.String("note")
			return p.journal.AddPhoto(ref, photo)
		})
}

func journalWaste(e *env) *cli.Command {
	c := book(e, "waste", "write down what a batch left and where it is kept",
		[]cli.Flag{text("container", "the waste container, as on its label"), text("volume", "how much, \"1.9 L\""), text("went", "where it went, once it has gone"),
			yes("instead", "in place of what was written for this batch and container")}, addWaste)
	c.Flags = append(c.Flags, yes("list", "list what is in the waste containers, or in the one of --container"))
	add := c.Action
	c.Action = func(ctx *cli.Context) error {
		if ctx.Bool("list") {
			return at(e, 0, 0, "", listWaste)(ctx)
		}
		return add(ctx)
	}
	return c
}

const noWasteYet = "no waste yet, or none that fits\n"

func listWaste(p *place) error {
	return p.ifKept(noWasteYet, func() error {
		entries, err := p.journal.ListWaste(p.String("container"))
		t := table{head: []string{"container", "day", "volume", "batch", "recipe"}, right: []bool{false, false, true}}
		return list(p.env, entries, err, noWasteYet, t, func(t *table, w journal.WasteOf) {
			t.add(cut(w.Container, 24), w.At.Day(), p.units.Volume(w.Liters), w.Batch, w.Recipe)
		})
	})
}

// addWaste keeps a waste with what its batch is estimated to leave in the bath.
func addWaste(p *place, ref string) (b journal.Batch, err error) {
	w := journal.Waste{Container: p.String("container"), Went: p.String("went"), By: p.String("by"), Instead: p.Bool("instead")}
	refuse(w.Container == "", fault.Usagef("--container is required").Try("write --container W-3, as on its label"))
	b = fault.Must(p.journal.Get(ref))
	fault.Check(take(p.Context, "volume", positive("waste", measure.ParseVolume), &w.Liters))
	for _, had := range b.Waste {
		p.tell("note: ", when(strings.EqualFold(had.Container, w.Container) && !w.Instead,
			fmt.Sprintf("%s of batch %s in %s were written down before; this comes on top. To put it right: --instead", p.units.Volume(had.Liters), b.Number, had.Container)))
	}
	if b.Recipe.Text == "" {
		return p.journal.AddWaste(b.Number, w)
	}
	d, r := frozen(b)
	bench := run.New(d.Sheet, r, b.Bench)
	estimate := wasteOf(p, d.Sheet, bench)
	if w.Liters == 0 {
		w.Liters = measure.Liters(estimate.BathL)
		if n := bench.Baths(); n > 0 {
			w.Liters *= measure.Liters(n) // every bath that was mixed
		} else if d.Run != nil {
			w.Liters *= measure.Liters(max(d.Run.Totals.Baths, 1))
		}
	}
	if d.Run != nil && float64(w.Liters) > 3*d.Run.Totals.WasteL {
		p.note("note: the sheet expects %s of waste; is the volume right? To put it right: --instead\n", p.units.Volume(measure.Liters(d.Run.Totals.WasteL)))
	}
	for _, f := range estimate.Bath {
		w.Contents = append(w.Contents, journal.WastePart{What: f.What, MilligramsPerLiter: f.Expected, Source: "estimate: " + f.Source})
	}
	return p.journal.AddWaste(b.Number, w)
}
