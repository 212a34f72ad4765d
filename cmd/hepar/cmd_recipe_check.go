package main

import (
	"path/filepath"
	"strings"

	"github.com/urfave/cli/v2"

	"hepar/recipe"
	"hepar/recipe/fault"
	"hepar/recipe/safety"
	"hepar/recipes"
)

func recipeCheck(e *env) *cli.Command {
	return &cli.Command{
		Name: "check", Usage: "find all that is wrong in recipe files", ArgsUsage: "FILE...",
		Description: `Reads each file and prints everything wrong in it: file:line:column, what stands
there, what to do. What could hurt someone is refused with exit code 3.`,
		Action: func(c *cli.Context) error {
			if err := arguments(c, 1, -1, "a recipe file"); err != nil {
				return err
			}
			return runRecipeCheck(e, c.Args().Slice())
		},
	}
}

func runRecipeCheck(e *env, files []string) error {
	code := exitDone
	for _, file := range files {
		r, findings, err := recipe.Read(file)
		if err != nil {
			return err
		}
		if r != nil {
			findings = append(findings, checkWhole(file, r)...)
		}
		for _, f := range findings {
			code = max(code, exitFailure)
			if f.Refused {
				code = exitSafety
			}
		}
		if e.json {
			if err := e.printJSON(map[string]any{"file": file, "ok": len(findings) == 0, "findings": findingsJSON(findings)}); err != nil {
				return err
			}
			continue
		}
		for _, f := range findings {
			e.say("%s\n", strings.Join(f.Lines(), "\n"))
		}
		if len(findings) == 0 {
			e.say("%s: nothing wrong found in %s, revision %d, %s\n", oneLine(file), r.Slug, r.Revision, shortDigest(r.Digest))
		}
	}
	if code != exitDone {
		return &foundError{code}
	}
	return nil
}

// checkWhole looks at what only the recipe as a whole shows: its name, and the
// order of its steps.
func checkWhole(file string, r *recipe.Recipe) []recipe.Finding {
	var out []recipe.Finding
	if !recipe.ValidSlug(r.Slug) {
		out = append(out, recipe.Finding{File: file, Text: filepath.Base(file), What: "the file's name is not a recipe's name",
			Cure: "use small letters, digits and hyphens, for instance antique-black.toml"})
	} else if _, err := recipes.FS.Open(r.Slug + ".toml"); err == nil {
		out = append(out, recipe.Finding{File: file, Text: r.Slug, What: "a built-in recipe has this name", Cure: "rename the file; yours cannot stand in for it silently"})
	}
	for _, p := range safety.Sequence(r) {
		if p.Level == safety.StopLevel {
			out = append(out, recipe.Finding{File: file, What: p.Text, Cure: "change the order of the steps; source: " + p.Source, Refused: true})
		}
	}
	return out
}

func findingsJSON(findings []recipe.Finding) []map[string]any {
	out := []map[string]any{}
	for _, f := range findings {
		out = append(out, map[string]any{"line": f.Line, "column": f.Column, "text": f.Text, "what": f.What, "do": f.Cure, "refused": f.Refused})
	}
	return out
}

// printFindings prints findings to standard error, as part of a message.
func printFindings(e *env, findings []recipe.Finding) {
	for _, f := range findings {
		e.note("%s\n", strings.Join(f.Lines(), "\n"))
	}
}

// fromFindings makes an error of a recipe that cannot be used.
func fromFindings(slug string, findings []recipe.Finding) error {
	if err := recipe.Findings(findings).Of("recipe"); err != nil {
		return err
	}
	return fault.Failuref("the recipe %s cannot be read", slug)
}
