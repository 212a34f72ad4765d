package reagent

import (
	"cmp"
	"slices"
)

// Hazard is what happens when two families meet in one vessel, rinse, drain or
// waste bottle. It is not a complete list: a pair that is not in it is not
// thereby harmless.
type Hazard struct {
	A, B         Group
	OnlyA, OnlyB []string // ids the rule is for; empty for the whole group
	Gas          string   // the gas to fear; empty where heat, fire or an explosive is the harm
	Products     string   // what is made, in words
	Severity     int      // 5 kills or explodes; 4 severe; 3 strong heat or gas; 2 a caution
	Why          string   // one line for a person
	Source       string
	Evidence     string // one of the Evidence constants
}

// Incompatible tells whether two substances must not meet and returns the
// gravest rule they fall under. The order of the two does not matter. From
// severity 4 on the pair has no place in one vessel; below that it is a caution.
func Incompatible(a, b Substance) (Hazard, bool) {
	all := Meetings(a, b)
	if len(all) == 0 {
		return Hazard{}, false
	}
	return all[0], true
}

// Meetings returns every rule two substances fall under, gravest first.
func Meetings(a, b Substance) []Hazard {
	var found []Hazard
	for _, h := range pairs() {
		if h.joins(a, b) || h.joins(b, a) {
			found = append(found, h)
		}
	}
	slices.SortStableFunc(found, func(x, y Hazard) int { return cmp.Compare(y.Severity, x.Severity) })
	return found
}

// Between returns the gravest rule that holds for two whole groups, and false
// where there is none. It serves for what is not a substance: nitric acid and
// the metal of the pieces, or a family of which no more is known.
func Between(a, b Group) (Hazard, bool) {
	var found Hazard
	for _, h := range pairs() {
		whole := len(h.OnlyA) == 0 && len(h.OnlyB) == 0
		same := h.A == a && h.B == b || h.A == b && h.B == a
		if whole && same && h.Severity > found.Severity {
			found = h
		}
	}
	return found, found.Severity > 0
}

// Pairs returns all the rules, the sulfide ones first.
func Pairs() []Hazard { return slices.Clone(pairs()) }

func (h Hazard) joins(a, b Substance) bool {
	return a.ID != b.ID && member(a, h.A, h.OnlyA) && member(b, h.B, h.OnlyB)
}

func member(s Substance, g Group, only []string) bool {
	return s.In(g) && (len(only) == 0 || slices.Contains(only, s.ID))
}
