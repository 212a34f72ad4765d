package reagent

import (
	"slices"
	"sync"
)

const (
	// The line of the United States rules that names the pair. Group 5-A holds
	// spent cyanide and sulfide solutions, group 5-B the acids of group 1-B.
	appendixV   = "40 CFR 265 Appendix V, groups 5-A and 5-B (spent cyanide and sulfide solutions with acids)"
	generalChem = "general chemistry, from memory"
	bleachText  = "health department text on what bleach must not meet; INCHEM ICSC 0482"
	chart       = "hazardous waste compatibility chart EPA-600/2-80-076"
)

var pairs = sync.OnceValue(func() []Hazard {
	return slices.Concat(sulfidePairs(), bleachPairs(), acidPairs(), oxidizerPairs(), otherPairs())
})

func sulfidePairs() []Hazard {
	return []Hazard{
		{
			A: Sulfide, B: Acid, Gas: hydrogenSulfide, Products: "hydrogen sulfide, a salt, sulfur", Severity: 5,
			Why:    "acid frees hydrogen sulfide from sulfides at once, weak acids as well as strong",
			Source: appendixV, Evidence: Opened,
		},
		{
			A: Sulfide, B: OxidizingAcid, Gas: hydrogenSulfide, Products: "hydrogen sulfide, nitrogen oxides, sulfur, heat", Severity: 5,
			Why:    "nitric acid frees hydrogen sulfide, burns a part of it and adds nitrogen oxides and heat",
			Source: appendixV, Evidence: PartlyOpened,
		},
		{
			A: Sulfide, B: AcidSalt, Gas: hydrogenSulfide, Products: "hydrogen sulfide and a sludge of metal sulfide", Severity: 4,
			Why:    "solutions of iron, copper, zinc and ammonium salts are acid and free hydrogen sulfide",
			Source: "ILO ICSC 1499 (iron chloride is acid); by analogy with " + appendixV, Evidence: PartlyOpened,
		},
		{
			A: Sulfide, B: Hypochlorite, Gas: hydrogenSulfide, Products: "heat and sulfur; hydrogen sulfide and chlorine when the pH falls", Severity: 5,
			Why:    "bleach and sulfide heat up violently, and either gas comes off as soon as the mixture turns less alkaline",
			Source: generalChem, Evidence: FromMemory,
		},
		{
			A: Sulfide, B: Oxidizer, Gas: "sulfur dioxide", Products: "heat, sulfur, sulfate, perhaps sulfur dioxide", Severity: 4,
			Why:    "an oxidiser burns sulfide: heat and spatter in solution, fire when the two dry together",
			Source: "INCHEM ICSC 1047 (no contact with oxidising agents)", Evidence: Opened,
		},
		{
			A: Sulfide, B: Alkali, OnlyB: []string{"sodium-bicarbonate"}, Gas: hydrogenSulfide, Products: "hydrogen sulfide, slowly", Severity: 2,
			Why:    "bicarbonate lowers the pH of a sulfide towards 8.3 and frees gas slowly; it does not destroy sulfide",
			Source: "share of hydrogen sulfide at pH 8.3 from Millero et al. 1988", Evidence: PartlyOpened,
		},
	}
}

func bleachPairs() []Hazard {
	return []Hazard{
		{
			A: Hypochlorite, B: Acid, Gas: "chlorine", Products: "chlorine", Severity: 5,
			Why:    "any acid frees chlorine from bleach",
			Source: "INCHEM ICSC 0482; Safe Work Australia HCIS entry 4178", Evidence: Opened,
		},
		{
			A: Hypochlorite, B: AcidSalt, Gas: "chlorine", Products: "chlorine or a burst of oxygen", Severity: 4,
			Why:    "acid metal salts free chlorine from bleach or make it foam up",
			Source: "by analogy with acids, INCHEM ICSC 0482", Evidence: FromMemory,
		},
		{
			A: Hypochlorite, B: Ammonia, Gas: "chloramine", Products: "chloramines, at worst explosive nitrogen trichloride", Severity: 5,
			Why: "bleach and ammonia make chloramine gas", Source: bleachText, Evidence: Opened,
		},
		{
			A: Hypochlorite, B: AmmoniumSalt, Gas: "chloramine", Products: "chloramines, at worst explosive nitrogen trichloride", Severity: 5,
			Why: "bleach and ammonium salts make chloramine gas", Source: bleachText, Evidence: Opened,
		},
		{
			A: Hypochlorite, B: Oxidizer, OnlyB: []string{"hydrogen-peroxide"}, Gas: "", Products: "a burst of oxygen, heat", Severity: 4,
			Why: "bleach and peroxide drive oxygen out at once and burst a closed vessel", Source: bleachText, Evidence: Opened,
		},
		{
			A: Hypochlorite, B: Solvent, Gas: "chloroform", Products: "chloroform and other chlorinated solvents, heat", Severity: 4,
			Why: "bleach turns acetone and alcohols into chlorinated solvents", Source: generalChem, Evidence: FromMemory,
		},
	}
}

