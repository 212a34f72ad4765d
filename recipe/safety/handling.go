package safety

import (
	"strings"

	"hepar/recipe/reagent"
)

// mixing returns the order of pouring.
func (w work) mixing(l *list) {
	text := "write the batch sheet before mixing, put the vessels in the order of the steps, and weigh on a dry bench. Water first, then the substance, a little at a time."
	if as := w.those(func(a agent) bool { return a.acid() && !a.spoken }); len(as) > 0 {
		text += " Acid into water, never water into acid: " + names(as) + "."
	}
	if as := w.those(of(reagent.Caustic)); len(as) > 0 {
		text += " " + names(as) + number(as, " heats", " heat") + " the water: cold water, in a vessel that stands heat."
	}
	l.add(Point{Code: "mixing", Level: Caution, Text: text, Source: "ICSC 0183 (dilution); " + practice})
}

// dusts says what must not fly about.
func (w work) dusts(l *list) {
	dusty := w.those(of(reagent.HeavyMetal))
	if len(dusty) > 0 {
		l.add(Point{Code: "dust", Level: Caution, Source: "NIOSH pages on barium, selenium, copper and their compounds",
			Text: "no dust of " + names(dusty) + ": weigh " + number(dusty, "it", "them") + " under capture, wipe up wet, no sweeping, no food or drink in the room, hands washed after. Colours made with copper salts stay off surfaces that touch skin or food."})
	}
}

// labels says what every vessel must carry.
func (w work) labels(l *list) {
	l.add(Point{
		Code: "labels", Level: Caution, Source: "29 CFR 1910.1200(f)(6) and (f)(8)",
		Text: "every vessel carries the name of what is in it, its hazards and the time it was mixed" + w.vesselNames() + ". Only a vessel that its filler uses up at once may go without. Never a cup, a jar or a bottle that is used for food.",
	})
}

// vesselNames lists what has to be labelled in this recipe.
func (w work) vesselNames() string {
	var list []string
	for _, v := range w.vessels {
		if len(v.agents) > 0 && v.do != "seal" {
			list = append(list, v.String()+": "+names(v.agents))
		}
	}
	if len(list) == 0 {
		return ""
	}
	return " (" + strings.Join(list, "; ") + ")"
}
