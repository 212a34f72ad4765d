package main

import (
	"cmp"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"syscall"

	"hepar/journal"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/metal"
)

func journalExport(e *env) *verb {
	var f journal.Filter
	return exportCommand(e, "write the batches as CSV or JSON Lines", journal.Schema, noBatchesYet, func(p *place, format string) {
		checkFilter(p, &f)
		refuse(f.Frozen && format != journal.JSONLines, fault.Usagef("a table cannot hold recipes and sheets").At("--whole").Try("write --format jsonl --whole"))
		bytes, tell := 0, p.progress("KiB written")
		n := fault.Must(p.journal.Export(io.MultiWriter(p.out, counter(func(n int) {
			bytes += n
			tell(bytes >> 10)
		})), format, f))
		p.note("%s written\n", batchesText(n))
	}, append(append(filterFlags(e, &f), orderingFlags(&f)...), yes("whole", "jsonl with the text of each recipe and sheet", &f.Frozen))...)
}

// exportCommand makes a command that prints the schema of an export where it is asked for, or has
// it written in the format that the flags name; --json asks for lines of JSON.
func exportCommand(e *env, usage, schema, none string, write func(p *place, format string), flags ...option) *verb {
	var format string
	return command("export", usage, at(e, func(p *place) {
		if p.Bool("schema") {
			p.out.WriteString(schema)
			return
		}
		refuse(p.json && format == journal.CSV, fault.Usagef("csv contradicts --json").At("--format").Try("leave one of the two out"))
		p.ifKept(none)
		write(p, cmp.Or(when(p.json, journal.JSONLines), format, journal.CSV))
	}), append(flags, value("format", "csv or jsonl", oneOf("a format", journal.CSV, journal.JSONLines), &format),
		yes("schema", "print the JSON Schema of a line of jsonl"))...)
}

// counter hears how many bytes go through.
type counter func(bytes int)

func (c counter) Write(b []byte) (int, error) {
	c(len(b))
	return len(b), nil
}

func batchesText(n int) string { return measure.Counted(n, "batch", "batches") }

func journalImport(e *env) *verb {
	var o journal.ImportOptions
	return command("import [FILE]", "import batches from a file: an export, or a log kept by hand", at(e, func(p *place) { runImport(p, o) }),
		value("format", "FORMAT: jsonl, csv or sheet (default: as the file name and --mapping show)",
			oneOf("a format", journal.JSONLines, journal.CSV, journal.Sheet), &o.Format),
		text("mapping", "FILE: a file that says what the columns of the table are"),
		yes("template", "print a mapping to fill in"),
		yes("dry-run", "say what would happen, and change nothing", &o.DryRun),
		yes("keep-here", "if a batch differs here and in the file, keep it as it is here", &o.KeepHere),
		value("errors", "COUNT: list at most this many errors (default 100)", atLeastOne, &o.Max),
		text("by", "NAME: person who imports", &o.By))
}

func runImport(p *place, o journal.ImportOptions) {
	if p.Bool("template") {
		p.out.WriteString(journal.MappingTemplate)
		return
	}
	refuse(p.NArg() == 0, fault.Usagef("journal import: FILE is missing").Try("see \"hepar journal import --help\""))
	name := p.Args().First()
	o.Source = filepath.Base(name)
	if p.IsSet("mapping") {
		refuse(o.Format != "" && o.Format != journal.Sheet,
			fault.Usagef("a mapping has no effect on %s", o.Format).At("--mapping").Try("leave out --mapping, or write --format sheet"))
		o.Format, o.Mapping = journal.Sheet, fault.Must(journal.ReadMapping(p.String("mapping")))
	}
	endings := map[string]string{".jsonl": journal.JSONLines, ".ndjson": journal.JSONLines, ".json": journal.JSONLines, ".csv": journal.CSV}
	o.Format = cmp.Or(o.Format, endings[strings.ToLower(filepath.Ext(name))])
	in := source(p.env, name)
	defer in.Close()
	refuse(o.Format == "",
		fault.Usagef("--format is required: the name %s does not show the format", measure.Clean(name)).
			Try("write --format jsonl or --format csv, or give --mapping for a table of another kind"))
	report, err := p.journal.Import(in, o)
	listRows(p.env, name, report)
	fault.Check(err)
	p.show(report, func() {
		sayImport(p.env, o.Format, o.KeepHere, report)
		if o.Format != journal.JSONLines { // those have their recipe with them
			sayUnknown(p.env, "recipe", report.Recipes, func(slug string) bool { return p.library.Where(slug) != "" })
			sayUnknown(p.env, "alloy", report.Alloys, func(name string) bool { _, err := metal.Find(name); return err == nil })
		}
	})
	refuse(len(report.Errors) > 0 || len(report.Conflicts) > 0 && !o.KeepHere, &foundError{exitFailure})
}

