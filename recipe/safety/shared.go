package safety

import (
	"slices"
	"strings"

	"hepar/recipe/fault"
	"hepar/recipe/reagent"
)

// Shares lists the words for what acid and sulfide work can have in common in a shop,
// for [Subject.Shared].
func Shares() []string { return []string{"rinse", "drain", "waste", "tray", "tongs", "basket"} }

// Captures lists the words for how gas is caught at its source, for [Answers.Capture].
func Captures() []string { return []string{"hood", "slot", "outdoors", "none"} }

// shared stops at what the shop shares: the other family stands on the same bench where
// sulfide or acid is in the work, and what gathers the rinses or the waste of any two
// substances that may not meet brings them together.
func (w work) shared(l *list) {
	for _, word := range w.Shared {
		what := strings.ToLower(strings.TrimSpace(word))
		cure := "give each its own " + what + ", marked, on its own side of the bench"
		if w.sulfidic() || w.any(agent.sour) || w.any(of(reagent.Hypochlorite)) {
			l.stop("shared-"+what, "acid and sulfide work share the "+what+": what one leaves there the other meets, and hydrogen sulfide comes off where nobody looks",
				cure, appendixV+"; 40 CFR 403.5 (sewers); pulp mill case of 2002 (sulfide drained into an acid sewer)")
		}
		for i, a := range w.agents {
			for _, b := range w.agents[i+1:] {
				if pairs := reagent.Meetings(a.groups, b.groups); len(pairs) > 0 && forbids(pairs[0]) {
					l.stop("shared-"+what, a.name+" and "+b.name+" share the "+what+": "+pairs[0].Why, cure, pairs[0].Source)
				}
			}
		}
	}
}

func checkWords(words, known []string, what string) error {
	for _, word := range words {
		if w := strings.ToLower(strings.TrimSpace(word)); w != "" && !slices.Contains(known, w) {
			err := fault.Usagef("%q is no %s", short(word), what)
			if near := fault.Nearest(w, known); near != "" {
				return err.Try("did you mean %s? write %s", near, strings.Join(known, ", "))
			}
			return err.Try("write %s", strings.Join(known, ", "))
		}
	}
	return nil
}