func acidPairs() []Hazard {
	return []Hazard{
		{
			A: Acid, B: Caustic, Products: "heat, spatter", Severity: 3,
			Why: "acid and caustic boil and spit when they meet undiluted", Source: "40 CFR 265 Appendix V, groups 1-A and 1-B", Evidence: Opened,
		},
		{
			A: Acid, B: Ammonia, Products: "heat, white fume of ammonium salt", Severity: 2,
			Why: "acid and ammonia heat up and smoke; the ammonia no longer does its work", Source: chart, Evidence: Opened,
		},
		{
			A: OxidizingAcid, B: Solvent, Gas: "nitrogen dioxide", Products: "nitrogen oxides, fire, explosion", Severity: 5,
			Why: "nitric acid and solvents catch fire or burst the bottle, at times hours later", Source: chart + "; INCHEM ICSC 0183", Evidence: Opened,
		},
		{
			A: OxidizingAcid, B: Acid, OnlyB: []string{"acetic-acid", "citric-acid", "oxalic-acid"}, Gas: "nitrogen dioxide", Products: "nitrogen oxides, heat", Severity: 4,
			Why: "nitric acid oxidises organic acids, slowly and then all at once", Source: "university safety sheets on bursting waste bottles", Evidence: PartlyOpened,
		},
		{
			A: OxidizingAcid, B: Acid, OnlyB: []string{"hydrochloric-acid"}, Gas: "chlorine", Products: "chlorine, nitrosyl chloride", Severity: 4,
			Why: "nitric and hydrochloric acid make aqua regia, which gives off chlorine and never keeps in a closed bottle", Source: generalChem, Evidence: FromMemory,
		},
		{
			A: OxidizingAcid, B: Metal, Gas: "nitrogen dioxide", Products: "brown nitrogen oxides", Severity: 4,
			Why: "nitric acid on copper, brass or silver gives off brown gas that floods the lungs hours later: hood only", Source: "INCHEM ICSC 0183; amounts by stoichiometry", Evidence: PartlyOpened,
		},
		{
			A: Thiosulfate, B: Acid, Gas: "sulfur dioxide", Products: "sulfur dioxide, sulfur", Severity: 3,
			Why: "acid frees sulfur dioxide from thiosulfate", Source: generalChem, Evidence: FromMemory,
		},
		{
			A: Cyanide, B: Acid, Gas: "hydrogen cyanide", Products: "hydrogen cyanide", Severity: 5,
			Why: "acid frees hydrogen cyanide", Source: appendixV, Evidence: Opened,
		},
		{
			A: Cyanide, B: AcidSalt, Gas: "hydrogen cyanide", Products: "hydrogen cyanide", Severity: 5,
			Why: "acid salts free hydrogen cyanide", Source: "by analogy with " + appendixV, Evidence: FromMemory,
		},
		{
			A: Fluoride, B: Acid, Gas: "hydrogen fluoride", Products: "hydrofluoric acid", Severity: 5,
			Why: "acid makes hydrofluoric acid of fluorides", Source: chart, Evidence: Opened,
		},
	}
}

