package main

import (
	"cmp"
	"fmt"

	"hepar/journal"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/run"
	"hepar/recipe/safety/label"
)

func journalCommand(e *env) *verb {
	var reason, note, file string
	return &verb{Name: "journal", Usage: "the batches: list, show, sum, amend, export, import, merge, verify, backup", Subcommands: append([]*verb{
		journalList(e), journalShow(e), journalSum(e), journalAmend(e), journalExport(e), journalImport(e), journalMerge(e), journalWaste(e),
		command("photo BATCH", "record where a photo is, and its SHA-256", at(e, func(p *place) {
			refuse(file == "", fault.Usagef("--file is required").Try("write --file tokens.jpg"))
			photo := fault.Must(journal.ReadPhoto(file))
			photo.By, photo.Note = p.String("by"), note
			p.booked(p.journal.AddPhoto(p.Args().First(), photo))
		}), text("file", "FILE: the photo", &file), text("note", "TEXT: what the photo shows", &note), text("by", "NAME: person who records it")),
		command("sign-off BATCH", "sign off a batch as a second person",
			at(e, func(p *place) { p.booked(p.journal.SignOff(p.Args().First(), "", note)) }),
			text("note", "TEXT: what was checked", &note), text("by", "NAME: the second person")),
		command("withdraw BATCH", "take a batch out of the count; it stays readable",
			at(e, func(p *place) { p.booked(p.journal.Withdraw(p.Args().First(), reason, "")) }),
			text("reason", "REASON: required; the journal keeps it", &reason), text("by", "NAME: person who withdraws it")),
	}, keepCommands(e)...)}
}

func (p *place) booked(b journal.Batch, err error) {
	fault.Check(err)
	p.show(b, func() {
		noteNobody(p.env, b)
		p.say("%s: %s\n", b.Number, kindText(b.Latest().Kind))
	})
}

func journalWaste(e *env) *verb {
	var w journal.Waste
	return command("waste [BATCH]", "record the waste of a batch and its container", at(e, func(p *place) {
		refuse(p.Bool("list") == (p.NArg() > 0), fault.Usagef("journal waste takes either a batch or --list").
			Try("write hepar journal waste 2026-014 --container W-3, or hepar journal waste --list"))
		if p.Bool("list") {
			listWaste(p, w.Container)
		} else {
			p.booked(addWaste(p, p.Args().First(), w, p.IsSet("volume")))
		}
	}),
		text("container", "NAME: the waste container, as on its label", &w.Container),
		value("volume", "VOLUME: how much waste, \"1.9 L\"", measure.ParseVolume, &w.Liters),
		text("went", "PLACE: where the waste went from the container", &w.Went),
		yes("instead", "replace what is recorded for this batch and container", &w.Instead),
		text("by", "NAME: person who records it", &w.By), yes("list", "list what is in the waste containers, or in the one of --container"))
}

func listWaste(p *place, container string) {
	const none = "no waste yet, or none that matches\n"
	p.ifKept(none)
	t := table{head: []string{"container", "day", "volume", "batch", "recipe", "went to"}, right: []bool{false, false, true}}
	list(p.env, fault.Must(p.journal.ListWaste(container)), none, t, func(t *table, w journal.WasteOf) {
		t.add(cut(w.Container, 24), w.At.Day(), p.units.Volume(w.Liters), w.Batch, w.Recipe, cut(w.Went, 24))
	})
}

