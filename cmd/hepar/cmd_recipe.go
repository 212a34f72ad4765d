package main

import (
	"fmt"
	"strings"

	"github.com/urfave/cli/v2"

	"hepar/recipe"
	"hepar/recipe/measure"
)

func recipeCommand(e *env) *cli.Command {
	return &cli.Command{
		Name: "recipe", Usage: "list, show, check or create finishing recipes",
		Subcommands: []*cli.Command{recipeList(e), recipeShow(e), recipeCheck(e), recipeNew(e)},
	}
}

func recipeList(e *env) *cli.Command {
	return &cli.Command{
		Name: "list", Usage: "list all recipes, built-in and your own",
		Description: "Lists the recipes, sorted by name. --json prints one object a line.",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "alloy", Usage: "only recipes for this metal"},
			&cli.StringFlag{Name: "kind", Usage: "only immersed, brushed, sprayed, pickle or stop"},
		},
		Action: at(e, 0, 0, "", func(c *cli.Context, p *place) error {
			return runRecipeList(e, p.library, c.String("alloy"), c.String("kind"))
		}),
	}
}

func runRecipeList(e *env, l *recipe.Library, alloy, kind string) error {
	recipes, findings := l.All()
	t := table{head: []string{"recipe", "kind", "what", "for"}}
	for _, r := range recipes {
		if !r.For(alloy) || kind != "" && string(r.Kind) != kind {
			continue
		}
		if e.json {
			if err := e.printJSON(map[string]any{"slug": r.Slug, "title": r.Title, "alloys": r.Alloys, "kind": r.Kind}); err != nil {
				return err
			}
			continue
		}
		metals := r.Alloys[0]
		if more := len(r.Alloys) - 1; more > 0 {
			metals += fmt.Sprintf(" and %d more", more)
		}
		t.add(r.Slug, string(r.Kind), r.Title, metals)
	}
	if !e.json {
		t.write(e.out, "")
	}
	for _, slug := range l.Slugs() {
		if l.Replaces(slug) {
			e.noteReplaced(l, slug)
		}
	}
	if len(findings) > 0 {
		printFindings(e, findings)
		return &foundError{exitFailure}
	}
	return nil
}

func recipeShow(e *env) *cli.Command {
	return &cli.Command{
		Name: "show", Usage: "show one recipe in full", ArgsUsage: "RECIPE",
		Description: "Shows a recipe as hepar reads it; --toml prints the file itself.",
		Flags:       []cli.Flag{&cli.BoolFlag{Name: "toml", Usage: "print the file itself"}},
		Action: at(e, 1, 1, "the name of a recipe", func(c *cli.Context, p *place) error {
			r, err := p.recipe(c.Args().First())
			if err != nil {
				return err
			}
			switch {
			case c.Bool("toml"):
				e.say("%s", fileText(r.Text))
			case e.json:
				return e.printJSON(recipeJSON(r))
			default:
				printRecipe(e, p.units, r)
			}
			return nil
		}),
	}
}

// fileText prepares a file for a terminal: it keeps the lines and removes control
// characters.
func fileText(text string) string {
	lines := strings.Split(text, "\n")
	for i := range lines {
		lines[i] = measure.Clean(strings.ReplaceAll(lines[i], "\t", "    "))
	}
	return strings.Join(lines, "\n")
}

// recipeJSON is the canonical content with what is known of the file.
func recipeJSON(r *recipe.Recipe) map[string]any {
	return map[string]any{"slug": r.Slug, "title": r.Title, "kind": r.Kind, "revision": r.Revision, "digest": r.Digest,
		"alloys": r.Alloys, "look": r.Look, "source": r.Source, "plated": r.Plated, "file": r.File, "content": rawJSON(recipe.Canonical(r))}
}

type rawJSON []byte

func (b rawJSON) MarshalJSON() ([]byte, error) { return b, nil }

func printRecipe(e *env, u measure.System, r *recipe.Recipe) {
	e.say("%s\n", e.heading(strings.ToUpper(oneLine(r.Title))))
	t := table{}
	t.add("name", fmt.Sprintf("%s, revision %d", r.Slug, r.Revision))
	t.add("file", r.File)
	t.add("digest", r.Digest)
	t.add("kind", string(r.Kind))
	t.add("for", strings.Join(r.Alloys, ", "))
	t.add("look", r.Look)
	t.add("source", r.Source)
	t.add("temperature", span(u.Temperature(r.Bath.Water.From), u.Temperature(r.Bath.Water.At), u.Temperature(r.Bath.Water.To)))
	for _, g := range r.Bath.Reagents {
		text := rangeText(u, g.Concentration)
		if g.Form != "" {
			text += ", " + g.Form
		}
		if g.Note != "" {
			text += "; " + g.Note
		}
		t.add(substanceName(g.Substance), text)
	}
	if r.Dip != nil {
		text := span(u.Time(r.Dip.Time.From), u.Time(r.Dip.Time.At), u.Time(r.Dip.Time.To))
		if r.Dip.StopAt != "" {
			text += "; stop at " + r.Dip.StopAt
		}
		t.add("time in the bath", text)
		if w := r.Dip.Window; w.Given() {
			t.add("window", fmt.Sprintf("-%.0f %% +%.0f %% of the time still looks the same; %s", w.Short*100, w.Long*100, w.Source))
		}
	}
	if r.Bath.WorksDownTo > 0 {
		t.add("works down to", u.Temperature(r.Bath.WorksDownTo))
	}
	if r.Bath.Weakest > 0 {
		t.add("works down to", measure.Figures(100*r.Bath.Weakest, 2)+" % of its strength")
	}
	for i, m := range r.Bath.Mix {
		text := orElse(m.How, "as it comes")
		if m.HasWater {
			text = "at " + u.Temperature(m.Water) + wordsIf("; ", m.How)
		}
		t.add(fmt.Sprintf("mix %d", i+1), substanceName(m.Add)+": "+text)
	}
	if c := r.Coats; c != nil {
		t.add("coats", fmt.Sprintf("%.0f (%.0f to %.0f), %s each", c.Number.At, c.Number.From, c.Number.To, u.Spread(c.Spread.At)))
	}
	if r.Bath.MaxLoad > 0 {
		t.add("most metal", u.Load(r.Bath.MaxLoad)+": "+r.Bath.MaxLoadReason)
	}
	if r.Bath.Vessel != "" {
		t.add("vessel", r.Bath.Vessel)
	}
	t.write(e.out, "  ")
	printSteps(e, u, r)
	e.say("\n%s\n", e.heading("HAZARDS (in the words of the recipe; hepar review adds those of its substances)"))
	h := table{}
	h.add("gas", strings.Join(r.Hazards.Gas, ", "))
	h.add("ventilation", r.Hazards.Ventilation)
	h.add("wear", strings.Join(r.Hazards.PPE, "; "))
	h.add("disposal", r.Hazards.Disposal)
	for _, n := range r.Hazards.Notes {
		h.add("note", n)
	}
	h.write(e.out, "  ")
}

func span(from, at, to string) string {
	if b := between(from, to); b != "" {
		return at + " " + b
	}
	return at
}
