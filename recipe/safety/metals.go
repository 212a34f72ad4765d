package safety

import (
	"fmt"
	"slices"
	"strings"

	"hepar/recipe"
	"hepar/recipe/metal"
	"hepar/recipe/reagent"
)

// metals looks at the metal of the pieces, and at vessels and tools named after a metal.
func metals(l *list, r *recipe.Recipe, vs []vessel, alloy *metal.Alloy) {
	var families []string
	if alloy != nil {
		families = append(families, family(alloy.Name))
	} else {
		for _, name := range r.Alloys {
			families = append(families, family(name))
		}
	}
	light := slices.Contains(families, "aluminium") || slices.Contains(families, "zinc")
	for _, v := range vs {
		for _, a := range v.agents {
			if light && attacks(a) {
				l.stop("light-metal-in-alkali", fmt.Sprintf("%s: aluminium or zinc in %s is eaten away, gets hot and gives off hydrogen, and the bath may foam over", v, a.name),
					"choose a metal that the recipe is made for", chemistry+"; 40 CFR 265 Appendix V, group 1-A with 2-B")
			}
			if !attacks(a) && !a.in(reagent.CopperSalt) {
				continue
			}
			for _, thing := range v.things {
				if name := strings.ToLower(thing); strings.Contains(name, "alumin") || strings.Contains(name, "zinc") || strings.Contains(name, "galvani") {
					l.stop("metal-vessel", fmt.Sprintf("%s: %s in or on %s: aluminium and zinc are eaten away, with hydrogen and heat", v, a.name, plain(thing)),
						"use glass, glazed ware or a plastic that stands the heat", chemistry)
				}
			}
		}
		nitricOnMetal(l, v, families)
	}
}

// attacks tells whether a substance eats aluminium and zinc with hydrogen coming off.
func attacks(a agent) bool { return a.sulfide() || a.in(reagent.Caustic) }

// nitricOnMetal asks for the hood. It is no stop, for there is a way to do it.
func nitricOnMetal(l *list, v vessel, families []string) {
	fuming := []string{"copper", "brass", "bronze", "tin brass", "nickel silver", "cupronickel", "silver", "nickel", "zinc", "steel"}
	if v.has(of(reagent.OxidizingAcid)) && slices.ContainsFunc(families, func(f string) bool { return slices.Contains(fuming, f) }) {
		l.do("nitric-on-metal", fmt.Sprintf("%s: nitric acid on copper, silver and their alloys gives off nitrogen dioxide, up to 1.45 g for each gram of copper; the brown fume harms the lungs hours later", v),
			"nitric acid only under a hood that was seen to draw, never alone", "ICSC 0183 (nitric acid); amounts calculated from Cu + 4 HNO3")
	}
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