// addWaste keeps a waste with what its batch is estimated to leave in the bath.
func addWaste(p *place, ref string, w journal.Waste, given bool) (journal.Batch, error) {
	refuse(w.Container == "", fault.Usagef("--container is required").Try("write --container W-3, as on its label"))
	b := fault.Must(p.journal.Get(ref))
	nothing := given && w.Liters == 0 // removes what is recorded
	refuse(nothing && !w.Instead, fault.Usagef("0 L is no waste").At("--volume").Try("give the volume; to remove what is recorded for this batch, add --instead"))
	in := drum{place: p, WasteLabel: label.WasteLabel{ID: w.Container}, ever: true}
	if in.fill(); w.Went == "" && !nothing {
		in.batch(b)
	}
	_, err := label.Waste(in.WasteLabel)
	refuse(!nothing && w.Went == "" && fault.KindOf(err) == fault.Safety, fault.Safetyf("batch %s must not go into %s, by what is in it or was: %v", b.Number, measure.Clean(w.Container), err).
		Try("pour it into a container of its own and name that: --container NAME; never pour the two together"))
	p.tell("note: ", when(b.State == journal.Planned || b.State == journal.Reviewed, "batch "+b.Number+" was not dipped yet: is the number right? To remove the entry: --volume 0L --instead"))
	gone := w.Went != "" && !given // what is recorded
	for _, had := range b.Waste {
		if gone && lies(had, w.Container) {
			w.Liters, w.Instead = w.Liters+had.Liters, true
		}
		p.tell("note: ", when(had.In(w.Container) && !w.Instead,
			fmt.Sprintf("%s of batch %s in %s are recorded already; this is added to them. To replace them, add --instead", p.units.Volume(had.Liters), b.Number, had.Container)))
	}
	if b.Recipe.Text == "" {
		return p.journal.AddWaste(b.Number, w)
	}
	d, r := frozen(b)
	bench := run.New(d.Sheet, r, p.units, b.Bench)
	estimate := wasteOf(p, d.Sheet, bench)
	if w.Liters == 0 && !nothing {
		w.Liters = cmp.Or(bench.Waste(), measure.Liters(estimate.BathL))
		p.note("note: --volume is not given: %s are recorded, as the sheet estimates for the baths and the still rinse tubs. To correct it: --volume 4L --instead\n", p.units.Volume(w.Liters))
	} else if expected := bench.Waste(); expected > 0 && w.Liters > 3*expected {
		refuse(w.Liters > 100*expected, fault.Usagef("%s is more than a hundred times the %s of the sheet", p.units.Volume(w.Liters), p.units.Volume(expected)).At("--volume").Try("check the unit: L or mL"))
		p.note("note: the sheet expects %s of waste; is the volume right? To correct it: --volume 4L --instead\n", p.units.Volume(expected))
	}
	for _, f := range estimate.Bath {
		w.Contents = append(w.Contents, journal.WastePart{What: f.What, MilligramsPerLiter: f.Expected, Source: "estimate: " + f.Source})
	}
	return p.journal.AddWaste(b.Number, w)
}

func keepCommands(e *env) []*verb {
	var o journal.RestoreOptions
	return []*verb{
		command("verify", "check that nothing was altered, dropped or damaged", at(e, func(p *place) {
			report := fault.Must(p.journal.Verify())
			n := len(report.Findings)
			e.show(report, func() { printVerified(e, report) })
			refuse(n > 0, fault.Damagedf("the journal has %s", plural(n+report.More, "finding")).At(measure.Clean(p.journal.Path())).
				Try("write nothing more to it: copy the file, then run 'hepar journal restore' with a backup, or 'hepar journal salvage'"))
		})),
		command("backup", "write a dated, verified copy and remove old ones", at(e, runBackup),
			text("dir", "FOLDER: where the copies go (default: \"backups\" beside the journal)"), yes("list", "list the copies")),
		command("restore BACKUP", "put a backup in the place of the journal and keep the old file", at(e, func(p *place) {
			r, err := p.journal.Restore(p.Args().First(), o)
			for _, l := range r.Lost {
				e.tell("  lacks: ", fmt.Sprintf("%s, %s, event %s", l.At.Format("2006-01-02 15:04"), kindText(l.Kind), l.ID))
			}
			fault.Check(err)
			e.show(r, func() { printRestored(e, r, o.DryRun) })
		}),
			yes("dry-run", "say what would happen, and change nothing", &o.DryRun),
			yes("lose-events", "restore although the journal has events that the backup lacks", &o.LoseEvents),
			yes("other-journal", "restore although it is a backup of another journal", &o.OtherJournal)),
		command("salvage NEWFILE", "save the readable part of a damaged journal in a new one", at(e, func(p *place) {
			r := fault.Must(p.journal.Salvage(p.Args().First()))
			e.show(r, func() { printSalvage(e, r) })
		})),
		command("compact", "write the journal again without unused space", at(e, func(p *place) {
			r := fault.Must(p.journal.Compact())
			e.show(r, func() {
				e.say("from %s to %s: %s, %s\n", bytesText(r.Before), bytesText(r.After), batchesText(r.Batches), plural(r.Events, "event"))
			})
		})),
	}
}

