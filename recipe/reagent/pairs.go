package reagent

import (
	"cmp"
	"slices"
	"sync"
)

// Forbidden is the severity from which two substances have no place in one vessel.
const Forbidden = 4

// Pair says what happens when two families meet in one vessel, rinse, drain or waste bottle. A
// pair that is not in the list is not thereby harmless.
type Pair struct {
	A, B     Group
	Gas      string // the gas to fear; empty where heat, fire or an explosive is the harm
	Severity int    // in one vessel: 5 kills or explodes; 4 severe; 3 strong heat or gas; 2 a caution
	Carried  int    // severity when unrinsed pieces carry one into the other; each rinse takes 1 off; 0 for nothing to say
	OnFilm   string // the cure where A meets a film of B on the metal, which no rinse takes off; else empty
	Why      string // what happens, in one clause
	Cure     string // what to do, in one line
	Source   string
	Evidence string // one of the Evidence constants
}

// Meetings returns every pair that two substances of the given groups fall under, in either
// order: the gravest first and the more particular first among equals. It serves for what is
// not in the table as well, and for the metal of the pieces.
func Meetings(a, b []Group) []Pair {
	var found []Pair
	for _, p := range pairs() {
		if p.Joins(a, b) || p.Joins(b, a) {
			found = append(found, p)
		}
	}
	slices.SortStableFunc(found, func(x, y Pair) int { return cmp.Compare(y.Severity, x.Severity) })
	return found
}

// Gravest returns the first of [Meetings], or the zero Pair. From severity [Forbidden] on the
// two have no place in one vessel; below that it is a caution.
func Gravest(a, b []Group) Pair { return append(Meetings(a, b), Pair{})[0] }

// Pairs returns all the pairs, the sulfide ones first.
func Pairs() []Pair { return slices.Clone(pairs()) }

// Joins tells whether a is in family A and b in family B. What is in both counts for
// B alone: ammonium sulfide in liver of sulfur is no ammonium salt in a sulfide.
func (p Pair) Joins(a, b []Group) bool {
	return slices.Contains(a, p.A) && !slices.Contains(a, p.B) && slices.Contains(b, p.B)
}

// Sources of several pairs.
const (
	// The line of the United States rules that names the pair. Group 5-A holds
	// spent cyanide and sulfide solutions, group 5-B the acids of group 1-B.
	appendixV   = "40 CFR 265 Appendix V, groups 5-A and 5-B (spent cyanide and sulfide solutions with acids)"
	generalChem = "general chemistry, from memory"
	bleachText  = "health department text on what bleach must not meet; INCHEM ICSC 0482"
	chart       = "hazardous waste compatibility chart EPA-600/2-80-076"
	authority   = "local authority list of incompatible substances"
)

// Cures of several pairs.
const (
	noBleach     = "leave the bleach out: it has no place beside acid, ammonia, ammonium salts or sulfides"
	rinseBetween = "keep the two in separate vessels and rinse twice between them"
	rinseSulfide = "rinse between the two and keep their baths apart"
	noFuel       = "rinse the oxidizer off and let the piece dry before a solvent or a wax comes near; soak used cloths in water"
	openVessel   = "mix little at a time in an open vessel and never close a bottle on it"
	diluteFirst  = "dilute both first and add slowly, with a face shield"
)

