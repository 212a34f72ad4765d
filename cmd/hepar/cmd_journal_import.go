package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"syscall"

	"github.com/urfave/cli/v2"

	"hepar/journal"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/metal"
)

func journalImport(e *env) *cli.Command {
	return &cli.Command{
		Name: "import", Usage: "import batches from a file: an export, or a log kept by hand", ArgsUsage: "FILE",
		Description: `Reads what journal export wrote (jsonl has everything, csv the batches and their results), what
stock export wrote (jsonl), or the table of a log kept by hand, with a mapping that says what its
columns are. All of the file is imported or nothing. What is here already is not added twice.
Wrong rows are listed with their lines. The name - means standard input.

EXAMPLES
   hepar journal import --dry-run batches.jsonl
   hepar journal import batches.jsonl
   hepar journal import --template > mapping.toml
   hepar journal import --mapping mapping.toml log.csv`,
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "format", Usage: "jsonl, csv or sheet; if not given, the ending of the name and --mapping decide"},
			&cli.StringFlag{Name: "mapping", Usage: "the file that says what the columns of a sheet are"},
			&cli.BoolFlag{Name: "template", Usage: "print a mapping to begin with"},
			&cli.BoolFlag{Name: "dry-run", Usage: "say what would happen, and change nothing"},
			&cli.BoolFlag{Name: "keep-here", Usage: "if a batch is another here and in the file, leave it as it is here"},
			&cli.StringFlag{Name: "errors", Usage: "list at most this many errors; 100 if not given"},
			&cli.StringFlag{Name: "by", Usage: "who imports them"},
		},
		Action: func(c *cli.Context) error {
			if c.Bool("template") {
				e.say("%s", journal.MappingTemplate())
				return nil
			}
			return at(e, 1, 1, "the file to import", func(c *cli.Context, p *place) error {
				return runImport(e, c, p, c.Args().First())
			})(c)
		},
	}
}

func runImport(e *env, c *cli.Context, p *place, name string) error {
	o := journal.ImportOptions{Source: filepath.Base(name), DryRun: c.Bool("dry-run"), KeepHere: c.Bool("keep-here"), By: c.String("by")}
	var err error
	if o.Format, err = importFormat(c.String("format"), c.IsSet("mapping")); err != nil {
		return err
	}
	in, err := source(e, name)
	if err != nil {
		return err
	}
	defer in.Close()
	if o.Format == "" {
		if o.Format, err = formatOf(name); err != nil {
			return err
		}
	}
	if err := take(c, "errors", atLeastOne, &o.Max); err != nil {
		return err
	}
	if c.IsSet("mapping") {
		if o.Mapping, err = journal.ReadMapping(c.String("mapping")); err != nil {
			return err
		}
	}
	told := newProgress(e, "rows read")
	o.Progress = told.tell
	report, err := p.journal.Import(in, o)
	told.end()
	listRows(e, name, report)
	if err != nil {
		return err
	}
	if e.json {
		err = e.printJSON(report)
	} else {
		sayImport(e, o.Format, o.KeepHere, report)
		if o.Format != journal.JSONLines { // those have their recipe with them
			sayUnknown(e, "recipe", report.Recipes, func(slug string) bool { return p.library.Where(slug) != "" })
			sayUnknown(e, "alloy", report.Alloys, func(name string) bool { _, err := metal.Find(name); return err == nil })
		}
	}
	if err == nil && (len(report.Errors) > 0 || len(report.Conflicts) > 0 && !o.KeepHere) {
		return &foundError{exitFailure}
	}
	return err
}

// importFormat tells from the flags what sort of file it is; empty where they do not say.
func importFormat(given string, mapped bool) (string, error) {
	switch given {
	case "":
	case journal.CSV, journal.JSONLines, journal.Sheet:
		if mapped && given != journal.Sheet {
			return "", fault.Usagef("a mapping has no effect on %s", given).At("--mapping").Try("leave out --mapping, or write --format sheet")
		}
		return given, nil
	default:
		return "", fault.Usagef("%q is not a format", measure.Clean(given)).At("--format").Try("write jsonl, csv or sheet")
	}
	if mapped {
		return journal.Sheet, nil
	}
	return "", nil
}

