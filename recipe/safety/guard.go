package safety

import (
	"fmt"
	"slices"
	"strings"

	"hepar/recipe"
	"hepar/recipe/measure"
	"hepar/recipe/reagent"
	"hepar/recipe/safety/gas"
)

// acidity returns the pH of a sulfide bath, and what gathers over it.
func (w work) acidity(l *list) {
	if !w.sulfidic() {
		return
	}
	ph := Point{
		Code: "sulfide-ph", Level: Caution, Source: "Millero 1988 (first ionisation of hydrogen sulfide), calculated",
		Text: "keep every sulfide bath and rinse at pH 10 or more, tried with a strip or a meter at working temperature: a bath loses about one unit of pH between 25 C and 60 C. At pH 7 about half of the sulfide is hydrogen sulfide at 25 C, at pH 10 about a thousandth. Washing soda or caustic raises it, bicarbonate does not.",
	}
	bath, keep := len(w.air.sulfides) > 0 || w.Recipe.Kind == recipe.Stop, keepAbove
	raise := "bring the bath to pH 10 or more with washing soda or caustic, cold, under the extraction, before it is warmed and before anything goes in"
	if w.selfAlkaline() {
		keep, _ = w.phBand()
		raise = "leave the bath under the extraction with the lid on, find out where acid came from, and mix a fresh one; soda or caustic in it would free ammonia"
		ph.Text = "an ammonium sulfide bath has only its own alkali, about pH 8.5 to 10 fresh, lower than other sulfide baths, and gives off more gas all the time: capture at the source, lid on between pieces, never warmed. Never lower its pH. Do not raise it either: soda or caustic frees ammonia from ammonium salts. Keep the rinse and the stop behind it at pH 10 or more, under the same capture."
	} else if slices.ContainsFunc(w.bathAgents(), of(reagent.AmmoniumSalt)) {
		ph.Text += " Soda or caustic frees ammonia from the ammonium salt in this bath: under capture at the source only."
	}
	if bath && w.PH > 0 && w.PH < tooSour {
		ph.Level, ph.Cure = StopLevel, "do not use this bath: leave it under the extraction, keep acid away from it, find out where the acid came from, and mix a fresh one"
		ph.Text = "the bath is at pH " + measure.Plain(w.PH) + ": a large part of its sulfide is hydrogen sulfide already. " + sentenceHead(ph.Text) + ". " + sentence(ph.Cure)
	} else if bath && w.PH > 0 && w.PH < keep {
		ph.Level, ph.Cure = CorrectFirst, raise
		ph.Text = "the bath is at pH " + measure.Plain(w.PH) + ". " + sentenceHead(ph.Text) + ". " + sentence(ph.Cure)
	}
	l.add(ph)
	lid := "gas gathers under a lid, to far more than in the room. Lift a lid under the extraction, away from you, with the face to the side."
	if len(w.air.sulfides) > 0 {
		at, text := w.PH, "at the pH given"
		if at == 0 {
			at, _ = w.phBand()
			text = "at pH " + measure.Plain(at)
		}
		under := "Under a lid on this bath"
		if w.Recipe.Coats != nil || w.Recipe.Kind == recipe.Brushed || w.Recipe.Kind == recipe.Sprayed {
			under = "In the closed jar or pot from which the coats are laid on"
		}
		lid += fmt.Sprintf(" %s, %s, the air can come to about %s, %s.", under, text, inAir(w.air.bath.OverPPM(at)), gas.Verify)
	}
	l.add(Point{Code: "sulfide-lid", Level: Caution, Source: "equilibrium of hydrogen sulfide over water (Millero 1988; Sander 2023), calculated", Text: lid})
}

// The pH of a sulfide bath at working temperature. From 10 on it counts as kept (a
// thousandth of the sulfide is gas, calculated from Millero 1988); below 8 the gas of
// an ordinary bath reaches the limits for work, and acid has got into it.
const (
	keepAbove = 10.0
	tooSour   = 8.0
)

// heat returns hot baths and flames.
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
		if text := s.How + " " + s.Note; mentions(text, "torch", "flame", "burner") && anyWord(tokens(strings.ToLower(text)), "torch", "flame", "burner") {
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

// protection returns capture, eyes, hands, company.
func (w work) protection(l *list) {
	if w.Recipe.Kind == recipe.Sprayed {
		l.add(Point{Code: "spray-mist", Level: Caution, Source: practice,
			Text: "spraying puts " + names(w.bathAgents()) + " into the air as a mist that must not be breathed: a spray booth, or outdoors with the wind from behind and nobody downwind."})
	}
	fuming := w.those(func(a agent) bool {
		return a.sulfide() || a.ammoniacal() || a.nitrate() || a.in(reagent.OxidizingAcid, reagent.Hypochlorite, reagent.Hydrochloric)
	})
	if len(fuming) > 0 {
		l.add(Point{
			Code: "capture-at-source", Level: Caution, Source: "ICSC 0183 and 1047 (local exhaust); dilution of a gas source, calculated",
			Text: names(fuming) + number(fuming, " wants", " want") + " capture at the source: a hood, a slot at the rim of the vessel, or outdoors with the wind from behind. A window fan is no capture, and nothing may be blown into a room where others are.",
		})
	}
	steaming := w.steaming()
	if len(steaming) > 0 {
		l.add(Point{Code: "capture-steam", Level: Caution, Source: practice,
			Text: "near boiling the steam and its fine droplets carry " + names(steaming) + ": capture them at the source, over the bath, put the lid on between pieces, and keep the face away when it is lifted."})
	}
	if len(fuming) == 0 && len(steaming) == 0 {
		l.add(Point{Code: "ventilation", Level: Caution, Source: practice,
			Text: "work with moving air, away from where others eat or sleep, and more of it when the bath is warm."})
	}
	w.meter(l)
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

// nearBoiling is the temperature from which a bath steams so much that its droplets have
// to be captured: 80 C. Common practice, no published source.
const nearBoiling = 80

// steaming returns what the steam of a bath near boiling carries into the air: permanganate
// and the salts of heavy metals.
func (w work) steaming() []agent {
	if w.Recipe.Bath.Water.To < nearBoiling && w.BathC < nearBoiling {
		return nil
	}
	return slices.DeleteFunc(slices.Clone(w.bathAgents()), func(a agent) bool {
		return !a.in(reagent.AcidSalt, reagent.HeavyMetal)
	})
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
	return a.acid() && slices.Contains(a.sub.HCodes, "H314") && !strings.Contains(a.name+a.jar.Name, "vinegar")
}

// biting tells whether its vapour or mist bites when it is hot or strong.
func (a agent) biting() bool {
	return a.acid() && (a.sub.ID == "" || slices.Contains(a.sub.HCodes, "H314") || slices.Contains(a.sub.HCodes, "H318"))
}