func source(e *env, name string) io.ReadCloser {
	if name == "-" {
		return io.NopCloser(e.in)
	}
	f, err := os.Open(name)
	if err == nil {
		var info os.FileInfo
		if info, err = f.Stat(); err == nil && info.IsDir() {
			err = syscall.EISDIR
		}
	}
	refuse(err != nil,
		fault.Failuref("%s cannot be read", measure.Clean(name)).Because(withoutPath(err)).
			Try("check the name, and that you may read the file"))
	return f
}

func listRows(e *env, name string, r journal.ImportReport) {
	for _, bad := range r.Errors {
		e.tell(fmt.Sprintf("%s:%d: ", oneLine(name), bad.Line), bad.What)
		e.tell("  do: ", bad.Cure)
	}
	e.tell("... ", when(r.MoreErrors > 0, "and "+measure.Grouped(r.MoreErrors)+" more errors; to list them, give --errors a larger number"))
	listConflicts(e, name, r.Conflicts, r.More)
}

func sayImport(e *env, format string, keepHere bool, r journal.ImportReport) {
	verb := either(r.DryRun, "would import", "imported")
	conflicts := len(r.Conflicts) + r.More
	switch {
	case len(r.Errors) > 0: // in a dry run: the import itself ends with an error
		e.say("nothing would be imported: %s of %s wrong\n", measure.Grouped(len(r.Errors)+r.MoreErrors), measure.Counted(r.Rows, "row is", "rows are"))
		return
	case conflicts > 0 && !keepHere:
		e.say("nothing would be imported: %s here and in the file\n", measure.Counted(conflicts, "batch differs", "batches differ"))
		return
	}
	e.say("%s %s of %s%s%s%s%s\n", verb, measure.Grouped(r.New), batchesText(r.Rows), also(r.Further, "gets more events", "get more events"),
		also(r.Same, "is here already", "are here already"), also(r.Containers, "jar", "jars"), also(conflicts, "is kept as it is here", "are kept as they are here"))
	e.tell("note: ", when(r.Aside > 0, measure.Grouped(r.Aside)+" had a review, a dip, lots, waste, photos or a sign-off, which an import from a table does not keep; "+
		"to keep them, export with --format jsonl"), when(r.WithoutText > 0 && format == journal.JSONLines,
		measure.Grouped(r.WithoutText)+" came without the text of their recipes; to add it, export with --whole and import again"))
}

// sayUnknown names the recipes and metals of a table that hepar does not know.
func sayUnknown(e *env, what string, counts map[string]int, known func(string) bool) {
	for _, word := range keys(counts) {
		switch {
		case word == "":
			e.note("note: %s without a metal\n", batchesText(counts[word])) // every row has a recipe
		case !known(word):
			e.tell("note: ", fmt.Sprintf("%s of the %s %q, which hepar does not know: put it under [names.%s] of a mapping, or leave it as it is", batchesText(counts[word]), what, word, what))
		}
	}
}

// also puts a further count behind a sentence, where it is not nothing.
func also(n int, one, many string) string { return when(n != 0, ", "+measure.Counted(n, one, many)) }

func journalMerge(e *env) *verb {
	o := journal.ImportOptions{}
	return command("merge JOURNAL", "merge the journal of another bench into this one", at(e, func(p *place) {
		r := fault.Must(p.journal.Merge(p.Args().First(), o))
		listConflicts(e, p.Args().First(), r.Conflicts, r.More)
		e.show(r, func() {
			verb := either(r.DryRun, "would merge", "merged")
			e.say("%s %s%s%s%s%s\n", verb, measure.Counted(r.New, "new batch", "new batches"), also(r.Further, "gets more events", "get more events"), also(r.Same, "is the same", "are the same"),
				also(r.Containers, "jar", "jars"), also(len(r.Conflicts)+r.More, "differs between the benches", "differ between the benches"))
		})
	}), yes("dry-run", "say what would happen, and change nothing", &o.DryRun), text("by", "NAME: person who merges", &o.By))
}

func listConflicts(e *env, name string, conflicts []journal.Conflict, more int) {
	for _, c := range conflicts {
		where := either(c.Line > 0, fmt.Sprintf("%s:%d: ", oneLine(name), c.Line), oneLine(name)+": ")
		kept := either(c.Merged, "the events of both are kept; look at it with hepar journal show "+c.Number, "it stays as it is here")
		what := either(strings.HasPrefix(c.Number, "S-"), "jar", "batch")
		e.tell(where, fmt.Sprintf("%s %s: %s; %s", what, c.Number, c.What, kept))
		listEvents(e, "    only here: ", c.Here)
		listEvents(e, "    only there: ", c.There)
	}
	e.tell("... ", when(more > 0, "and "+measure.Grouped(more)+" more batches that differ"))
}

func listEvents(e *env, first string, events []*journal.Event) {
	e.tell(first, mapped(events, func(ev *journal.Event) string {
		return strings.Join(nonEmpty(moment(ev.At), ev.By, eventText(ev)), ", ")
	})...)
}
