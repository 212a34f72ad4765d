package safety

import (
	"sync"

	"hepar/recipe/reagent"
)

// rule is a pair of families that must not meet, and how grave each way of meeting is.
type rule struct {
	a, b   func(agent) bool
	aName  string // "acid"; the codes are made of the two names
	bName  string
	same   Level    // in one vessel
	ab     [3]Level // a carried into b: unrinsed, rinsed once, rinsed well; empty for nothing to say
	ba     [3]Level // b carried into a
	film   bool     // what b leaves on the metal is not rinsed off: a finds it there
	onFilm string   // the cure for that, in place of cure
	why    string   // what happens, in one clause
	cure   string   // one line, lower case, no full stop
	source string
}

// Shorthands for the tables below.
var (
	nothing  = [3]Level{}
	grave    = [3]Level{StopLevel, CorrectFirst, Caution}
	filmed   = [3]Level{StopLevel, StopLevel, StopLevel}
	middling = [3]Level{CorrectFirst, Caution, ""}
	slight   = [3]Level{Caution, "", ""}
)

func of(groups ...reagent.Group) func(agent) bool {
	return func(a agent) bool { return a.in(groups...) }
}

func named(ids ...string) func(agent) bool {
	return func(a agent) bool { return a.is(ids...) }
}

// Sources that several rules share.
const (
	appendixV = "40 CFR 265 Appendix V, pair 5-A/5-B (spent sulfide solutions with acids)"
	chemistry = "general chemistry, from memory"
)

// rules gives the pairs, the most particular first: two substances are judged by the
// first rule that fits them.
var rules = sync.OnceValue(func() []rule {
	return append(append(sulfideRules(), chlorineRules()...), otherRules()...)
})

func sulfideRules() []rule {
	sulfide := of(reagent.Sulfide)
	return []rule{
		{
			a: of(reagent.Hypochlorite), b: sulfide, aName: "hypochlorite", bName: "sulfide",
			same: StopLevel, ab: grave, ba: grave,
			why:    "bleach and a sulfide heat up at once, and when the pH falls hydrogen sulfide and chlorine come off",
			cure:   "keep bleach out of every recipe with a sulfide, out of its rinses and its waste",
			source: "general chemistry, from memory; Prudent Practices (National Academies) for sulfur compounds with bleach",
		},
		{
			a: agent.acid, b: sulfide, aName: "acid", bName: "sulfide", film: true,
			same: StopLevel, ab: grave, ba: filmed,
			why:    "any acid, a weak one as well, frees hydrogen sulfide from a sulfide at once, and that gas kills",
			cure:   "never put an acid into a sulfide bath; after an acid rinse twice, the second time in water with washing soda, and put no sulfide-coloured piece into acid",
			onFilm: "pickle before colouring; a piece that has its colour goes into acid only in a run of its own, when all of the film has been rubbed off it, wet",
			source: appendixV + "; ICSC 1047 (sodium sulfide)",
		},
		{
			a: of(reagent.AcidSalt), b: sulfide, aName: "acid-salt", bName: "sulfide", film: true,
			same: StopLevel, ab: grave, ba: grave,
			why:    "the solution of such a salt is acid and frees hydrogen sulfide from a sulfide",
			cure:   "give the salt and the sulfide baths, rinses and waste vessels of their own, with two rinses between, the second with washing soda",
			source: "ICSC 1499 (ferric chloride); by likeness with " + appendixV,
		},
		{
			a: of(reagent.Oxidizer), b: sulfide, aName: "oxidizer", bName: "sulfide",
			same: StopLevel, ab: grave, ba: grave,
			why:    "an oxidizer and a sulfide react with heat, may boil over or burn, and give off sulfur gases",
			cure:   "never mix an oxidizer into a sulfide bath; rinse twice in clean water between the two",
			source: "ICSC 1047 (sodium sulfide: no contact with oxidising agents)",
		},
		{
			a: named("sodium-bicarbonate"), b: sulfide, aName: "bicarbonate", bName: "sulfide",
			same: CorrectFirst, ab: slight, ba: [3]Level{CorrectFirst, Caution, Caution},
			why:    "bicarbonate does not destroy sulfide: it holds the water near pH 8.3, where about one part in twenty of the sulfide is hydrogen sulfide at 25 C",
			cure:   "rinse in plain water and in washing soda at pH 10 or more, and leave bicarbonate away from the sulfide",
			source: "Millero 1988 (first ionisation of hydrogen sulfide), calculated; pH of bicarbonate, general chemistry",
		},
		{
			a: func(a agent) bool { return a.in(reagent.AmmoniumSalt) && !a.sulfide() }, b: sulfide,
			aName: "ammonium-salt", bName: "sulfide", same: CorrectFirst, ab: slight, ba: slight,
			why:    "an ammonium salt draws the pH of a sulfide bath down, and both ammonia and hydrogen sulfide come off",
			cure:   "leave the ammonium salt out of the sulfide bath and check the pH at working temperature: 10 or more",
			source: chemistry,
		},
		{
			a: of(reagent.CopperSalt, reagent.SilverSalt), b: sulfide, aName: "metal-salt", bName: "sulfide",
			same: CorrectFirst, ab: slight, ba: slight,
			why:    "the metal falls out as a black sulfide sludge and the bath is spent",
			cure:   "rinse between the metal salt and the sulfide, and keep their baths apart",
			source: chemistry,
		},
	}
}

