package recipe

import (
	"slices"

	"hepar/recipe/fault"
	"hepar/recipe/reagent"
	"hepar/recipe/strict"
)

// mostTools is the most tools that one step names.
const mostTools = 8

// tools reads the names of the tools of a step.
func (t table) tools() []string {
	tools, where := t.List("tools", 60, false, true, `write tools = ["tongs", "basket"]`)
	if len(tools) > mostTools {
		t.AtValue(where[mostTools], "name the ones that touch the liquid", "tools has more than %d entries", mostTools)
		return nil
	}
	return tools
}

// warnsOf reads what the texts of a table only warn of, by any name, and returns the
// ids and group words.
func (t table) warnsOf() []string {
	names, where := t.List("warns_of", 60, false, true, `write warns_of = ["vinegar"]`)
	var ids []string
	for i, name := range names {
		id, err := reagent.Called(name)
		switch {
		case err != nil:
			t.AtValue(where[i], fault.CureOf(err), "warns_of: %s", err.Error())
		case slices.Contains(ids, id):
			t.AtValue(where[i], "name it once", "warns_of names %s twice", strict.Excerpt(id))
		default:
			ids = append(ids, id)
		}
	}
	return ids
}
