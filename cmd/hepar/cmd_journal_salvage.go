package main

import (
	"fmt"

	"github.com/urfave/cli/v2"

	"hepar/journal"
)

func journalSalvage(e *env) *cli.Command {
	return &cli.Command{
		Name: "salvage", Usage: "read what can be read of a damaged journal into a new one", ArgsUsage: "NEWFILE",
		Description: `Reads the journal, which may be damaged in any way and is not touched, into a new file,
and lists exactly what is lost. The new file verifies, and says for ever what it lacks.

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
	e.say("%s", wrap("", fmt.Sprintf("saved %s in %s and %s into %s", plural(r.Events, "event"), batchesText(r.Batches), plural(r.Containers, "container"), r.Into)))
	if r.Whole() {
		e.say("nothing is lost\n")
		return
	}
	e.say("%s\n", e.heading("WHAT IS LOST"))
	t := table{right: []bool{false, true}}
	t.add("places that cannot be read", fmt.Sprint(len(r.Damage)+r.MoreDamage))
	missing := fmt.Sprint(r.LostEvents)
	if r.TailLost {
		missing = "at least " + missing
	}
	t.add("events missing", missing)
	t.add("batches and containers of which something is lost", fmt.Sprint(len(r.Incomplete)+r.MoreIncomplete))
	t.write(e.out, "  ")
	if r.TailLost {
		e.say("%s", e.amber(wrap("  ! ", "whether events were lost after the last one cannot be told")))
	}
	for _, list := range [][]journal.Finding{r.Damage, r.Incomplete} {
		for _, f := range list {
			e.say("%s", wrap("  - ", f.Where+": "+f.What))
		}
	}
}