func chlorineRules() []rule {
	bleach := of(reagent.Hypochlorite)
	return []rule{
		{
			a: bleach, b: agent.sour, aName: "hypochlorite", bName: "acid",
			same: StopLevel, ab: grave, ba: grave,
			why:    "bleach with an acid gives off chlorine at once",
			cure:   "leave the bleach out; it has no place in a line with acid",
			source: "ICSC 0482 (sodium hypochlorite)",
		},
		{
			a: bleach, b: of(reagent.Ammonia, reagent.AmmoniumSalt), aName: "hypochlorite", bName: "ammonia",
			same: StopLevel, ab: grave, ba: grave,
			why:    "bleach with ammonia or an ammonium salt gives chloramines, which must not be made at all: no working limit for them was found",
			cure:   "leave the bleach out; it has no place in a line with ammonia or its salts",
			source: "ICSC 0482 (sodium hypochlorite); state health department warnings on mixing cleaners",
		},
		{
			a: bleach, b: of(reagent.Solvent), aName: "hypochlorite", bName: "solvent",
			same: StopLevel, ab: middling, ba: middling,
			why:    "bleach with alcohol or acetone heats up and gives poisonous chlorinated vapours",
			cure:   "leave the bleach out, or let the solvent dry off and rinse in water before it",
			source: chemistry,
		},
		{
			a: bleach, b: named("hydrogen-peroxide"), aName: "hypochlorite", bName: "peroxide",
			same: StopLevel, ab: slight, ba: slight,
			why:    "bleach and peroxide throw off oxygen with heat",
			cure:   "use one or the other, never both in one vessel",
			source: "state health department warnings on mixing cleaners",
		},
		{
			a: named("potassium-permanganate"), b: named("hydrochloric-acid"), aName: "permanganate", bName: "hydrochloric-acid",
			same: StopLevel, ab: grave, ba: grave,
			why:    "permanganate with hydrochloric acid gives off chlorine",
			cure:   "keep the two in separate vessels and rinse twice between them",
			source: chemistry,
		},
		{
			a: named("sodium-chlorate", "potassium-chlorate"), b: agent.acid, aName: "chlorate", bName: "acid",
			same: StopLevel, ab: middling, ba: middling,
			why:    "a chlorate with acid gives chlorine and chlorine dioxide, which can explode",
			cure:   "keep the two in separate vessels and rinse twice between them",
			source: chemistry,
		},
	}
}
