package main

import (
	"slices"

	"github.com/urfave/cli/v2"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

func convertCommand(e *env) *cli.Command {
	return command("convert QUANTITY UNIT", "convert a quantity to another unit",
		func(c *cli.Context) { runConvert(e, c.Args().Get(0), c.Args().Get(1)) })
}

func runConvert(e *env, from, to string) {
	q := fault.Must(measure.Parse(from))
	result := fault.Must(q.In(to))
	notes := append([]string{}, slices.Compact(nonEmpty(q.Note(), result.Note()))...)
	value := func(q measure.Quantity) any { return map[string]any{"value": q.Number, "unit": q.Unit.Symbol} }
	e.show(map[string]any{"from": value(q), "to": value(result), "notes": notes}, func() {
		e.say("%s = %s %s\n", q, atMost(result.Number, 6), result.Unit.Symbol)
		e.tell("note: ", notes...)
	})
}
