package main

import (
	"github.com/urfave/cli/v2"
)

func journalCommand(e *env) *cli.Command {
	return &cli.Command{
		Name: "journal", Usage: "the batches: list, show, sum, amend, export, import, merge, verify, backup",
		Subcommands: []*cli.Command{
			journalList(e), journalShow(e), journalSum(e), journalAmend(e), journalExport(e), journalImport(e), journalMerge(e),
			journalWaste(e), journalPhoto(e), journalSignOff(e), journalWithdraw(e),
			journalVerify(e), journalBackup(e), journalRestore(e), journalSalvage(e), journalCompact(e),
		},
	}
}
