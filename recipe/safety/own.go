package safety

import (
	"fmt"
	"slices"
	"strings"
)

// own adds what the recipe file says of its own hazards. It comes last and under codes of
// its own, so that it can only add; a line that promises too much is not repeated.
func (w work) own(l *list) {
	h := w.Recipe.Hazards
	source := "the recipe's own [hazards]"
	if s := plain(w.Recipe.Source); s != "" {
		source += " (" + s + ")"
	}
	add := func(code, key, lead string, lines ...string) {
		var kept []string
		for _, line := range lines {
			line = plain(line)
			if line == "" {
				continue
			}
			if claims := Claims(line); len(claims) > 0 {
				w.claimed(l, key, claims)
				continue
			}
			kept = append(kept, strings.TrimRight(line, ". "))
		}
		joint := "; "
		if code == "recipe-notes" {
			joint = ". "
		}
		if len(kept) > 0 {
			l.add(Point{Code: code, Level: Caution, Text: lead + strings.Join(kept, joint) + ".", Source: source})
		}
	}
	add("recipe-gas", "gas", "the recipe names as gas: ", h.Gas...)
	add("recipe-ventilation", "ventilation", "the recipe on ventilation: ", h.Ventilation)
	add("recipe-ppe", "ppe", "the recipe on what to wear, besides what stands above: ", h.PPE...)
	add("recipe-disposal", "disposal", "the recipe on what is left over: ", h.Disposal)
	add("recipe-notes", "notes", "the recipe notes: ", h.Notes...)
}

// claimed says that a line of the recipe is not repeated.
func (w work) claimed(l *list, key string, claims []string) {
	cure := "take the line out of the recipe; the data sheet and the local authority decide"
	if slices.Contains(claims, "the drain") {
		cure = "take the line out of the recipe and collect what is left over; the data sheet and the local authority decide"
	}
	l.add(Point{
		Code: "recipe-claim", Level: CorrectFirst, Source: practice, Cure: cure,
		Text: fmt.Sprintf("a line under %s in the recipe's [hazards] is not repeated here, for it speaks of: %s. It lowers nothing in this review. %s", key, strings.Join(claims, ", "), sentence(cure)),
	})
}