func oxidizerPairs() []Hazard {
	permanganate := []string{"potassium-permanganate"}
	chlorates := []string{"sodium-chlorate", "potassium-chlorate"}
	peroxide := []string{"hydrogen-peroxide"}
	nitrates := []string{"copper-nitrate", "ferric-nitrate", "bismuth-nitrate", "mercury-nitrate"}
	return []Hazard{
		{
			A: Oxidizer, OnlyA: permanganate, B: Solvent, Products: "fire", Severity: 4,
			Why: "permanganate sets alcohol and solvents on fire", Source: generalChem, Evidence: FromMemory,
		},
		{
			A: Oxidizer, OnlyA: permanganate, B: Oxidizer, OnlyB: peroxide, Products: "a violent burst of oxygen", Severity: 4,
			Why: "permanganate drives the oxygen out of peroxide at once", Source: generalChem, Evidence: FromMemory,
		},
		{
			A: Oxidizer, OnlyA: permanganate, B: Acid, OnlyB: []string{"hydrochloric-acid"}, Gas: "chlorine", Products: "chlorine", Severity: 5,
			Why: "permanganate frees chlorine from hydrochloric acid", Source: generalChem, Evidence: FromMemory,
		},
		{
			A: Oxidizer, OnlyA: permanganate, B: Acid, OnlyB: []string{"sulfuric-acid"}, Products: "explosive manganese heptoxide", Severity: 5,
			Why: "permanganate and strong sulfuric acid make an oil that explodes", Source: generalChem, Evidence: FromMemory,
		},
		{
			A: Oxidizer, OnlyA: permanganate, B: AmmoniumSalt, Products: "ammonium permanganate, which explodes when warm or dry", Severity: 4,
			Why: "permanganate and ammonium salts make an explosive salt", Source: generalChem, Evidence: FromMemory,
		},
		{
			A: Oxidizer, OnlyA: chlorates, B: Acid, Gas: "chlorine dioxide", Products: "chlorine dioxide, explosion", Severity: 5,
			Why: "acid makes chlorine dioxide of chlorates, which explodes", Source: generalChem, Evidence: FromMemory,
		},
		{
			A: Oxidizer, OnlyA: chlorates, B: AmmoniumSalt, Products: "ammonium chlorate, which explodes by itself", Severity: 5,
			Why: "chlorates and ammonium salts make a salt that explodes by itself", Source: generalChem, Evidence: FromMemory,
		},
		{
			A: Oxidizer, OnlyA: chlorates, B: Solvent, Products: "fire", Severity: 4,
			Why: "chlorates and solvents burn fiercely", Source: generalChem, Evidence: FromMemory,
		},
		{
			A: Oxidizer, B: Neutral, OnlyB: []string{"sulfur"}, Products: "fire, explosion when rubbed", Severity: 5,
			Why: "sulfur and oxidisers make a mixture that explodes when rubbed", Source: generalChem, Evidence: FromMemory,
		},
		{
			A: Oxidizer, OnlyA: nitrates, B: Solvent, Products: "a residue that catches fire easily", Severity: 3,
			Why: "nitrates make rags, paper and solvents burn easily", Source: "laboratory profile: paper wetted with copper nitrate is easily set on fire", Evidence: PartlyOpened,
		},
		{
			A: Oxidizer, OnlyA: peroxide, B: Solvent, OnlyB: []string{"acetone"}, Products: "explosive acetone peroxide, quickly with acid", Severity: 5,
			Why: "peroxide and acetone make explosive crystals, above all where acid is near", Source: "local authority list of incompatible substances", Evidence: Opened,
		},
		{
			A: Oxidizer, OnlyA: peroxide, B: CopperSalt, Products: "rapid oxygen, boiling over, burst bottles", Severity: 3,
			Why: "copper salts make peroxide boil over: open vessel, small amounts, never kept", Source: "local authority list of incompatible substances", Evidence: Opened,
		},
		{
			A: Oxidizer, OnlyA: peroxide, B: AcidSalt, OnlyB: []string{"ferric-chloride", "ferric-nitrate", "ferrous-sulfate"}, Products: "rapid oxygen, boiling over, burst bottles", Severity: 3,
			Why: "iron salts make peroxide boil over", Source: "local authority list of incompatible substances", Evidence: Opened,
		},
		{
			A: Oxidizer, OnlyA: peroxide, B: SilverSalt, Products: "rapid oxygen, boiling over, burst bottles", Severity: 3,
			Why: "silver salts make peroxide boil over", Source: "local authority list of incompatible substances", Evidence: Opened,
		},
	}
}

func otherPairs() []Hazard {
	return []Hazard{
		{
			A: SilverSalt, B: Ammonia, Products: "fulminating silver", Severity: 5,
			Why:    "silver salts in ammonia grow an explosive within a day or two, in the cold as well: never store the mixture",
			Source: "histology laboratory safety pages on ammoniacal silver", Evidence: Opened,
		},
		{
			A: SilverSalt, B: Solvent, OnlyB: []string{"ethanol", "isopropanol"}, Products: "explosive silver fulminate where nitric acid is near", Severity: 4,
			Why:    "silver nitrate, alcohol and nitric acid make silver fulminate",
			Source: "historical text on how fulminate is made", Evidence: Opened,
		},
		{
			A: AmmoniumSalt, B: Caustic, Gas: "ammonia", Products: "ammonia", Severity: 3,
			Why: "caustic soda frees ammonia from ammonium salts", Source: generalChem, Evidence: FromMemory,
		},
	}
}
