package safety

import (
	"fmt"
	"slices"
	"strings"

	"hepar/recipe"
	"hepar/recipe/metal"
	"hepar/recipe/reagent"
)

// nature is what a part of a piece is like, as far as a bath cares.
type nature int

const (
	porous   nature = 1 << iota // takes up what it lies in and gives it back later
	limy                        // acid eats it
	darkens                     // holds a metal that sulfide blackens
	glass                       // acid and caustic dull it, a hot bath cracks it
	trapping                    // holds liquid that no rinse reaches
	thin                        // a thin coat
	iron
	cracks // heat
)

type part struct {
	word   string
	nature nature
}

var parts = []part{
	{"turquoise", porous | darkens | limy}, {"malachite", porous | darkens | limy}, {"azurite", porous | darkens | limy}, {"chrysocolla", porous | darkens | limy},
	{"lapis", porous | limy}, {"pearl", porous | limy}, {"mother-of-pearl", porous | limy}, {"shell", porous | limy}, {"coral", porous | limy},
	{"ivory", porous | limy}, {"bone", porous | limy}, {"amber", porous | cracks}, {"jet", porous | cracks}, {"opal", porous | cracks}, {"emerald", porous | cracks},
	{"wood", porous}, {"leather", porous}, {"stone", porous | limy | cracks}, {"enamel", glass | darkens | cracks}, {"niello", darkens | glass},
	{"glass", glass | cracks}, {"hollow", trapping}, {"tube", trapping}, {"hinge", trapping}, {"plate", thin}, {"steel", iron}, {"glue", porous},
}

// Withs lists the words of [Subject.With]: what a bath may harm or what holds liquid.
func Withs() []string {
	var list []string
	for _, p := range parts {
		list = append(list, p.word)
	}
	return list
}

// singular is the word of a part as it stands in the table: "pearl" for "Pearls".
func singular(word string) string {
	word = strings.ToLower(strings.TrimSpace(word))
	if s := strings.TrimSuffix(word, "s"); slices.Contains(Withs(), s) {
		return s
	}
	return strings.Replace(word, "plated", "plate", 1)
}

// having gives the parts given that are of a nature, by name.
func (w work) having(n nature) string {
	var list []string
	for _, word := range w.With {
		word = singular(word)
		if slices.ContainsFunc(parts, func(p part) bool { return p.word == word && p.nature&n != 0 }) && !slices.Contains(list, word) {
			list = append(list, word)
		}
	}
	return and(list)
}

// tubes tells whether there are tubes, of which nobody said that they hold liquid.
func (w work) tubes() bool { return slices.Contains(w.Shapes, "tube") && w.having(trapping) == "" }

// traps tells whether the pieces hold liquid that a rinse does not reach.
func (w work) traps() bool { return w.having(trapping|porous) != "" }

// pieces asks for what stones, enamel, plate and hollow pieces need before a bath.
func (w work) pieces(l *list) {
	acids, sulfides := w.any(sour), w.any(sulfide)
	caustics := w.any(of(reagent.Caustic, reagent.Ammonia))
	held := w.having(trapping | porous)
	if held != "" && (w.inOrder(sour, sulfide) || w.inOrder(sulfide, sour)) {
		l.stop("trapped-acid-sulfide", fmt.Sprintf("%s hold liquid that no rinse reaches: acid and sulfide meet inside and free hydrogen sulfide out of sight", held),
			"keep such pieces out of one of the two, or clean and colour the metal before they are set", appendixV+"; "+practice)
	}
	if w.tubes() {
		l.do("tube-open", "a tube that is closed or blocked holds liquid that no rinse reaches, and spits when it is warmed",
			"every tube is open at both ends, and each rinse runs through it; a closed or blocked one stays out: review it with --with hollow", practice)
	}
	after := ""
	if acids {
		after = w.having(limy | glass)
	}
	if sulfides {
		after = w.having(limy | porous | darkens)
	}
	if caustics && after == "" {
		after = w.having(porous | glass)
	}
	if after != "" {
		l.do("set-afterwards", "acid eats stones and dulls enamel, sulfide and alkali darken or swell what is porous: "+after, "the pieces go in without "+after+": set afterwards, or tried on a waste piece", practice)
	}
	if s := w.having(thin); s != "" && sulfides && !w.Recipe.Plated {
		l.stop("plate-not-for-recipe", "plated ware in a bath for solid metal: it takes a thin coat of silver off in scales", "use a recipe made for plated ware, weaker and shorter", practice)
	}
	if s := w.having(iron); s != "" && acids {
		l.do("steel-in-acid", "steel in acid gives off hydrogen, and copper plates out on every piece that touches it", "steel springs and pins are out of the pieces", practice)
	}
}

// inOrder tells whether one sort of substance comes before another on the way.
func (w work) inOrder(first, second func(agent) bool) bool {
	i := slices.IndexFunc(w.vessels, func(v vessel) bool { return v.has(first) })
	return i >= 0 && slices.ContainsFunc(w.vessels[i+1:], func(v vessel) bool { return v.has(second) })
}

// metals looks at the metal of the pieces, and at vessels and tools named after a metal.
func metals(l *list, vs []vessel, alloy *metal.Alloy) {
	fuming := []string{"copper", "brass", "bronze", "tin brass", "nickel silver", "cupronickel", "silver", "nickel", "zinc", "steel"}
	for _, v := range vs {
		families := families(v.recipe, alloy)
		made := func(of ...string) bool {
			return slices.ContainsFunc(families, func(f string) bool { return slices.Contains(of, f) })
		}
		for _, a := range v.agents {
			if attacks(a) && made("aluminium", "zinc") {
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
		if v.has(of(reagent.OxidizingAcid)) && made(fuming...) { // no stop, for there is a way to do it
			l.do("nitric-on-metal", fmt.Sprintf("%s: nitric acid on copper, silver and their alloys gives off nitrogen dioxide, up to 1.45 g for each gram of copper; the brown fume harms the lungs hours later", v),
				"nitric acid only under a hood that was seen to draw, never alone", "ICSC 0183 (nitric acid); amounts calculated from Cu + 4 HNO3")
		}
	}
}

// attacks tells whether a substance eats aluminium and zinc with hydrogen coming off.
func attacks(a agent) bool { return sulfide(a) || a.in(reagent.Caustic) }

// families lists the families of metal that the pieces are of, or may be.
func families(r *recipe.Recipe, alloy *metal.Alloy) (list []string) {
	if alloy != nil {
		return []string{alloy.Family}
	}
	for _, name := range r.Alloys {
		if a, err := metal.Find(name); err == nil {
			list = append(list, a.Family)
		}
	}
	return list
}
