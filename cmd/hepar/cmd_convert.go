package main

import (
	"slices"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

func convertCommand(e *env) *verb {
	return command("convert QUANTITY UNIT", "convert a quantity to another unit", func(c *call) {
		from := fault.Must(measure.Parse(c.Args().Get(0)))
		to := fault.Must(from.In(c.Args().Get(1)))
		notes := append([]string{}, slices.Compact(nonEmpty(from.Note(), to.Note()))...)
		value := func(q measure.Quantity) any { return map[string]any{"value": q.Number, "unit": q.Unit.Symbol} }
		e.show(map[string]any{"from": value(from), "to": value(to), "notes": notes}, func() {
			e.say("%s = %s %s\n", from, atMost(to.Number, 6), to.Unit.Symbol)
			e.tell("note: ", notes...)
		})
	})
}
