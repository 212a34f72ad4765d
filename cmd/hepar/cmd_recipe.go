package main

import (
	"cmp"
	"encoding/json"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"hepar/recipe"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/metal"
	"hepar/recipe/safety"
	"hepar/recipes"
)

func recipeCommand(e *env) *verb {
	var alloy metal.Alloy
	var kind string
	return &verb{Name: "recipe", Usage: "list, show, check or create finishing recipes", Subcommands: []*verb{
		command("list", "list all recipes, built-in and your own", at(e, func(p *place) { listRecipes(p, alloy.Name, kind) }),
			value("alloy", "only recipes for this metal", metal.Find, &alloy),
			value("kind", "only immersed, brushed, sprayed, pickle or stop", oneOf("a kind of recipe", "immersed", "brushed", "sprayed", "pickle", "stop"), &kind)),
		command("show RECIPE", "show one recipe in full", at(e, func(p *place) {
			r := fault.Must(p.recipe(p.Args().First()))
			if p.Bool("toml") {
				lines := strings.Split(strings.ReplaceAll(r.Text, "\t", "    "), "\n")
				e.out.WriteString(strings.Join(mapped(lines, measure.Clean), "\n"))
				return
			}
			e.show(map[string]any{"slug": r.Slug, "title": r.Title, "kind": r.Kind, "revision": r.Revision, "digest": r.Digest, "alloys": r.Alloys,
				"look": r.Look, "source": r.Source, "plated": r.Plated, "file": r.File, "content": json.RawMessage(recipe.Canonical(r))},
				func() { printRecipe(e, p.units, r) })
		}), yes("toml", "print the file itself")),
		command("check FILE...", "find everything that is wrong in recipe files",
			at(e, func(p *place) { checkRecipes(e, p.Args().Slice()) })),
		command("new NAME", "create a commented recipe file to fill in",
			at(e, runRecipeNew),
			text("from", "copy this recipe"), text("output", "create this file instead; - is standard output")),
	}}
}

func listRecipes(p *place, alloy, kind string) {
	recipes, findings := p.library.All()
	recipes = slices.DeleteFunc(recipes, func(r *recipe.Recipe) bool { return !r.For(alloy) || kind != "" && string(r.Kind) != kind })
	t := table{head: []string{"recipe", "kind", "what", "for"}}
	for _, r := range recipes {
		if p.json {
			fault.Check(p.printJSON(map[string]any{"slug": r.Slug, "title": r.Title, "alloys": r.Alloys, "kind": r.Kind}))
		}
		more := len(r.Alloys) - 1
		t.add(r.Slug, string(r.Kind), r.Title, r.Alloys[0]+when(more > 0, fmt.Sprintf(" and %d more", more)))
	}
	if !p.json {
		t.write(p.out, "")
	}
	for _, slug := range p.library.Slugs() {
		p.noteReplaced(slug)
	}
	fault.Check(p.showFindings(recipe.Findings(findings).Of("recipe")))
}

