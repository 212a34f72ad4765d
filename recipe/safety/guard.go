package safety

import (
	"fmt"
	"slices"
	"strings"

	"hepar/recipe"
	"hepar/recipe/measure"
	"hepar/recipe/reagent"
)

// acidity gives the pH of a sulfide bath, and what gathers over it.
func (w work) acidity(l *list) {
	if w.sulfidic() {
		l.add(Point{
			Code: "sulfide-ph", Level: Caution, Source: "Millero 1988 (first ionisation of hydrogen sulfide), calculated",
			Text: "keep every sulfide bath and rinse at pH 10 or more, tried with a strip or a meter at working temperature: a bath loses about one unit of pH between 25 C and 60 C. At pH 7 about half of the sulfide is hydrogen sulfide at 25 C, at pH 10 about a thousandth. Washing soda or caustic raises it, bicarbonate does not.",
		})
		l.add(Point{
			Code: "sulfide-lid", Level: Caution, Source: "equilibrium of hydrogen sulfide over water (Millero 1988; Sander 2023), calculated",
			Text: "gas gathers under a lid: with the bath at 60 C and pH 10 the air under it can come to some 250 ppm. Lift a lid under the extraction, away from you, with the face to the side.",
		})
	}
}

// heat gives hot baths and flames.
func (w work) heat(l *list) {
	hottest := w.Recipe.Bath.Water.To
	for _, s := range w.Recipe.Steps {
		if s.HasWater {
			hottest = max(hottest, s.Water.To)
		}
	}
	if float64(hottest) >= scalding {
		l.add(Point{
			Code: "hot-bath", Level: Caution, Source: practice,
			Text: fmt.Sprintf("up to %s C: it scalds and steams. Use a steady, wide vessel, lower the pieces in, keep cables and sleeves clear, add powder to warm water and not to boiling, and never leave it on the heat unwatched.", measure.Round(float64(hottest), 0)),
		})
	}
	var torch []string
	for i, s := range w.Recipe.Steps {
		if anyWord(tokens(strings.ToLower(s.How+" "+s.Note)), "torch", "flame", "burner") {
			torch = append(torch, fmt.Sprintf("step %d (%s)", i+1, plain(s.Do)))
		}
	}
	if len(torch) > 0 {
		l.add(Point{
			Code: "torch", Level: Caution, Source: practice,
			Text: and(torch) + " works with a flame: nothing that burns within reach, an extinguisher at hand, the extraction on before the metal is hot, and no lacquer or solvent until it is cold.",
		})
	}
}

// protection gives capture, eyes, hands, company.
func (w work) protection(l *list) {
	if w.Recipe.Kind == recipe.Sprayed {
		l.add(Point{Code: "spray-mist", Level: Caution, Source: practice,
			Text: "spraying puts " + names(w.bathAgents()) + " into the air as a mist that must not be breathed: a spray booth, or outdoors with the wind from behind and nobody downwind."})
	}
	fuming := w.those(func(a agent) bool {
		return a.sulfide() || a.in(reagent.Ammonia, reagent.OxidizingAcid, reagent.Hypochlorite) || a.nitrate() || a.is("hydrochloric-acid")
	})
	if len(fuming) > 0 {
		l.add(Point{
			Code: "capture-at-source", Level: Caution, Source: "ICSC 0183 and 1047 (local exhaust); dilution of a gas source, calculated",
			Text: names(fuming) + " wants capture at the source: a hood, a slot at the rim of the vessel, or outdoors with the wind from behind. A window fan is no capture, and nothing may be blown into a room where others are.",
		})
	} else {
		l.add(Point{Code: "ventilation", Level: Caution, Source: practice,
			Text: "work with moving air, away from where others eat or sleep, and more of it when the bath is warm."})
	}
	l.add(Point{Code: "ppe", Level: Caution, Text: w.wear(), Source: "ICSC cards 1047 and 0183 (goggles, face shield); glove notes of the family, check the maker's chart"})
	l.add(Point{
		Code: "eye-wash", Level: Caution, Source: "WAC 296-800-15030; ANSI Z358.1; 29 CFR 1910.151(c)",
		Text: "an eye wash within ten seconds, the way to it clear, that runs for 15 minutes with both hands free. Let it run before you start; a squeeze bottle does not take its place.",
	})
	switch {
	case w.any(agent.sulfide) && w.any(agent.sour):
		l.add(Point{Code: "not-alone", Level: Caution, Source: "NIOSH FACE 89-28",
			Text: "this recipe has acid and sulfide: do not do it alone. Somebody knows where you are, can see or hear you, and knows that the answer to a fall is a call and a closed door, never going in."})
	case w.sulfidic():
		l.add(Point{Code: "not-alone", Level: Caution, Source: "NIOSH FACE 89-28",
			Text: "do not work with sulfide where nobody knows of it, and never alone where acid stands in the same room. Somebody knows when you should be back, and that the answer to a fall is a call and a closed door."})
	}
}

// wear says what to put on, from what is in the work.
func (w work) wear() string {
	text := "splash goggles that sit close, not spectacles; an apron; gloves for what is in this recipe"
	var gloves []string
	for _, a := range w.agents {
		if a.sub.Gloves == "" || a.in(reagent.Neutral) && len(a.groups) == 1 {
			continue
		}
		first, _, _ := strings.Cut(plain(a.sub.Gloves), ";")
		g := a.name + ": " + first
		if !slices.Contains(gloves, g) {
			gloves = append(gloves, g)
		}
	}
	if len(gloves) > 0 {
		text += " (" + strings.Join(gloves, "; ") + ")"
	}
	text += ". Match them to your own data sheet and change them at once when splashed."
	if pour := w.those(func(a agent) bool { return a.in(reagent.Caustic, reagent.OxidizingAcid) || a.strong() }); len(pour) > 0 {
		text += " A face shield over the goggles to pour " + names(pour) + "."
	}
	return text + " A small quantity is no reason to wear less. What to wear for breathing is not chosen here: that takes a written programme and a fit test (29 CFR 1910.134)."
}

// strong tells whether it is bought as a strong acid that heats up with water.
func (a agent) strong() bool {
	return a.is("sulfuric-acid", "hydrochloric-acid", "nitric-acid", "phosphoric-acid") || a.is("acetic-acid") && a.form == "glacial"
}
