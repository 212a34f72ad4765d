package main

import (
	"cmp"
	"runtime"
	"runtime/debug"

	"hepar/journal"
	"hepar/recipe/measure"
)

// version is set by the release build; other builds have none.
var version = ""

// commit returns the commit that the program was built from, or "unknown".
func commit() string {
	if info, ok := debug.ReadBuildInfo(); ok {
		for _, s := range info.Settings {
			if s.Key == "vcs.revision" {
				return s.Value[:min(12, len(s.Value))]
			}
		}
	}
	return "unknown"
}

func versionName() string { return cmp.Or(version, "(not a release)") }

// versionFacts are what --json prints; every object has the schema number already.
func versionFacts() map[string]any {
	return map[string]any{"version": versionName(), "commit": commit(), "go": runtime.Version(), "journal_format": journal.Format}
}

func versionCommand(e *env) *verb {
	return command("version", "print the version, the commit and the numbers of the formats", func(*call) {
		e.show(versionFacts(), func() {
			e.say("hepar %s\n", versionName())
			t := table{}
			t.facts("commit", commit(), "Go", runtime.Version(), "journal format", measure.Grouped(journal.Format), "JSON schema", measure.Grouped(jsonSchema))
			t.write(e.out, "  ")
		})
	})
}
