package main

import (
	"fmt"

	"github.com/urfave/cli/v2"

	"hepar/journal"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

func journalBackup(e *env) *cli.Command {
	return &cli.Command{
		Name: "backup", Usage: "write a dated, verified copy and prune old ones",
		Description: `Copies the journal while others go on, verifies the copy and gives it a dated name.
Of older ones it keeps the last ten, one a day for thirty days, and one of every month.

EXAMPLES
   hepar journal backup
   hepar journal backup --dir /mnt/stick/hepar
   hepar journal backup --list`,
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "dir", Usage: "folder for the copies; \"backups\" beside the journal if not given"},
			&cli.BoolFlag{Name: "list", Usage: "list the copies"},
		},
		Action: at(e, 0, 0, "", func(c *cli.Context, p *place) error {
			if c.Bool("list") {
				return listBackups(e, p, c.String("dir"))
			}
			r, err := p.journal.Backup(c.String("dir"))
			if err != nil {
				return err
			}
			if e.json {
				return e.printJSON(r)
			}
			e.say("%s", wrap("", fmt.Sprintf("wrote and verified %s: %s, %s, %s", r.Path, batchesText(r.Batches), plural(r.Events, "event"), bytesText(r.Bytes))))
			for _, old := range r.Pruned {
				e.say("%s", wrap("pruned ", old))
			}
			return nil
		}),
	}
}

func listBackups(e *env, p *place, dir string) error {
	list, err := p.journal.Backups(dir)
	if err != nil {
		return err
	}
	if e.json {
		for _, b := range list {
			if err := e.printJSON(b); err != nil {
				return err
			}
		}
		return nil
	}
	t := table{head: []string{"made (UTC)", "events", "size", "file"}, right: []bool{false, true, true}}
	for _, b := range list {
		t.add(b.Made.Format("2006-01-02 15:04"), fmt.Sprint(b.Events), bytesText(b.Bytes), b.Path)
	}
	if len(t.rows) == 0 {
		e.note("there are no backups\n")
		return nil
	}
	t.write(e.out, "")
	return nil
}

func bytesText(n int64) string {
	if n < 1<<20 {
		return fmt.Sprintf("%d KiB", (n+1023)/1024)
	}
	return measure.Round(float64(n)/(1<<20), 1) + " MiB"
}

func journalRestore(e *env) *cli.Command {
	return &cli.Command{
		Name: "restore", Usage: "put a backup in the place of the journal and keep the old file", ArgsUsage: "BACKUP",
		Description: `Verifies the backup first, lists the events of the journal that it lacks, and keeps the
old file under a dated name.`,
		Flags: []cli.Flag{
			&cli.BoolFlag{Name: "dry-run", Usage: "say what would happen and change nothing"},
			&cli.BoolFlag{Name: "lose-events", Usage: "restore although the journal has events that the backup lacks"},
			&cli.BoolFlag{Name: "other-journal", Usage: "restore although it is a backup of another journal"},
		},
		Action: at(e, 1, 1, "a backup", func(c *cli.Context, p *place) error {
			r, err := p.journal.Restore(c.Args().First(), journal.RestoreOptions{DryRun: c.Bool("dry-run"), LoseEvents: c.Bool("lose-events"), OtherJournal: c.Bool("other-journal")})
			for _, l := range r.Lost {
				e.note("%s", wrap("  lacks: ", fmt.Sprintf("%s, %s, event %s", l.At.Format("2006-01-02 15:04"), l.Kind, l.ID)))
			}
			if err != nil {
				return err
			}
			if e.json {
				return e.printJSON(r)
			}
			verb := "restored"
			if c.Bool("dry-run") {
				verb = "would restore"
			}
			text := fmt.Sprintf("%s %s from %s: %s, %s", verb, r.Path, r.From, batchesText(r.Batches), plural(r.Events, "event"))
			switch {
			case r.OtherJournal:
				text += "; the old file was another journal"
			case r.LostCount > 0:
				text += fmt.Sprintf("; %s of the old file are not in it", plural(r.LostCount, "event"))
			}
			e.say("%s", wrap("", text))
			if r.Kept != "" {
				e.say("%s", wrap("", "the old file is kept as "+r.Kept))
			}
			return nil
		}),
	}
}

func journalCompact(e *env) *cli.Command {
	return &cli.Command{
		Name: "compact", Usage: "write the journal anew without unused room",
		Action: at(e, 0, 0, "", func(c *cli.Context, p *place) error {
			r, err := p.journal.Compact()
			if err != nil {
				return err
			}
			if e.json {
				return e.printJSON(r)
			}
			e.say("from %s to %s: %s, %s\n", bytesText(r.Before), bytesText(r.After), batchesText(r.Batches), plural(r.Events, "event"))
			return nil
		}),
	}
}

// damaged turns findings into the error that ends a command.
func damaged(p *place, n int) error {
	return fault.Damagedf("the journal has %s", plural(n, "finding")).At(measure.Clean(p.journal.Path())).
		Try("write nothing more to it: copy the file, then run 'hepar journal restore' with a backup, or 'hepar journal salvage'")
}
