package recipe

import (
	"slices"

	"hepar/recipe/reagent"
)

// together refuses a bath whose reagents must not meet. Each substance is
// compared with those before it; the finding stands at the later one.
func (t table) together(reagents []Reagent, where []table) {
	var before []reagent.Substance
	for i, r := range reagents {
		here, err := reagent.Find(r.Substance)
		if err != nil {
			continue // reported where the substance was read
		}
		at := where[i].Place("substance")
		if slices.ContainsFunc(before, func(s reagent.Substance) bool { return s.ID == here.ID }) {
			t.AtValue(at, "put the two amounts into one [[bath.reagent]]", "%s is in this bath twice", here.ID)
			continue
		}
		for _, other := range before {
			if p, found := reagent.Incompatible(other, here); found && p.Severity >= reagent.Forbidden {
				f := t.AtValue(at, "keep the two in separate baths, waste and tools; there is no flag that lets this through",
					"%s with %s in one bath: %s", other.ID, here.ID, p.Why)
				f.Refused = true
			}
		}
		before = append(before, here)
	}
}
