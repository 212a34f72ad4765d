package main

import (
	"fmt"
	"strings"

	"github.com/urfave/cli/v2"

	"hepar/journal/demo"
	"hepar/recipe/measure"
)

// demoBatches is the number of batches in the demo journal by default.
const demoBatches = 320

func demoCommand(e *env) *cli.Command {
	return &cli.Command{
		Name: "demo", Usage: "fill a folder with a made-up workshop to explore", ArgsUsage: "FOLDER",
		Description: `Fills a new folder with a made-up workshop: a shop file, two recipes of its own and a
journal of batches over two years. The program's own model made them.

EXAMPLES
   hepar demo fernholm`,
		Flags: []cli.Flag{&cli.StringFlag{Name: "batches", Usage: fmt.Sprintf("COUNT: batches in the journal (default %d)", demoBatches)}},
		Action: func(c *cli.Context) error {
			if err := arguments(c, 1, 1, "a folder"); err != nil {
				return err
			}
			n := demoBatches
			if err := take(c, "batches", func(s string) (int, error) { return measure.ParseCount(s, 1, 10_000_000) }, &n); err != nil {
				return err
			}
			return runDemo(e, c.Args().First(), n)
		},
	}
}

func runDemo(e *env, dir string, n int) error {
	told := newProgress(e, "batches")
	f, err := demo.Write(dir, n, e.now(), told.tell)
	told.end()
	if err != nil {
		return err
	}
	if e.json {
		return e.printJSON(map[string]any{"shop": f.Shop, "recipes": f.Recipes, "journal": f.Journal, "batches": f.Batches})
	}
	set := fmt.Sprintf("--shop %s --recipes %s --journal %s", quoted(f.Shop), quoted(f.Recipes), quoted(f.Journal))
	e.say("%s is a made-up workshop with %s. Three commands to try:\n\n", oneLine(dir), batchesText(f.Batches))
	e.say("hepar journal list --limit 10 --journal %s\n\n", quoted(f.Journal))
	e.say("hepar prepare --piece token-24 --pieces 60 \\\n  %s\n\n", set)
	e.say("hepar review fernholm-token-black --recipes %s\n", quoted(f.Recipes))
	return nil
}

// quoted returns a path as one word for a shell.
func quoted(path string) string {
	if !strings.ContainsAny(path, " \t\n'\"\\$&|;<>()*?[]#~`!{}") {
		return oneLine(path)
	}
	return "'" + strings.ReplaceAll(oneLine(path), "'", `'\''`) + "'"
}
