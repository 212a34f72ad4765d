package main

import (
	"fmt"
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
		Name: "check", Usage: "find everything that is wrong in recipe files", ArgsUsage: "FILE...",
		Description: `Reads each file and prints everything that is wrong in it: file:line:column, the text at
that place, what to do. Refuses what could hurt someone, with exit code 3.
A text that names a substance must have it declared: with = "..." where it is used,
warns_of = ["vinegar"] where the text only warns of it. Write the names that hepar knows:
it cannot understand other languages. Declare a product that it does not know under
[[substance]] in the shop file.`,
		Action: at(e, 1, -1, "a recipe file", func(c *cli.Context, _ *place) error { return runRecipeCheck(e, c.Args().Slice()) }),
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
			e.noteBuiltin(r)
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

// checkWhole checks what only the whole recipe shows: its name, what its texts promise,
// and the order of its steps.
func checkWhole(file string, r *recipe.Recipe) []recipe.Finding {
	var out []recipe.Finding
	if !recipe.ValidSlug(r.Slug) {
		out = append(out, recipe.Finding{File: file, Text: filepath.Base(file), What: "the file name cannot be the name of a recipe",
			Cure: "use small letters, digits and hyphens, for instance antique-black.toml"})
	}
	for _, said := range r.Texts() {
		if found := safety.Claims(said.Text); len(found) > 0 {
			out = append(out, recipe.Finding{File: file, Line: said.Line, Column: min(said.Line, 1), Text: said.Text,
				What: fmt.Sprintf("%s promises what no recipe can: %s", said.Key, strings.Join(found, ", ")),
				Cure: "take it out; the data sheet and the local authority decide"})
		}
	}
	for _, p := range safety.Sequence(r) {
		if p.Level == safety.Stop {
			out = append(out, recipe.Finding{File: file, What: p.Text, Cure: p.Cure + "; source: " + p.Source, Refused: true})
		}
	}
	return out
}

// noteBuiltin reports that a file has the name of a built-in recipe and says something
// else.
func (e *env) noteBuiltin(r *recipe.Recipe) {
	library, _, err := recipe.Load(recipes.FS, "")
	if err != nil || library.Where(r.Slug) == "" {
		return
	}
	if builtin, err := library.Get(r.Slug); err != nil || builtin.Digest != r.Digest {
		e.note("%s", wrap("note: ", "there is a built-in recipe "+r.Slug+" too; in your own folder this file is used instead of it"))
	}
}

func findingsJSON(findings []recipe.Finding) []map[string]any {
	out := []map[string]any{}
	for _, f := range findings {
		out = append(out, map[string]any{"line": f.Line, "column": f.Column, "text": f.Text, "what": f.What, "do": f.Cure, "refused": f.Refused})
	}
	return out
}

// printFindings prints findings to standard error.
func printFindings(e *env, findings []recipe.Finding) {
	for _, f := range findings {
		e.note("%s\n", strings.Join(f.Lines(), "\n"))
	}
}

// showFindings prints the findings inside an error, if there are any, and returns the
// error that is left to report.
func (e *env) showFindings(err error) error {
	findings := recipe.FindingsOf(err)
	if len(findings) == 0 {
		return err
	}
	printFindings(e, findings)
	return &foundError{exitFailure}
}

// fromFindings turns findings into the error of a recipe that cannot be used.
func fromFindings(slug string, findings []recipe.Finding) error {
	if err := recipe.Findings(findings).Of("recipe"); err != nil {
		return err
	}
	return fault.Failuref("the recipe %s cannot be read", slug)
}
