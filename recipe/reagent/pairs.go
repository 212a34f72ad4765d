package reagent

import (
	"cmp"
	"slices"
)

// Forbidden is the severity from which two substances have no place in one vessel.
const Forbidden = 4

// Pair says what happens when two families meet in one vessel, rinse, drain or
// waste bottle. The list is not complete: a pair that is not in it is not thereby
// harmless.
type Pair struct {
	A, B     Group
	Gas      string // the gas to fear; empty where heat, fire or an explosive is the harm
	Severity int    // in one vessel: 5 kills or explodes; 4 severe; 3 strong heat or gas; 2 a caution
	Carried  int    // severity when unrinsed pieces carry one into the other; each rinse takes 1 off; 0 for nothing to say
	OnFilm   string // the cure where A meets a film of B on the metal, which no rinse takes off; else empty
	Why      string // what happens, in one clause
	Cure     string // what to do, in one line
	Source   string
	Evidence string // one of the Evidence constants
}

// Meetings returns every pair that two substances of the given groups fall under,
// the gravest first and the more particular first among equals. The order of the
// two does not matter. It serves for what is not in the table as well: a family of
// which no more is known, or the metal of the pieces.
func Meetings(a, b []Group) []Pair {
	var found []Pair
	for _, p := range pairs() {
		if p.Joins(a, b) || p.Joins(b, a) {
			found = append(found, p)
		}
	}
	slices.SortStableFunc(found, func(x, y Pair) int { return cmp.Compare(y.Severity, x.Severity) })
	return found
}

// Incompatible returns the gravest pair that two substances fall under, and false
// where there is none or both are the same. From severity [Forbidden] on the two have
// no place in one vessel; below that it is a caution.
func Incompatible(a, b Substance) (Pair, bool) {
	if a.ID == b.ID {
		return Pair{}, false
	}
	all := Meetings(a.Groups, b.Groups)
	if len(all) == 0 {
		return Pair{}, false
	}
	return all[0], true
}

// Pairs returns all the pairs, the sulfide ones first.
func Pairs() []Pair { return slices.Clone(pairs()) }

// Joins tells whether a is in family A and b in family B. What is in both counts for
// B alone: ammonium sulfide in liver of sulfur is no ammonium salt in a sulfide.
func (p Pair) Joins(a, b []Group) bool {
	return slices.Contains(a, p.A) && !slices.Contains(a, p.B) && slices.Contains(b, p.B)
}
