package recipe

import (
	"slices"

	"hepar/recipe/reagent"
)

// gravest is the severity from which two substances have no place in one bath:
// 4 severe, 5 kills or explodes (see reagent.Hazard).
const gravest = 4

// together refuses a bath whose reagents must not meet. Each substance is
// compared with those before it; the finding stands at the later one.
func (t table) together(reagents []Reagent, where []table) {
	var before []reagent.Substance
	for i, r := range reagents {
		here, err := reagent.Find(r.Substance)
		if err != nil {
			continue // said already where the substance was read
		}
		at := where[i].Place("substance")
		if slices.ContainsFunc(before, func(s reagent.Substance) bool { return s.ID == here.ID }) {
			t.AtValue(at, "put the two amounts into one [[bath.reagent]]", "%s stands in this bath twice", here.ID)
			continue
		}
		for _, other := range before {
			if why := mustNotMeet(other, here); why != "" {
				f := t.AtValue(at, "keep the two in separate baths, waste and tools; there is no flag that lets this through",
					"%s with %s in one bath: %s", other.ID, here.ID, why)
				f.Refused = true
			}
		}
		before = append(before, here)
	}
}

// mustNotMeet says why two substances may not share a bath, or "".
func mustNotMeet(a, b reagent.Substance) string {
	h, found := reagent.Incompatible(a, b)
	if found && h.Severity >= gravest {
		return h.Why
	}
	// The rule this tool exists for does not hang on the figures of a table.
	if sulfideWithSour(a, b) || sulfideWithSour(b, a) {
		return "a sulfide with an acid, an acid salt, an oxidizer or bleach makes poisonous gas, heat or both"
	}
	return ""
}

func sulfideWithSour(a, b reagent.Substance) bool {
	return a.In(reagent.Sulfide) && !b.In(reagent.Sulfide) &&
		slices.ContainsFunc([]reagent.Group{reagent.Acid, reagent.OxidizingAcid, reagent.AcidSalt, reagent.Oxidizer, reagent.Hypochlorite}, b.In)
}
