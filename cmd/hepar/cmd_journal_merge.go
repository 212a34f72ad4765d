package main

import (
	"fmt"
	"strings"

	"github.com/urfave/cli/v2"

	"hepar/journal"
)

func journalMerge(e *env) *cli.Command {
	return &cli.Command{
		Name: "merge", Usage: "merge the journal of another bench into this one", ArgsUsage: "JOURNAL",
		Description: `Takes over the batches and the containers of another journal with all their events, and leaves
that journal as it is. What both have is not doubled, and merging again changes nothing.
A batch that both benches changed keeps the events of both, and is listed: look at it.
Numbers stay. If both benches gave out the same one, an ending tells the batches apart.

EXAMPLES
   hepar journal merge --dry-run /mnt/stick/bench2.db
   hepar journal merge /mnt/stick/bench2.db`,
		Flags: []cli.Flag{
			&cli.BoolFlag{Name: "dry-run", Usage: "say what would happen, and change nothing"},
			&cli.StringFlag{Name: "by", Usage: "who merges"},
		},
		Action: at(e, 1, 1, "the journal of the other bench", func(c *cli.Context, p *place) error {
			told := newProgress(e, "batches compared")
			r, err := p.journal.Merge(c.Args().First(), journal.MergeOptions{By: c.String("by"), DryRun: c.Bool("dry-run"), Progress: told.tell})
			told.end()
			if err != nil {
				return err
			}
			listConflicts(e, c.Args().First(), r.Conflicts, r.More)
			if e.json {
				return e.printJSON(r)
			}
			verb := "merged"
			if r.DryRun {
				verb = "would merge"
			}
			e.say("%s %s%s%s%s%s\n", verb, isOrAre(r.New, "new batch", "new batches"), also(r.Further, "gets more events", "get more events"), also(r.Same, "is the same", "are the same"),
				also(r.Containers, "container", "containers"), also(len(r.Conflicts)+r.More, "is not the same at both benches", "are not the same at both benches"))
			return nil
		}),
	}
}

// listConflicts prints the batches that are not the same here and there.
func listConflicts(e *env, name string, conflicts []journal.Conflict, more int) {
	for _, c := range conflicts {
		where := oneLine(name) + ": "
		if c.Line > 0 {
			where = fmt.Sprintf("%s:%d: ", oneLine(name), c.Line)
		}
		kept := "it stays as it is here"
		if c.Merged {
			kept = "the events of both are kept; look at it with hepar journal show " + c.Number
		}
		what := "batch"
		if strings.HasPrefix(c.Number, "S-") {
			what = "container"
		}
		e.note("%s", wrap(where, fmt.Sprintf("%s %s: %s; %s", what, c.Number, c.What, kept)))
		listEvents(e, "    only here: ", c.Here)
		listEvents(e, "    only there: ", c.There)
	}
	if more > 0 {
		e.note("... and %s more batches that are not the same\n", grouped(more))
	}
}

func listEvents(e *env, first string, events []*journal.Event) {
	for _, ev := range events {
		e.note("%s", wrap(first, strings.Join(nonEmpty(ev.At.Time().Format("2006-01-02 15:04 -07:00"), ev.By, eventText(ev)), ", ")))
	}
}