func printRecipe(e *env, u measure.System, r *recipe.Recipe) {
	e.say("%s\n", e.heading(strings.ToUpper(oneLine(r.Title))))
	t := table{}
	t.facts("name", fmt.Sprintf("%s, revision %d", r.Slug, r.Revision), "file", r.File, "digest", r.Digest,
		"kind", string(r.Kind), "for", strings.Join(r.Alloys, ", "), "look", r.Look, "source", r.Source)
	t.add("temperature", measure.Span(u.Temperature(r.Bath.Water.From), u.Temperature(r.Bath.Water.At), u.Temperature(r.Bath.Water.To)))
	for _, g := range r.Bath.Reagents {
		t.add(substanceName(g.Substance), rangeText(u, g.Concentration)+wordsIf(", ", g.Form)+wordsIf("; ", g.Note)+wordsIf("; ", g.Source))
	}
	if r.Dip != nil {
		t.add("dip time", measure.Span(u.Time(r.Dip.Time.From), u.Time(r.Dip.Time.At), u.Time(r.Dip.Time.To))+wordsIf("; ", r.Dip.How()))
		w := r.Dip.Window
		t.facts("colour tolerance", when(w.Given(), fmt.Sprintf("-%.0f %% +%.0f %% of the time still looks the same; %s", w.Short*100, w.Long*100, w.Source)))
	}
	t.facts("works down to", when(r.Bath.WorksDownTo > 0, u.Temperature(r.Bath.WorksDownTo)),
		"works down to", when(r.Bath.Weakest > 0, measure.Figures(100*r.Bath.Weakest, 2)+" % of its strength"))
	for i, m := range r.Bath.Mix {
		text := either(m.HasWater, "at "+u.Temperature(m.Water)+wordsIf("; ", m.How), cmp.Or(m.How, "as supplied"))
		t.add(fmt.Sprintf("mix %d", i+1), substanceName(m.Add)+": "+text)
	}
	t.facts("coats", textOf(r.Coats, func(c recipe.Coats) string {
		return fmt.Sprintf("%.0f (%.0f to %.0f), %s each", c.Number.At, c.Number.From, c.Number.To, u.Spread(c.Spread.At))
	}))
	t.facts("largest load", when(r.Bath.MaxLoad > 0, u.Load(r.Bath.MaxLoad)+": "+r.Bath.MaxLoadReason), "vessel", r.Bath.Vessel)
	t.write(e.out, "  ")
	e.head("STEPS")
	for i, step := range r.Steps {
		e.put(fmt.Sprintf("  %2d  ", i+1), stepText(u, step))
	}
	h := table{}
	h.facts("gas", cmp.Or(strings.Join(r.Hazards.Gas, ", "), "none declared"), "ventilation", r.Hazards.Ventilation,
		"wear", strings.Join(r.Hazards.PPE, "; "), "disposal", r.Hazards.Disposal)
	for _, n := range r.Hazards.Notes {
		h.add("note", n)
	}
	h.show(e, "HAZARDS (in the words of the recipe; hepar review adds those of its substances)")
}

func runRecipeNew(p *place) {
	slug := p.Args().First()
	refuse(!recipe.ValidSlug(slug),
		fault.Usagef("%q cannot be the name of a recipe", measure.Clean(slug)).Try("use small letters, digits and hyphens, for instance token-black"))
	where := p.library.Where(slug)
	refuse(where != "", fault.Failuref("there is already a recipe %s (%s)", slug, where).Try("choose another name"))
	text := recipe.Template(slug)
	if p.IsSet("from") {
		from := fault.Must(p.recipe(p.String("from")))
		text = fault.Must(recipe.FromExisting(from, slug))
	}
	file := cmp.Or(p.String("output"), filepath.Join(recipesDir(p.Context), slug+".toml"))
	if file == "-" {
		p.out.Write(text)
		return
	}
	if !p.IsSet("output") {
		ownFolder(file)
	}
	fault.Check(writeNew(file, text, elsewhere))
	p.show(map[string]any{"file": file}, func() { p.say("wrote %s\nfill it in, then: hepar recipe check %s\n", oneLine(file), oneLine(file)) })
}

func checkRecipes(e *env, files []string) {
	code := exitDone
	library, _ := fault.Must2(recipe.Load(recipes.FS, ""))
	for _, file := range files {
		r, findings := fault.Must2(recipe.Read(file))
		if r != nil {
			findings = append(findings, checkWhole(file, r)...)
			builtin, err := library.Get(r.Slug)
			e.tell("note: ", when(err == nil && builtin.Digest != r.Digest,
				"there is a built-in recipe "+r.Slug+" too; in your own folder this file replaces it"))
		}
		if len(findings) > 0 {
			code = max(code, either(recipe.Findings(findings).Refused(), exitSafety, exitFailure))
		}
		if e.json {
			fault.Check(e.printJSON(map[string]any{"file": file, "ok": len(findings) == 0, "findings": append([]recipe.Finding{}, findings...)}))
			continue
		}
		for _, f := range findings {
			e.say("%s\n", strings.Join(f.Lines(), "\n"))
		}
		if len(findings) == 0 {
			e.say("%s: nothing wrong found in %s, revision %d, %s\n", oneLine(file), r.Slug, r.Revision, shortDigest(r.Digest))
		}
	}
	refuse(code != exitDone, &foundError{code})
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

// showFindings prints the findings in an error and returns the error that is left to report.
func (e *env) showFindings(err error) error {
	findings := recipe.FindingsOf(err)
	if len(findings) == 0 {
		return err
	}
	for _, f := range findings {
		e.note("%s\n", strings.Join(f.Lines(), "\n"))
	}
	return &foundError{exitFailure}
}
