package safety

import (
	"fmt"
	"slices"
	"strings"

	"hepar/recipe/fault"
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
	glued
	cracks // heat
)

// part is one word for what pieces have.
type part struct {
	word   string
	nature nature
}

var parts = [...]part{
	{"turquoise", porous | darkens | limy}, {"malachite", porous | darkens | limy}, {"azurite", porous | darkens | limy}, {"chrysocolla", porous | darkens | limy},
	{"lapis", porous | limy}, {"pearl", porous | limy}, {"mother-of-pearl", porous | limy}, {"shell", porous | limy}, {"coral", porous | limy},
	{"ivory", porous | limy}, {"bone", porous | limy}, {"amber", porous | cracks}, {"jet", porous | cracks}, {"opal", porous | cracks}, {"emerald", porous | cracks},
	{"wood", porous}, {"leather", porous}, {"stone", porous | limy | cracks}, {"enamel", glass | darkens | cracks}, {"niello", darkens | glass},
	{"glass", glass | cracks}, {"hollow", trapping}, {"tube", trapping}, {"hinge", trapping}, {"plate", thin}, {"steel", iron}, {"glue", glued | porous},
}

// Withs lists the words for what pieces can have that a bath may harm or that holds
// liquid, for [Subject.With]. A plural in s is read as well.
func Withs() []string {
	list := make([]string, len(parts))
	for i, p := range parts {
		list[i] = p.word
	}
	return list
}

func findPart(word string) (part, bool) {
	word = strings.ToLower(strings.TrimSpace(word))
	for _, p := range parts {
		if p.word == word || p.word+"s" == word || p.word == "plate" && word == "plated" {
			return p, true
		}
	}
	return part{}, false
}

func checkWith(words []string) error {
	for _, word := range words {
		if _, ok := findPart(word); ok {
			continue
		}
		err := fault.Usagef("%q is not known as a part of a piece", short(word))
		if near := fault.NearestN(strings.TrimSpace(word), Withs(), 3); len(near) > 0 {
			return err.Try("did you mean %s? for another stone write stone", strings.Join(near, " or "))
		}
		return err.Try("write one of %s; for another stone write stone", strings.Join(Withs(), ", "))
	}
	return nil
}

// having gives the parts given that are of a nature, by name.
func (w work) having(n nature) string {
	var list []string
	for _, word := range w.With {
		if p, ok := findPart(word); ok && p.nature&n != 0 && !slices.Contains(list, p.word) {
			list = append(list, p.word)
		}
	}
	return and(list)
}

// traps tells whether the pieces hold liquid that a rinse does not reach.
func (w work) traps() bool { return w.having(trapping|porous) != "" }

// pieces says what the baths do to stones, enamel, plate and hollow pieces.
func (w work) pieces(l *list) {
	if len(w.With) == 0 {
		return
	}
	correct := func(code, cure, format string, args ...any) {
		l.add(Point{Code: code, Level: CorrectFirst, Cure: cure, Source: practice, Text: fmt.Sprintf(format, args...) + ". " + sentence(cure)})
	}
	const setAfter = "colour and clean the metal first and set them afterwards, or choose a recipe without this bath"
	acids, sulfides := w.those(agent.sour), w.those(agent.sulfide)
	caustics := w.those(func(a agent) bool { return a.in(reagent.Caustic, reagent.Ammonia) })
	if s := w.having(limy); s != "" && len(acids) > 0 {
		correct("stone-in-acid", setAfter, "%s with %s: the acid eats or bleaches it, and lapis can give off hydrogen sulfide of its own", w.places(acids), s)
	}
	if s := w.having(porous | darkens); s != "" && len(sulfides) > 0 {
		correct("stone-in-sulfide", setAfter, "%s with %s: it takes up the bath, may darken for good, and gives sulfide back to whatever comes next", w.places(sulfides), s)
	}
	if s := w.having(porous | glass); s != "" && len(caustics) > 0 {
		correct("stone-in-alkali", setAfter, "%s with %s: strong alkali and ammonia dull or swell it", w.places(caustics), s)
	}
	if s := w.having(glass); s != "" && len(acids) > 0 {
		correct("enamel-in-acid", "try a waste piece of the same enamel or glass, cold and short, or work before it is fired on", "%s with %s: acid takes its gloss away, the hotter the faster", w.places(acids), s)
	}
	if s := w.having(cracks); s != "" && w.Recipe.Bath.Water.To >= scalding {
		l.add(Point{Code: "heat-cracks", Level: Caution, Source: practice,
			Text: fmt.Sprintf("%s in a hot bath can crack: warm and cool by and by, never from hot into cold.", s)})
	}
	w.trapped(l, acids, sulfides)
	if s := w.having(thin); s != "" && len(sulfides) > 0 && !w.Recipe.Plated {
		correct("plate-not-for-recipe", "use a recipe made for plated ware, weaker and shorter, and try one piece", "%s on plated ware: this recipe is for solid metal, and a strong bath takes a thin coat of silver off in scales", names(sulfides))
	}
	if w.having(iron) != "" && len(acids) > 0 {
		l.add(steelPoint("pieces with steel parts go into " + w.places(acids)))
	}
	if s := w.having(glued); s != "" {
		l.add(Point{Code: "glue", Level: Caution, Source: practice, Text: "glued settings come loose in hot water, alkali and solvents, and hold liquid behind them: glue afterwards."})
	}
}

// trapped says what liquid does that no rinse reaches.
func (w work) trapped(l *list, acids, sulfides []agent) {
	s := w.having(trapping | porous)
	if s == "" {
		return
	}
	before, after := w.acidBefore(), w.acidAfter()
	switch {
	case before || after:
		cure := "drill drain holes, flush them, soak in washing soda and flush again until pH paper on a wet recess shows no acid; otherwise keep such pieces out of one of the two"
		order := "acid first, then sulfide"
		if after {
			order = "sulfide first, then acid"
		}
		l.add(Point{
			Code: "trapped-acid-sulfide", Level: CorrectFirst, Cure: cure, Source: appendixV + "; " + practice,
			Text: fmt.Sprintf("%s, %s: what is held inside is not rinsed off, meets the other there, and frees hydrogen sulfide out of sight. %s", s, order, sentence(cure)),
		})
	case len(acids)+len(sulfides) > 0:
		l.add(Point{Code: "trapped-liquid", Level: Caution, Source: practice,
			Text: fmt.Sprintf("%s: liquid stays inside and creeps out for days. Flush long, dry warm, and keep such pieces away from %s.", s, map[bool]string{true: "any acid", false: "any sulfide bath"}[len(sulfides) > 0])})
	}
	if w.having(trapping) != "" && w.Recipe.Bath.Water.To >= scalding {
		l.add(Point{Code: "hollow-hot", Level: Caution, Source: practice,
			Text: "closed hollow pieces: air and liquid inside swell with heat and spit out of a seam or a pinhole; a vent hole first, face away, and no torch on a piece that may hold water."})
	}
}

// acidBefore and acidAfter tell whether acid comes before or after a sulfide.
func (w work) acidBefore() bool { return inOrder(w.vessels, agent.sour, agent.sulfide) }
func (w work) acidAfter() bool  { return inOrder(w.vessels, agent.sulfide, agent.sour) }

func inOrder(vs []vessel, first, second func(agent) bool) bool {
	i := slices.IndexFunc(vs, func(v vessel) bool { return v.has(first) })
	return i >= 0 && anyVessel(vs[i+1:], second)
}
