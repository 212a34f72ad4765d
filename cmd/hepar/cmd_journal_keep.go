package main

import (
	"fmt"

	"hepar/journal"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

func keepCommands(e *env) []*verb {
	var o journal.RestoreOptions
	return []*verb{
		command("verify", "prove that nothing was altered, dropped or damaged", at(e, func(p *place) {
			report := fault.Must(p.journal.Verify())
			n := len(report.Findings)
			e.show(report, func() { printVerified(e, report) })
			refuse(n > 0, fault.Damagedf("the journal has %s", plural(n+report.More, "finding")).At(measure.Clean(p.journal.Path())).
				Try("write nothing more to it: copy the file, then run 'hepar journal restore' with a backup, or 'hepar journal salvage'"))
		})),
		command("backup", "write a dated, verified copy and prune old ones", at(e, runBackup),
			text("dir", "folder for the copies; \"backups\" beside the journal if not given"), yes("list", "list the copies")),
		command("restore BACKUP", "put a backup in the place of the journal and keep the old file", at(e, func(p *place) {
			r, err := p.journal.Restore(p.Args().First(), o)
			for _, l := range r.Lost {
				e.tell("  lacks: ", fmt.Sprintf("%s, %s, event %s", l.At.Format("2006-01-02 15:04"), l.Kind, l.ID))
			}
			fault.Check(err)
			e.show(r, func() { printRestored(e, r, o.DryRun) })
		}),
			yes("dry-run", "say what would happen and change nothing", &o.DryRun),
			yes("lose-events", "restore although the journal has events that the backup lacks", &o.LoseEvents),
			yes("other-journal", "restore although it is a backup of another journal", &o.OtherJournal)),
		command("salvage NEWFILE", "save what can be read of a damaged journal in a new one", at(e, func(p *place) {
			r := fault.Must(p.journal.Salvage(p.Args().First()))
			e.show(r, func() { printSalvage(e, r) })
		})),
		command("compact", "write the journal anew without unused room", at(e, func(p *place) {
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
		p.put("pruned ", r.Pruned...)
	})
}

func bytesText(n int64) string {
	if n < 1<<20 {
		return fmt.Sprintf("%d KiB", (n+1023)/1024)
	}
	return measure.Round(float64(n)/(1<<20), 1) + " MiB"
}

func printRestored(e *env, r journal.RestoreReport, dry bool) {
	verb := either(dry, "would restore", "restored")
	text := fmt.Sprintf("%s %s from %s: %s, %s", verb, r.Path, r.From, batchesText(r.Batches), plural(r.Events, "event"))
	switch {
	case r.OtherJournal:
		text += "; the old file was another journal"
	case r.LostCount > 0:
		text += fmt.Sprintf("; %s of the old file are not in it", plural(r.LostCount, "event"))
	}
	e.put("", text)
	e.put("", wordsIf("the old file is kept as ", r.Kept))
}

func printSalvage(e *env, r journal.SalvageReport) {
	e.put("", fmt.Sprintf("saved %s of %s and %s in %s", plural(r.Events, "event"), batchesText(r.Batches), plural(r.Containers, "container"), r.Into))
	if r.Whole() {
		e.say("nothing is lost\n")
	} else {
		e.say("%s\n", e.heading("WHAT IS LOST"))
		t := table{right: []bool{false, true}}
		t.add("events", when(r.TailLost, "at least ")+fmt.Sprint(r.LostEvents))
		t.add("batches, containers and texts with losses", fmt.Sprint(len(r.Incomplete)+r.MoreIncomplete))
		t.write(e.out, "  ")
	}
	e.putIn(e.amber, "  ! ", when(r.TailLost, "events after the last one may be lost as well: it cannot be told"))
	listFindings(e, "  - ", "damage:", r.Damage, r.MoreDamage)
	listFindings(e, "  - ", "incomplete:", r.Incomplete, r.MoreIncomplete)
}