func printVerified(e *env, r journal.Report) {
	if len(r.Findings) > 0 {
		listFindings(e, "  ! ", "", r.Findings, r.More)
		return
	}
	e.say("nothing wrong found: %s, %s; the chain and every checksum agree\n", batchesText(r.Batches), plural(r.Events, "event"))
	e.say("digest of the last event: %s\n", r.Head)
	listFindings(e, "  - ", "what a newer hepar wrote and this one does not understand:", r.Newer, r.MoreNewer)
	listFindings(e, "  - ", "what was lost before this journal was salvaged:", r.Missing, r.MoreMissing)
}

// listFindings prints a list under a line, and how many more there are.
func listFindings(e *env, mark, line string, list []journal.Finding, more int) {
	e.put("", when(len(list) > 0, line))
	for _, f := range list {
		e.put(mark, f.Where+": "+f.What)
	}
	e.put(mark, when(more > 0, "and "+measure.Grouped(more)+" more"))
}

func runBackup(p *place) {
	dir := p.String("dir")
	if p.Bool("list") {
		t := table{head: []string{"made (UTC)", "events", "size", "file"}, right: []bool{false, true, true}}
		list(p.env, fault.Must(p.journal.Backups(dir)), "there are no backups\n", t, func(t *table, b journal.BackupFile) {
			t.add(b.Made.Format("2006-01-02 15:04"), fmt.Sprint(b.Events), bytesText(b.Bytes), b.Path)
		})
		return
	}
	r := fault.Must(p.journal.Backup(dir))
	p.show(r, func() {
		p.put("", fmt.Sprintf("wrote and verified %s: %s, %s, %s", r.Path, batchesText(r.Batches), plural(r.Events, "event"), bytesText(r.Bytes)))
		p.put("removed ", r.Pruned...)
	})
}

func bytesText(n int64) string {
	return either(n < 1<<20, fmt.Sprintf("%d KiB", (n+1023)/1024), measure.Round(float64(n)/(1<<20), 1)+" MiB")
}

func printRestored(e *env, r journal.RestoreReport, dry bool) {
	verb := either(dry, "would restore", "restored")
	text := fmt.Sprintf("%s %s from %s: %s, %s", verb, r.Path, r.From, batchesText(r.Batches), plural(r.Events, "event"))
	switch {
	case r.OtherJournal:
		text += "; the old file was another journal"
	case r.LostCount > 0:
		text += fmt.Sprintf("; %s of the old file not in it", measure.Counted(r.LostCount, "event", "events"))
	}
	e.put("", text)
	e.put("", wordsIf("the old file is kept as ", r.Kept))
}

func printSalvage(e *env, r journal.SalvageReport) {
	e.put("", fmt.Sprintf("saved %s of %s and %s in %s", plural(r.Events, "event"), batchesText(r.Batches), plural(r.Containers, "jar"), r.Into))
	if r.Whole() {
		e.say("nothing is lost\n")
	} else {
		e.say("%s\n", e.heading("WHAT IS LOST"))
		t := table{right: []bool{false, true}}
		t.add("events", when(r.TailLost, "at least ")+fmt.Sprint(r.LostEvents))
		t.add("batches, jars and texts with losses", fmt.Sprint(len(r.Incomplete)+r.MoreIncomplete))
		t.write(e.out, "  ")
	}
	e.putIn(e.amber, "  ! ", when(r.TailLost, "later events may be lost as well: hepar cannot tell"))
	listFindings(e, "  - ", "damage:", r.Damage, r.MoreDamage)
	listFindings(e, "  - ", "incomplete:", r.Incomplete, r.MoreIncomplete)
}
