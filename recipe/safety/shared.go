package safety

import (
	"fmt"
	"slices"
	"strings"

	"hepar/recipe"
	"hepar/recipe/fault"
	"hepar/recipe/reagent"
)

// Shares lists the words for what acid and sulfide work can have in common in a shop,
// for [Subject.Shared].
func Shares() []string { return []string{"rinse", "drain", "waste", "tray", "tongs", "basket"} }

const sharedSource = appendixV + "; 40 CFR 403.5 (sewers); pulp mill case of 2002 (sulfide drained into an acid sewer)"

// share says that one thing serves both families. Tongs and baskets can be rinsed; the
// rest gathers what comes.
func share(l *list, what, where string) {
	p := Point{Code: "shared-" + what, Level: StopLevel, Source: sharedSource}
	switch what {
	case "rinse":
		p.Cure = "give acid and sulfide rinses of their own, marked, and never pour one into the other"
	case "drain":
		p.Cure = "collect what comes off acid work and off sulfide work in containers of their own, with no way to a common drain"
	case "waste":
		p.Cure = "keep acid waste and sulfide waste in containers of their own, set apart and labelled"
	case "tray":
		p.Cure = "set acid and sulfide in trays of their own, apart, so that two spills do not meet"
	default:
		p.Level, p.Source = CorrectFirst, appendixV+"; "+practice
		p.Cure = "keep " + what + " for acid and " + what + " for sulfide, marked, on their own sides of the bench"
	}
	p.Text = fmt.Sprintf("%sacid and sulfide work share the %s: what one leaves there the other meets, and hydrogen sulfide comes off where nobody looks. %s", where, what, sentence(p.Cure))
	l.add(p)
}

// shared goes through what the shop says it shares. It matters where sulfide, acid or
// bleach is in the work: the other family stands on the same bench.
func (w work) shared(l *list) {
	if !w.sulfidic() && !w.any(agent.sour) && !w.any(of(reagent.Hypochlorite)) {
		return
	}
	for _, word := range w.Shared {
		share(l, strings.ToLower(strings.TrimSpace(word)), "")
	}
}

func checkShared(words []string) error {
	for _, word := range words {
		if w := strings.ToLower(strings.TrimSpace(word)); !slices.Contains(Shares(), w) {
			err := fault.Usagef("nothing shared is called %q", short(word))
			if near := fault.Nearest(w, Shares()); near != "" {
				return err.Try("did you mean %s? write %s", near, strings.Join(Shares(), ", "))
			}
			return err.Try("write %s", strings.Join(Shares(), ", "))
		}
	}
	return nil
}

// spokenShares looks for steps that send the pieces, or what is left over, into a
// vessel of the other family: "in the same water", "into the acid waste".
func spokenShares(l *list, vs []vessel) {
	sulfide, sour := anyVessel(vs, agent.sulfide), anyVessel(vs, agent.sour)
	var last string // the family that the pieces met last
	for _, v := range vs {
		switch {
		case v.has(agent.sulfide):
			last = "sulfide"
		case v.has(agent.sour):
			last = "acid"
		}
		for _, text := range []string{v.words, v.note} {
			if !mentions(text, "same", "shared", "common", "acid", "pickle", "sulfide", "sulphide") {
				continue
			}
			for _, clause := range split(text, ".;!?,:()") {
				words := tokens(clause)
				if denies(words) {
					continue
				}
				if what := sameVessel(words); what != "" && sulfide && sour {
					share(l, what, v.String()+": ")
				}
				if what := otherWaste(words, last); what != "" {
					share(l, what, v.String()+": ")
				}
			}
		}
	}
}

// gathers names what a word for a vessel is, among the [Shares].
func gathers(word string) string {
	switch word {
	case "rinse", "rinses", "water", "tub", "tubs", "bowl", "basin", "bucket", "pot":
		return "rinse"
	case "drain", "sink":
		return "drain"
	case "waste", "bottle", "jar", "drum", "can", "canister", "container":
		return "waste"
	}
	return ""
}

// sameVessel finds "the same rinse water", "a shared waste bottle".
func sameVessel(words []string) string {
	for i, w := range words {
		if w != "same" && w != "shared" && w != "common" {
			continue
		}
		for _, next := range words[i+1 : min(i+3, len(words))] {
			if what := gathers(next); what != "" {
				return what
			}
		}
	}
	return ""
}

// otherWaste finds "into the acid waste" behind a sulfide, and the reverse.
func otherWaste(words []string, last string) string {
	for i, w := range words {
		acid := w == "acid" || w == "pickle"
		if !(last == "sulfide" && acid || last == "acid" && (w == "sulfide" || w == "sulphide")) {
			continue
		}
		if i+1 < len(words) && !slices.Contains([]string{"pot", "water", "jar", "can"}, words[i+1]) {
			if what := gathers(words[i+1]); what != "" {
				return what
			}
		}
	}
	return ""
}

// twoStops asks for two pots where one stop recipe stands on both sides of a sulfide.
func twoStops(l *list, legs []leg) {
	for i, g := range legs {
		if g.recipe.Kind != recipe.Stop {
			continue
		}
		for j := i + 2; j < len(legs); j++ {
			between := all(legs[i+1 : j])
			if legs[j].recipe.Slug == g.recipe.Slug && anyVessel(between, agent.sulfide) && anyVessel(all(legs[:i]), agent.sour) {
				l.add(Point{Code: "two-stop-pots", Level: Caution, Source: sharedSource,
					Text: plain(g.recipe.Title) + " comes before the sulfide, where it holds acid, and after it, where it holds sulfide: two pots, labelled, never swapped, topped up from each other or emptied together."})
				return
			}
		}
	}
}
