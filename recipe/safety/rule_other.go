package safety

import "hepar/recipe/reagent"

// otherRules are the pairs without sulfide or chlorine.
func otherRules() []rule {
	nitric := of(reagent.OxidizingAcid)
	burns := func(a agent) bool {
		return a.in(reagent.Solvent) || a.is("carnauba-wax", "microcrystalline-wax", "lacquer", "sulfur")
	}
	organic := func(a agent) bool { return burns(a) || a.is("acetic-acid", "citric-acid", "oxalic-acid") }
	chlorateLike := named("sodium-chlorate", "potassium-chlorate", "potassium-permanganate")
	return []rule{
		{
			a: nitric, b: organic, aName: "nitric", bName: "organic",
			same: StopLevel, ab: middling, ba: middling,
			why:    "nitric acid sets solvents, waxes and organic acids on fire or bursts the vessel, with brown fume",
			cure:   "keep nitric acid away from anything that burns; rinse twice and dry before a solvent or a wax",
			source: "ICSC 0183 (nitric acid)",
		},
		{
			a: named("hydrogen-peroxide"), b: named("acetone"), aName: "peroxide", bName: "acetone",
			same: StopLevel, ab: slight, ba: slight,
			why:    "peroxide with acetone, the more so with a trace of acid, makes an explosive that needs no spark",
			cure:   "never let the two into one vessel, nor into one waste bottle",
			source: "university lists of incompatible chemicals",
		},
		{
			a: named("potassium-permanganate"), b: named("hydrogen-peroxide", "sulfuric-acid"), aName: "permanganate", bName: "peroxide-or-sulfuric",
			same: StopLevel, ab: middling, ba: middling,
			why:    "permanganate bursts into oxygen with peroxide and makes an explosive oil with strong sulfuric acid",
			cure:   "keep them in separate vessels and rinse twice between them",
			source: chemistry,
		},
		{
			a: chlorateLike, b: burns, aName: "strong-oxidizer", bName: "fuel",
			same: StopLevel, ab: middling, ba: middling,
			why:    "chlorates and permanganates with solvents, wax, sulfur or rags can catch fire by themselves or at a rub",
			cure:   "rinse the oxidizer off and let the piece dry before a solvent or a wax comes near; soak used cloths in water",
			source: chemistry,
		},
		{
			a: chlorateLike, b: of(reagent.AmmoniumSalt), aName: "strong-oxidizer", bName: "ammonium",
			same: StopLevel, ab: middling, ba: middling,
			why:    "chlorates and permanganates with an ammonium salt leave a salt, as the mixture dries, that explodes by itself",
			cure:   "leave one of the two out, and let no mixture of them dry",
			source: chemistry,
		},
		{
			a: of(reagent.Oxidizer), b: named("sulfur"), aName: "oxidizer", bName: "sulfur",
			same: StopLevel, ab: middling, ba: middling,
			why:    "sulfur and an oxidizer make a mixture that explodes when it is rubbed or struck",
			cure:   "keep sulfur out of this recipe",
			source: chemistry,
		},
		{
			a: nitric, b: named("hydrochloric-acid"), aName: "nitric", bName: "hydrochloric-acid",
			same: StopLevel, ab: slight, ba: slight,
			why:    "the two make a liquid that gives off chlorine and brown fume and bursts a closed bottle",
			cure:   "use one acid, in a vessel of its own",
			source: chemistry,
		},
		{
			a: of(reagent.SilverSalt), b: of(reagent.Ammonia), aName: "silver", bName: "ammonia",
			same: CorrectFirst, ab: slight, ba: slight,
			why:    "silver salts in ammonia turn on standing into a silver nitride that explodes at a touch; one case was about two days old",
			cure:   "mix it fresh for the job, write the time on the vessel, use it within two hours and let none stand overnight; the supplier's sheet says how it is destroyed",
			source: "histology laboratory safety pages on ammoniacal silver (opened: never stored, discarded the same day)",
		},
		{
			a: of(reagent.SilverSalt), b: named("ethanol", "isopropanol"), aName: "silver", bName: "alcohol",
			same: StopLevel, ab: slight, ba: slight,
			why:    "silver nitrate and alcohol make silver fulminate, an explosive, when nitric acid is there too",
			cure:   "keep alcohol out of the silver bath and its waste",
			source: "historical preparation texts",
		},
		{
			a: func(a agent) bool { return a.in(reagent.Oxidizer) && a.nitrate() }, b: burns, aName: "nitrate", bName: "fuel",
			same: Caution, ab: nothing, ba: nothing,
			why:    "cloth, wax, paper and solvents wetted with a nitrate burn fiercely once dry",
			cure:   "soak used cloths and brushes in water before they dry",
			source: "laboratory information profile of cupric nitrate",
		},
		{
			a: named("sodium-thiosulfate"), b: agent.sour, aName: "thiosulfate", bName: "acid",
			same: CorrectFirst, ab: middling, ba: middling,
			why:    "acid frees sulfur dioxide from thiosulfate and makes it cloudy with sulfur",
			cure:   "rinse between the two and keep their baths apart, under capture at the source",
			source: chemistry,
		},
		{
			a: of(reagent.AmmoniumSalt), b: func(a agent) bool { return a.in(reagent.Caustic, reagent.Alkali) && !a.in(reagent.AmmoniumSalt) },
			aName: "ammonium-salt", bName: "alkali", same: Caution, ab: slight, ba: slight,
			why:    "an alkali drives ammonia out of an ammonium salt",
			cure:   "mix it under capture at the source, with the face away",
			source: chemistry,
		},
		{
			a: named("hydrogen-peroxide"), b: func(a agent) bool {
				return a.in(reagent.CopperSalt, reagent.SilverSalt, reagent.AcidSalt) || a.is("ferrous-sulfate", "acetic-acid")
			},
			aName: "peroxide", bName: "metal-salt", same: Caution, ab: nothing, ba: nothing,
			why:    "metal salts and acids make peroxide throw off oxygen: it may boil over, and a closed bottle bursts",
			cure:   "mix little at a time in an open vessel and never close a bottle on it",
			source: "local authority list of incompatible chemicals",
		},
		{
			a: agent.acid, b: of(reagent.Ammonia), aName: "acid", bName: "ammonia",
			same: Caution, ab: nothing, ba: nothing,
			why:    "an acid and ammonia heat up and fume when they are poured together",
			cure:   "dilute both first and add slowly, acid into the larger volume, with the face away",
			source: "EPA-600/2-80-076, acids with caustics: heat",
		},
		{
			a: agent.acid, b: of(reagent.Caustic), aName: "acid", bName: "caustic",
			same: Caution, ab: nothing, ba: nothing,
			why:    "an acid and a caustic heat up and spit",
			cure:   "dilute both first and add slowly, with a face shield",
			source: "EPA-600/2-80-076, acids with caustics: heat; 40 CFR 265 Appendix V, group 1",
		},
		{
			a: agent.acid, b: func(a agent) bool { return a.in(reagent.Alkali) || a.is("ammonium-carbonate", "copper-carbonate") },
			aName: "acid", bName: "carbonate",
			same: Caution, ab: nothing, ba: nothing,
			why:    "acid and a carbonate foam up with carbon dioxide",
			cure:   "add slowly in a vessel with room to spare, never a closed one",
			source: chemistry,
		},
	}
}
