package main

import (
	"slices"

	"github.com/urfave/cli/v2"

	"hepar/recipe/measure"
)

func convertCommand(e *env) *cli.Command {
	return &cli.Command{
		Name: "convert", Usage: "convert a quantity to another unit", ArgsUsage: "QUANTITY UNIT",
		Description: `Converts one quantity to another unit of the same kind. A unit that could mean two
things, such as oz, is refused, and the choices are named.

EXAMPLES
   hepar convert "3 oz/gal" g/L
   hepar convert "1 1/4 in" mm
   hepar convert "150 F" C`,
		Action: func(c *cli.Context) error {
			if err := arguments(c, 2, 2, "a quantity and a unit"); err != nil {
				return err
			}
			return runConvert(e, c.Args().Get(0), c.Args().Get(1))
		},
	}
}

func runConvert(e *env, from, to string) error {
	q, err := measure.Parse(from)
	if err != nil {
		return err
	}
	result, err := q.In(to)
	if err != nil {
		return err
	}
	notes := []string{}
	for _, n := range []string{q.Note(), result.Note()} {
		if n != "" && !slices.Contains(notes, n) {
			notes = append(notes, n)
		}
	}
	if e.json {
		return e.printJSON(map[string]any{
			"from":  map[string]any{"value": q.Number, "unit": q.Unit.Symbol},
			"to":    map[string]any{"value": result.Number, "unit": result.Unit.Symbol},
			"notes": notes,
		})
	}
	e.say("%s = %s %s\n", q, atMost(result.Number, 6), result.Unit.Symbol)
	for _, n := range notes {
		e.note("%s", wrap("note: ", n))
	}
	return nil
}
