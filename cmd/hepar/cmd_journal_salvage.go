package main

import (
	"fmt"

	"github.com/urfave/cli/v2"

	"hepar/journal"
)

func journalSalvage(e *env) *cli.Command {
	return &cli.Command{
		Name: "salvage", Usage: "save what can be read of a damaged journal in a new one", ArgsUsage: "NEWFILE",
		Description: `Reads a journal that may be damaged in any way, writes what it finds into a new file, and
lists what is lost. The damaged file is not changed. The new journal always says what it lacks.

EXAMPLES
   hepar journal salvage --journal broken.db saved.db`,
		Action: at(e, 1, 1, "a name for the new file", func(c *cli.Context, p *place) error {
			r, err := p.journal.Salvage(c.Args().First())
			if err != nil {
				return err
			}
			if e.json {
				return e.printJSON(r)
			}
			printSalvage(e, r)
			return nil
		}),
	}
}

func printSalvage(e *env, r journal.SalvageReport) {
	e.say("%s", wrap("", fmt.Sprintf("saved %s of %s and %s in %s", plural(r.Events, "event"), batchesText(r.Batches), plural(r.Containers, "container"), r.Into)))
	if r.Whole() {
		e.say("nothing is lost\n")
	} else {
		e.say("%s\n", e.heading("WHAT IS LOST"))
		missing := fmt.Sprint(r.LostEvents)
		if r.TailLost {
			missing = "at least " + missing
		}
		t := table{right: []bool{false, true}}
		t.add("events", missing)
		t.add("batches, containers and texts of which something is lost", fmt.Sprint(len(r.Incomplete)+r.MoreIncomplete))
		t.write(e.out, "  ")
	}
	if r.TailLost {
		e.say("%s", e.amber(wrap("  ! ", "events after the last one may be lost as well: it cannot be told")))
	}
	listFindings(e, "damage:", r.Damage, r.MoreDamage)
	listFindings(e, "incomplete:", r.Incomplete, r.MoreIncomplete)
}