// formatOf tells what sort of file it is from its name.
func formatOf(name string) (string, error) {
	switch strings.ToLower(filepath.Ext(name)) {
	case ".jsonl", ".ndjson", ".json":
		return journal.JSONLines, nil
	case ".csv":
		return journal.CSV, nil
	}
	return "", fault.Usagef("--format is required: the name %s does not tell it", measure.Clean(name)).Try("write --format jsonl or --format csv, or name the --mapping of a sheet")
}

// source opens the file to read, or standard input.
func source(e *env, name string) (io.ReadCloser, error) {
	if name == "-" {
		return io.NopCloser(e.in), nil
	}
	f, err := os.Open(name)
	if err == nil {
		var info os.FileInfo
		if info, err = f.Stat(); err == nil && info.IsDir() {
			err = syscall.EISDIR
		}
	}
	var path *os.PathError
	if errors.As(err, &path) {
		err = path.Err
	}
	if err != nil {
		return nil, fault.Failuref("%s cannot be read", measure.Clean(name)).Because(err).Try("see that the name is right and that you may read the file")
	}
	return f, nil
}

// listRows prints the rows that are wrong and the batches that are not the same.
func listRows(e *env, name string, r journal.ImportReport) {
	for _, bad := range r.Errors {
		e.note("%s", wrap(fmt.Sprintf("%s:%d: ", oneLine(name), bad.Line), bad.What))
		e.note("%s", wrap("  do: ", bad.Cure))
	}
	if r.MoreErrors > 0 {
		e.note("... and %s more errors; --errors lists more of them\n", grouped(r.MoreErrors))
	}
	listConflicts(e, name, r.Conflicts, r.More)
}

func sayImport(e *env, format string, keepHere bool, r journal.ImportReport) {
	verb := "imported"
	if r.DryRun {
		verb = "would import"
	}
	conflicts := len(r.Conflicts) + r.More
	switch {
	case len(r.Errors) > 0: // in a dry run: the import itself ends with an error
		e.say("nothing would be imported: %s of %s wrong\n", grouped(len(r.Errors)+r.MoreErrors), rowsAre(r.Rows))
		return
	case conflicts > 0 && !keepHere:
		e.say("nothing would be imported: %s not the same here and in the file\n", isOrAre(conflicts, "batch is", "batches are"))
		return
	}
	e.say("%s %s of %s%s%s%s%s\n", verb, grouped(r.New), batchesText(r.Rows), also(r.Further, "gets more events", "get more events"),
		also(r.Same, "is here already", "are here already"), also(r.Containers, "container", "containers"), also(conflicts, "is kept as it is here", "are kept as they are here"))
	if r.Aside > 0 {
		e.note("%s", wrap("note: ", grouped(r.Aside)+" had a review, a dip, lots, waste, photos or a sign-off, which an import leaves aside in a table; export with --format jsonl to keep them"))
	}
	if r.WithoutText > 0 && format == journal.JSONLines {
		e.note("%s", wrap("note: ", grouped(r.WithoutText)+" came without the text of their recipes; export with --whole to bring it, and import again"))
	}
}

// sayUnknown names the recipes and metals of a table that hepar does not know: after a slip
// in the mapping the batches can only be withdrawn.
func sayUnknown(e *env, what string, counts map[string]int, known func(string) bool) {
	for _, word := range keys(counts) {
		switch {
		case word == "":
			e.note("note: %s without a metal\n", batchesText(counts[word])) // every row has a recipe
		case !known(word):
			e.note("%s", wrap("note: ", fmt.Sprintf("%s of the %s %q, which hepar does not know: put it under [names.%s] of a mapping, or leave it", batchesText(counts[word]), what, word, what)))
		}
	}
}

func rowsAre(rows int) string { return isOrAre(rows, "row is", "rows are") }

// isOrAre puts a count before what agrees with it.
func isOrAre(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return grouped(n) + " " + many
}

// also puts a further count behind a sentence, where it is not nothing.
func also(n int, one, many string) string {
	if n == 0 {
		return ""
	}
	return ", " + isOrAre(n, one, many)
}
