package main

import (
	"strings"

	"hepar/journal/demo"
	"hepar/recipe/fault"
)

func demoCommand(e *env) *verb {
	n := 320
	return command("demo FOLDER", "fill a folder with a made-up workshop to explore", func(c *call) {
		readFlags(c)
		dir := c.Args().First()
		f := fault.Must(demo.Write(dir, n, e.now(), e.progress("events")))
		e.show(map[string]any{"shop": f.Shop, "recipes": f.Recipes, "journal": f.Journal, "batches": f.Batches}, func() {
			e.say("%s is a made-up workshop with %s. Three commands to try:\n\n", oneLine(dir), batchesText(f.Batches))
			e.say("hepar journal list --limit 10 --journal %s\n\n", quoted(f.Journal))
			e.say("hepar prepare --piece token-24 --pieces 60 \\\n  --shop %s --recipes %s --journal %s\n\n", quoted(f.Shop), quoted(f.Recipes), quoted(f.Journal))
			e.say("hepar review fernholm-token-black --recipes %s\n", quoted(f.Recipes))
		})
	}, value("batches", "COUNT: batches in the journal (default 320)", countUpTo(1, 10_000_000), &n))
}

// quoted returns a path as one word for a shell.
func quoted(path string) string {
	if !strings.ContainsAny(path, " \t\n'\"\\$&|;<>()*?[]#~`!{}") {
		return oneLine(path)
	}
	return "'" + strings.ReplaceAll(oneLine(path), "'", `'\''`) + "'"
}
