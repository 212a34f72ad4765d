package main

import (
	"fmt"
	"strings"

	"hepar/journal"
	"hepar/recipe/bath/run"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

func journalCommand(e *env) *verb {
	var reason, note, file string
	return &verb{Name: "journal", Usage: "the batches: list, show, sum, amend, export, import, merge, verify, backup", Subcommands: append([]*verb{
		journalList(e), journalShow(e), journalSum(e), journalAmend(e), journalExport(e), journalImport(e), journalMerge(e), journalWaste(e),
		command("photo BATCH", "keep where a photograph is, and its fingerprint", at(e, func(p *place) {
			refuse(file == "", fault.Usagef("--file is required").Try("write --file tokens.jpg"))
			photo := fault.Must(journal.ReadPhoto(file))
			photo.By, photo.Note = p.String("by"), note
			p.booked(p.journal.AddPhoto(p.Args().First(), photo))
		}), text("file", "the picture", &file), text("note", "what it shows", &note), text("by", "who")),
		command("sign-off BATCH", "sign off a batch as a second person",
			at(e, func(p *place) { p.booked(p.journal.SignOff(p.Args().First(), "", note)) }),
			text("note", "what was looked at", &note), text("by", "who")),
		command("withdraw BATCH", "take a batch out of the count; it stays readable",
			at(e, func(p *place) { p.booked(p.journal.Withdraw(p.Args().First(), reason, "")) }),
			text("reason", "why; required", &reason), text("by", "who")),
	}, keepCommands(e)...)}
}

// booked says what was added to a batch.
func (p *place) booked(b journal.Batch, err error) {
	fault.Check(err)
	p.show(b, func() {
		noteNobody(p.env, b)
		p.say("%s: %s\n", b.Number, b.Latest().Kind)
	})
}

func journalWaste(e *env) *verb {
	var w journal.Waste
	return command("waste [BATCH]", "write down what a batch left and where it is kept", at(e, func(p *place) {
		refuse(p.Bool("list") == (p.NArg() > 0), fault.Usagef("journal waste takes a batch or --list, and not both").
			Try("write hepar journal waste 2026-014 --container W-3, or hepar journal waste --list"))
		if p.Bool("list") {
			listWaste(p, w.Container)
		} else {
			p.booked(addWaste(p, w))
		}
	}),
		text("container", "the waste container, as on its label", &w.Container),
		value("volume", "how much, \"1.9 L\"", positive("waste", measure.ParseVolume), &w.Liters),
		text("went", "where it went, once it has gone", &w.Went),
		yes("instead", "in place of what was written for this batch and container", &w.Instead),
		text("by", "who", &w.By), yes("list", "list what is in the waste containers, or in the one of --container"))
}

func listWaste(p *place, container string) {
	const none = "no waste yet, or none that fits\n"
	p.ifKept(none)
	t := table{head: []string{"container", "day", "volume", "batch", "recipe"}, right: []bool{false, false, true}}
	list(p.env, fault.Must(p.journal.ListWaste(container)), none, t, func(t *table, w journal.WasteOf) {
		t.add(cut(w.Container, 24), w.At.Day(), p.units.Volume(w.Liters), w.Batch, w.Recipe)
	})
}

// addWaste keeps a waste with what its batch is estimated to leave in the bath.
func addWaste(p *place, w journal.Waste) (journal.Batch, error) {
	refuse(w.Container == "", fault.Usagef("--container is required").Try("write --container W-3, as on its label"))
	b := fault.Must(p.journal.Get(p.Args().First()))
	for _, had := range b.Waste {
		p.tell("note: ", when(strings.EqualFold(had.Container, w.Container) && !w.Instead,
			fmt.Sprintf("%s of batch %s in %s were written down before; this comes on top. To put it right: --instead", p.units.Volume(had.Liters), b.Number, had.Container)))
	}
	if b.Recipe.Text == "" {
		return p.journal.AddWaste(b.Number, w)
	}
	d, r := frozen(b)
	bench := run.New(d.Sheet, r, p.units, b.Bench)
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
