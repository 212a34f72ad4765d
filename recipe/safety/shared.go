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

// shared stops at what the shop shares. It matters where sulfide, acid or bleach is in
// the work: the other family stands on the same bench.
func (w work) shared(l *list) {
	if !w.sulfidic() && !w.any(agent.sour) && !w.any(of(reagent.Hypochlorite)) {
		return
	}
	for _, word := range w.Shared {
		what := strings.ToLower(strings.TrimSpace(word))
		l.stop("shared-"+what, "acid and sulfide work share the "+what+": what one leaves there the other meets, and hydrogen sulfide comes off where nobody looks",
			"give each its own "+what+", marked, on its own side of the bench", appendixV+"; 40 CFR 403.5 (sewers); pulp mill case of 2002 (sulfide drained into an acid sewer)")
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
