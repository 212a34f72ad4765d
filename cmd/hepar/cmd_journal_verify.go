package main

import (
	"fmt"

	"github.com/urfave/cli/v2"

	"hepar/journal"
)

func journalVerify(e *env) *cli.Command {
	return &cli.Command{
		Name: "verify", Usage: "prove that nothing was altered, dropped or damaged",
		Description: `Reads the whole journal: each checksum, the chain of events, the indexes against the batches,
the pages of the file. Note the digest of the last event elsewhere from time to time: with it
you can prove later that nothing before it was changed.`,
		Action: at(e, 0, 0, "", func(c *cli.Context, p *place) error {
			report, err := p.journal.Verify()
			if err != nil {
				return err
			}
			if e.json {
				err = e.printJSON(report)
			} else {
				printVerified(e, report)
			}
			if err == nil && len(report.Findings) > 0 {
				return damaged(p, len(report.Findings)+report.More)
			}
			return err
		}),
	}
}

func printVerified(e *env, r journal.Report) {
	for _, f := range r.Findings {
		e.say("%s", wrap("  ! ", f.Where+": "+f.What))
	}
	if r.More > 0 {
		e.say("%s", wrap("  ! ", fmt.Sprintf("and %s more", grouped(r.More))))
	}
	if len(r.Findings) > 0 {
		return
	}
	e.say("nothing wrong found: %s, %s; the chain and every checksum agree\n", batchesText(r.Batches), plural(r.Events, "event"))
	e.say("digest of the last event: %s\n", r.Head)
	listFindings(e, "what a newer hepar wrote and this one does not understand:", r.Newer, r.MoreNewer)
	listFindings(e, "what was lost before this journal was salvaged:", r.Missing, r.MoreMissing)
}

// listFindings prints a list under a line, and how many more there are.
func listFindings(e *env, line string, list []journal.Finding, more int) {
	if len(list) > 0 {
		e.say("%s\n", line)
	}
	for _, f := range list {
		e.say("%s", wrap("  - ", f.Where+": "+f.What))
	}
	if more > 0 {
		e.say("%s", wrap("  - ", fmt.Sprintf("and %s more", grouped(more))))
	}
}