// pairs are the sulfides, bleach, acids, oxidizers, then the rest. A pair without a source
// is general chemistry, from memory.
var pairs = sync.OnceValue(func() []Pair {
	all := []Pair{{
		A: Acid, B: Sulfide, Gas: hydrogenSulfide, Severity: 5, Carried: 4,
		OnFilm: "pickle before colouring; a piece that has its colour never goes into acid: rub the film off, wet, or strip it without acid (recipe silver-strip)",
		Why:    "any acid, weak or strong, frees hydrogen sulfide from a sulfide at once, and that gas kills",
		Cure:   "never put an acid into a sulfide bath; after an acid rinse twice, the second time in water with washing soda, and put no sulfide-coloured piece into acid",
		Source: appendixV + "; INCHEM ICSC 1047 (sodium sulfide)", Evidence: Opened,
	}, {
		A: Hypochlorite, B: Sulfide, Gas: hydrogenSulfide, Severity: 5, Carried: 4,
		Why:    "bleach and a sulfide heat up violently, and when the pH falls hydrogen sulfide and chlorine come off",
		Cure:   "keep bleach out of every recipe with a sulfide, out of its rinses and its waste",
		Source: generalChem + "; Prudent Practices (National Academies) for sulfur compounds with bleach", Evidence: FromMemory,
	}, {
		A: AcidSalt, B: Sulfide, Gas: hydrogenSulfide, Severity: 4, Carried: 4, Why: "the solution of such a salt is acid and frees hydrogen sulfide from a sulfide",
		Cure:   "give the salt and the sulfide baths, rinses and waste vessels of their own, with two rinses between, the second with washing soda",
		Source: "ILO ICSC 1499 (iron chloride is acid); by analogy with " + appendixV, Evidence: PartlyOpened,
	}, {
		A: Oxidizer, B: Sulfide, Gas: "sulfur dioxide", Severity: 4, Carried: 4,
		Why:  "an oxidizer burns a sulfide: heat, spatter and sulfur gases in solution, fire when the two dry together",
		Cure: "never mix an oxidizer into a sulfide bath; rinse twice in clean water between the two", Source: "INCHEM ICSC 1047 (no contact with oxidising agents)",
		Evidence: Opened,
	}, {
		A: Bicarbonate, B: Sulfide, Gas: hydrogenSulfide, Severity: 3, Carried: 3,
		Why:    "bicarbonate does not destroy sulfide: it holds the water near pH 8.3, where about one part in twenty of the sulfide is hydrogen sulfide at 25 C",
		Cure:   "rinse in plain water and in washing soda at pH 10 or more, and keep bicarbonate away from the sulfide",
		Source: "share of hydrogen sulfide at pH 8.3 from Millero et al. 1988", Evidence: PartlyOpened,
	}, {
		A: AmmoniumSalt, B: Sulfide, Gas: hydrogenSulfide, Severity: 3, Carried: 2,
		Why:  "an ammonium salt draws the pH of a sulfide bath down, and both ammonia and hydrogen sulfide come off",
		Cure: "leave the ammonium salt out of the sulfide bath and check the pH at working temperature: 10 or more",
	}, {
		A: MetalSalt, B: Sulfide, Severity: 2, Carried: 2, Why: "the metal falls out as a black sulfide sludge and the bath is spent", Cure: rinseSulfide,
	}, {
		A: Hypochlorite, B: Acid, Gas: "chlorine", Severity: 5, Carried: 4, Why: "any acid frees chlorine from bleach at once", Cure: noBleach,
		Source: "INCHEM ICSC 0482; Safe Work Australia HCIS entry 4178", Evidence: Opened,
	}, {
		A: Hypochlorite, B: AcidSalt, Gas: "chlorine", Severity: 4, Carried: 4, Why: "acid metal salts free chlorine from bleach or make it foam up", Cure: noBleach,
		Source: "by analogy with acids, INCHEM ICSC 0482", Evidence: FromMemory,
	}, {
		A: Hypochlorite, B: Ammonia, Gas: "chloramine", Severity: 5, Carried: 4, Why: "bleach and ammonia make chloramine gas, for which no working limit was found",
		Cure: noBleach, Source: bleachText, Evidence: Opened,
	}, {
		A: Hypochlorite, B: AmmoniumSalt, Gas: "chloramine", Severity: 5, Carried: 4,
		Why: "bleach and ammonium salts make chloramine gas, for which no working limit was found", Cure: noBleach, Source: bleachText, Evidence: Opened,
	}, {
		A: Hypochlorite, B: Peroxide, Severity: 4, Carried: 2, Why: "bleach and peroxide drive oxygen out at once, with heat, and burst a closed vessel",
		Cure: "use one or the other, never both in one vessel", Source: bleachText, Evidence: Opened,
	}, {
		A: Hypochlorite, B: Solvent, Gas: "chloroform", Severity: 4, Carried: 3,
		Why:  "bleach heats up with alcohol or acetone and turns them into poisonous chlorinated vapours",
		Cure: "leave the bleach out, or let the solvent dry off and rinse in water before it",
	}, {
		A: Acid, B: Cyanide, Gas: "hydrogen cyanide", Severity: 5, Carried: 4, Why: "acid frees hydrogen cyanide", Cure: rinseBetween, Source: appendixV, Evidence: Opened,
	}, {
		A: AcidSalt, B: Cyanide, Gas: "hydrogen cyanide", Severity: 5, Carried: 4, Why: "acid salts free hydrogen cyanide", Cure: rinseBetween,
		Source: "by analogy with " + appendixV, Evidence: FromMemory,
	}, {
		A: Fluoride, B: Acid, Gas: "hydrogen fluoride", Severity: 5, Carried: 4, Why: "acid makes hydrofluoric acid of fluorides", Cure: rinseBetween, Source: chart,
		Evidence: Opened,
	}, {
		A: OxidizingAcid, B: Fuel, Gas: "nitrogen dioxide", Severity: 5, Carried: 3,
		Why:  "nitric acid sets solvents, waxes and oils on fire or bursts the bottle, at times hours later, with brown fume",
		Cure: "keep nitric acid away from anything that burns; rinse twice and dry before a solvent or a wax", Source: chart + "; INCHEM ICSC 0183", Evidence: Opened,
	}, {
		A: OxidizingAcid, B: OrganicAcid, Gas: "nitrogen dioxide", Severity: 4, Carried: 3, Why: "nitric acid oxidizes organic acids, slowly and then all at once",
		Cure: rinseBetween, Source: "university safety sheets on bursting waste bottles", Evidence: PartlyOpened,
	}, {
		A: OxidizingAcid, B: Hydrochloric, Gas: "chlorine", Severity: 4, Carried: 2,
		Why: "nitric and hydrochloric acid make aqua regia, which gives off chlorine and brown fume and bursts a closed bottle", Cure: "use one acid, in a vessel of its own",
	}, {
		A: OxidizingAcid, B: Metal, Gas: "nitrogen dioxide", Severity: 4, Why: "nitric acid on copper, brass or silver gives off brown gas that floods the lungs hours later",
		Cure: "work under a hood only", Source: "INCHEM ICSC 0183; amounts by stoichiometry", Evidence: PartlyOpened,
	}, {
		A: Thiosulfate, B: Acid, Gas: "sulfur dioxide", Severity: 3, Carried: 3, Why: "acid frees sulfur dioxide from thiosulfate and makes it cloudy with sulfur",
		Cure: "rinse between the two and keep their baths apart, under capture at the source",
	}, {
		A: Thiosulfate, B: AcidSalt, Gas: "sulfur dioxide", Severity: 3, Carried: 3, Why: "an acid salt frees sulfur dioxide from thiosulfate",
		Cure: "rinse between the two and keep their baths apart, under capture at the source",
	}, {
		A: Acid, B: Caustic, Severity: 3, Why: "acid and caustic boil and spit when they meet undiluted", Cure: diluteFirst,
		Source: "40 CFR 265 Appendix V, groups 1-A and 1-B; " + chart, Evidence: Opened,
	}, {
		A: Acid, B: Ammonia, Severity: 2, Why: "acid and ammonia heat up and fume when they are poured together",
		Cure: "dilute both first and add slowly, acid into the larger volume, with the face away", Source: chart, Evidence: Opened,
	}, {
		A: Acid, B: Carbonate, Gas: carbonDioxide, Severity: 2, Why: "acid and a carbonate foam up with carbon dioxide",
		Cure: "add slowly in a vessel with room to spare, never a closed one",
	}, {
		A: Permanganate, B: Hydrochloric, Gas: "chlorine", Severity: 5, Carried: 4, Why: "permanganate frees chlorine from hydrochloric acid", Cure: rinseBetween,
	}, {
		A: Permanganate, B: Sulfuric, Severity: 5, Carried: 3, Why: "permanganate and strong sulfuric acid make an oil that explodes", Cure: rinseBetween,
	}, {
		A: Permanganate, B: Peroxide, Severity: 4, Carried: 3, Why: "permanganate drives the oxygen out of peroxide at once", Cure: rinseBetween,
	}, {
		A: Chlorate, B: Acid, Gas: "chlorine dioxide", Severity: 5, Carried: 3, Why: "acid makes chlorine dioxide of a chlorate, which explodes", Cure: rinseBetween,
	}, {
		A: Oxidizer, B: ElementalSulfur, Severity: 5, Carried: 3, Why: "sulfur and an oxidizer make a mixture that explodes when it is rubbed or struck",
		Cure: "keep sulfur out of this recipe",
	}, {
		A: StrongOxidizer, B: AmmoniumSalt, Severity: 5, Carried: 3,
		Why:  "chlorates and permanganates with an ammonium salt leave a salt, as the mixture dries, that explodes by itself",
		Cure: "leave one of the two out, and let no mixture of them dry",
	}, {
		A: StrongOxidizer, B: Fuel, Severity: 4, Carried: 3, Why: "chlorates and permanganates with solvents, waxes, oils or rags can catch fire by themselves or at a rub",
		Cure: noFuel,
	}, {
		A: Nitrate, B: Fuel, Severity: 3, Why: "cloth, wax, paper and solvents wetted with a nitrate burn fiercely once dry",
		Cure: "soak used cloths and brushes in water before they dry", Source: "laboratory profile: paper wetted with copper nitrate is easily set on fire",
		Evidence: PartlyOpened,
	}, {
		A: Peroxide, B: Ketone, Severity: 5, Carried: 2, Why: "peroxide and acetone, above all with a trace of acid, make an explosive that needs no spark",
		Cure: "never let the two into one vessel, nor into one waste bottle", Source: authority, Evidence: Opened,
	}, {
		A: Peroxide, B: MetalSalt, Severity: 3, Why: "copper, iron and silver salts make peroxide boil over, and a closed bottle bursts", Cure: openVessel, Source: authority,
		Evidence: Opened,
	}, {
		A: Peroxide, B: OrganicAcid, Severity: 2, Why: "organic acids and peroxide give off oxygen and biting vapour: a closed bottle bursts", Cure: openVessel,
	}, {
		A: SilverSalt, B: Ammonia, Severity: 5, Carried: 2,
		Why:    "silver salts in ammonia grow a black solid that explodes at a touch, within a day or two, in the cold as well",
		Cure:   "keep silver salts and ammonia in separate vessels and separate waste; never store a mixture",
		Source: "histology laboratory safety pages on ammoniacal silver (opened: never stored, discarded the same day)", Evidence: Opened,
	}, {
		A: SilverSalt, B: Alcohol, Severity: 4, Carried: 2, Why: "silver nitrate and alcohol make silver fulminate, an explosive, when nitric acid is there too",
		Cure: "keep alcohol out of the silver bath and its waste", Source: "historical text on how fulminate is made", Evidence: Opened,
	}, {
		A: AmmoniumSalt, B: Caustic, Gas: "ammonia", Severity: 3, Carried: 2, Why: "caustic soda frees ammonia from ammonium salts",
		Cure: "mix them under capture at the source, with the face away",
	}, {
		A: AmmoniumSalt, B: Alkali, Gas: "ammonia", Severity: 2, Carried: 2, Why: "an alkali drives ammonia out of an ammonium salt",
		Cure: "mix them under capture at the source, with the face away",
	}}
	for i := range all {
		if all[i].Source == "" {
			all[i].Source, all[i].Evidence = generalChem, FromMemory
		}
	}
	return all
})
