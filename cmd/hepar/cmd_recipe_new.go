package main

import (
	"path/filepath"

	"github.com/urfave/cli/v2"

	"hepar/recipe"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

func recipeNew(e *env) *cli.Command {
	return &cli.Command{
		Name: "new", Usage: "create a commented recipe file to fill in", ArgsUsage: "NAME",
		Description: `Creates a recipe file in your recipe folder, ready to be filled in; --from copies an
existing recipe instead. Never overwrites a file.

EXAMPLES
   hepar recipe new token-black
   hepar recipe new token-black --from silver-black`,
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "from", Usage: "copy this recipe"},
			&cli.StringFlag{Name: "output", Usage: "create this file instead; - is standard output"},
		},
		Action: func(c *cli.Context) error {
			if err := arguments(c, 1, 1, "a name for the recipe"); err != nil {
				return err
			}
			return runRecipeNew(e, c)
		},
	}
}

func runRecipeNew(e *env, c *cli.Context) error {
	slug := c.Args().First()
	if !recipe.ValidSlug(slug) {
		return fault.Usagef("%q cannot be the name of a recipe", measure.Clean(slug)).Try("use small letters, digits and hyphens, for instance token-black")
	}
	p, err := openPlace(e, c)
	if err != nil {
		return err
	}
	if where := p.library.Where(slug); where != "" {
		return fault.Failuref("there is already a recipe %s (%s)", slug, where).Try("choose another name")
	}
	text := recipe.Template(slug)
	if c.IsSet("from") {
		from, err := p.recipe(c.String("from"))
		if err != nil {
			return err
		}
		if text, err = recipe.FromExisting(from, slug); err != nil {
			return err
		}
	}
	file := c.String("output")
	if file == "-" {
		e.say("%s", text)
		return nil
	}
	if file == "" {
		file = filepath.Join(recipesDir(c), slug+".toml")
	}
	if err := writeNew(file, text); err != nil {
		return err
	}
	if e.json {
		return e.printJSON(map[string]any{"file": file})
	}
	e.say("wrote %s\nfill it in, then: hepar recipe check %s\n", oneLine(file), oneLine(file))
	return nil
}
