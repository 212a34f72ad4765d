package safety

import (
	"fmt"
	"slices"
	"strings"

	"hepar/recipe"
	"hepar/recipe/metal"
	"hepar/recipe/reagent"
)

// metals looks at the metal of the pieces, and of the vessel, against the vessels.
func metals(l *list, r *recipe.Recipe, vs []vessel, alloy *metal.Alloy) {
	var list []string // families
	if alloy != nil {
		list = append(list, alloy.Family)
		if alloy.Family == "" {
			list = []string{family(alloy.Name)}
		}
	} else {
		for _, name := range r.Alloys {
			list = append(list, family(name))
		}
	}
	for _, v := range vs {
		if slices.Contains(list, "aluminium") || slices.Contains(list, "zinc") {
			lightMetal(l, v)
		}
		if slices.Contains(list, "steel") && v.has(agent.acid) {
			l.add(Point{
				Code: "steel-in-acid", Level: Caution, Source: "40 CFR 265 Appendix V, pair 2-A/2-B",
				Text: fmt.Sprintf("%s: steel in acid gives off hydrogen; no flame near, and no lid.", v),
			})
		}
		nitricOnMetal(l, v, list)
	}
	alkaline := slices.ContainsFunc(vs, func(v vessel) bool { return v.bath && v.has(attacks) })
	if alkaline && wrongVessel(r.Bath.Vessel) {
		cure := "use glass, glazed ware or a plastic that stands the heat"
		l.add(Point{
			Code: "wrong-vessel", Level: CorrectFirst, Source: "general chemistry, from memory", Cure: cure,
			Text: "the bath would stand in aluminium or zinc, which an alkaline sulfide or a caustic eats with hydrogen coming off. " + sentence(cure),
		})
	}
}

// attacks tells whether a substance eats aluminium and zinc with hydrogen coming off.
func attacks(a agent) bool { return a.sulfide() || a.in(reagent.Caustic) }

func lightMetal(l *list, v vessel) {
	for _, a := range v.agents {
		switch {
		case attacks(a):
			cure := "choose a metal that the recipe is made for"
			l.add(Point{
				Code: "light-metal-in-alkali", Level: StopLevel, Cure: cure, Source: "general chemistry, from memory; 40 CFR 265 Appendix V, group 1-A with 2-B",
				Text: fmt.Sprintf("%s: aluminium or zinc in %s is eaten away, gets hot and gives off hydrogen, and the bath may foam over. %s", v, a.name, sentence(cure)),
			})
		case a.acid():
			l.add(Point{
				Code: "light-metal-in-acid", Level: Caution, Source: "40 CFR 265 Appendix V, pair 2-A/2-B",
				Text: fmt.Sprintf("%s: aluminium or zinc in %s gives off hydrogen; no flame near, and no lid.", v, a.name),
			})
		case a.in(reagent.Alkali) && !a.in(reagent.Bicarbonate):
			l.add(Point{
				Code: "light-metal-in-soda", Level: Caution, Source: "general chemistry, from memory",
				Text: fmt.Sprintf("%s: hot %s eats aluminium and dulls zinc, with hydrogen coming off; keep it short and open.", v, a.name),
			})
		}
	}
}

// nitricOnMetal warns of the brown fume. It is not a stop, for there is a way to do it.
func nitricOnMetal(l *list, v vessel, families []string) {
	fuming := []string{"copper", "brass", "bronze", "tin brass", "nickel silver", "cupronickel", "silver", "nickel", "zinc", "steel"}
	if !v.has(func(a agent) bool { return a.in(reagent.OxidizingAcid) }) ||
		!slices.ContainsFunc(families, func(f string) bool { return slices.Contains(fuming, f) }) {
		return
	}
	cure := "clean with bisulfate or citric acid instead; where nitric acid is meant, work under a hood that is known to draw, never alone"
	l.add(Point{
		Code: "nitric-on-metal", Level: CorrectFirst, Cure: cure, Source: "ICSC 0183 (nitric acid); amounts calculated from Cu + 4 HNO3",
		Text: fmt.Sprintf("%s: nitric acid on copper, silver and their alloys gives off nitrogen dioxide, up to 1.45 g for each gram of copper dissolved; the brown fume harms the lungs hours later. %s", v, sentence(cure)),
	})
}

// rework says what becomes of pieces that are done again.
func rework(l *list, vs []vessel) {
	if !anyVessel(vs, agent.sulfide) {
		return
	}
	text := "pieces to be done again must not go into any pickle or other acid: the film of sulfide on them frees hydrogen sulfide there. Take the film off by rubbing or polishing, wet"
	for _, v := range vs {
		if v.do == "pickle" {
			text = fmt.Sprintf("pieces to be done again must not start at %s: the film of sulfide on them frees hydrogen sulfide in acid. Take the film off by rubbing or polishing, wet, and start after it", v)
			break
		}
	}
	l.add(Point{Code: "rework-not-in-acid", Level: Caution, Text: text + ".", Source: "common practice, no published source; " + appendixV})
}

func anyVessel(vs []vessel, as func(agent) bool) bool {
	return slices.ContainsFunc(vs, func(v vessel) bool { return v.has(as) })
}

// family gives the family of an alloy, read off its name where the list does not have it.
func family(name string) string {
	if a, err := metal.Find(name); err == nil {
		return a.Family
	}
	for _, f := range []struct{ part, family string }{
		{"alumin", "aluminium"}, {"nickel-silver", "nickel silver"}, {"cupronickel", "cupronickel"}, {"tin-brass", "brass"},
		{"brass", "brass"}, {"bronze", "bronze"}, {"copper", "copper"}, {"gold", "gold"}, {"platinum", "platinum"},
		{"silver", "silver"}, {"sterling", "silver"}, {"britannia", "silver"}, {"coin", "silver"}, {"fine", "silver"}, {"low-tarnish", "silver"},
		{"zinc", "zinc"}, {"steel", "steel"}, {"nickel", "nickel"}, {"tin", "tin"},
	} {
		if strings.Contains(strings.ToLower(name), f.part) {
			return f.family
		}
	}
	return ""
}

// wrongVessel tells whether the words allow a vessel of aluminium or zinc.
func wrongVessel(words string) bool {
	for _, clause := range split(words, ".;,") {
		ts := tokens(clause)
		if anyWord(ts, "no", "not", "never", "without", "nor", "avoid") {
			return false // what follows is what it must not be
		}
		if strings.Contains(clause, "alumin") || anyWord(ts, "zinc", "galvanised", "galvanized") {
			return true
		}
	}
	return false
}
