package reagent

const (
	solventFire   = "catches fire from a flame across the room; the vapour creeps along the bench; no torch, no hot plate"
	solventNitric = "never with nitric acid, permanganate, chlorate, peroxide or bleach, nor in one waste bottle with them"
)

func solvents() []Substance {
	return []Substance{
		{
			ID: "isopropanol", Name: "isopropanol",
			Synonyms: []string{"isopropyl alcohol", "rubbing alcohol", "propan-2-ol"},
			CAS:      "67-63-0", Groups: []Group{Solvent},
			Forms:  []Form{solution("99 %", "C3H8O", 60.096, 99, 0.785, "density from memory")},
			Signal: "Danger", HCodes: []string{"H225", "H319", "H336"}, Storage: flammables, Gloves: "butyl; nitrile for a short time; " + checkChart,
			Hazards: []string{solventFire, solventNitric}, Source: annexVI, Evidence: FromMemory,
		},
		{
			ID: "acetone", Name: "acetone",
			CAS: "67-64-1", Groups: []Group{Solvent},
			Forms:  []Form{solution("99 %", "C3H6O", 58.08, 99, 0.791, "density from memory")},
			Signal: "Danger", HCodes: []string{"H225", "H319", "H336", "EUH066"}, Storage: flammables, Gloves: "butyl only; " + checkChart,
			Hazards: []string{solventFire, solventNitric, "with peroxide and acid: explosive crystals"}, Source: annexVI, Evidence: FromMemory,
		},
		{
			ID: "ethanol", Name: "ethanol",
			Synonyms: []string{"alcohol", "denatured alcohol", "methylated spirit", "meths"},
			CAS:      "64-17-5", Groups: []Group{Solvent},
			Forms:  []Form{solution("95 %", "C2H6O", 46.069, 95, 0.80, "density from memory")},
			Signal: "Danger", HCodes: []string{"H225", "H319"}, Storage: flammables, Gloves: "butyl; nitrile for a short time; " + checkChart,
			Hazards: []string{solventFire, solventNitric, "with silver nitrate and nitric acid: explosive fulminate"}, Source: annexVI, Evidence: FromMemory,
		},
		{
			ID: "lacquer", Name: "lacquer",
			Synonyms: []string{"lacquer thinner", "varnish", "clear lacquer"},
			Groups:   []Group{Solvent},
			Forms:    []Form{{Name: "as sold", Liquid: true, StrengthUnknown: true, Source: "a blend: the label decides"}},
			Signal:   "Danger", HCodes: []string{"H225", "H304", "H315", "H319", "H336", "H361d", "H373", "EUH066"},
			Storage: flammables, Gloves: "butyl or laminate; " + checkChart,
			Hazards: []string{solventFire, "a typical blend with toluene is meant here: always take the codes from the SDS of your own"},
			Source:  "typical blend, from memory", Evidence: FromMemory,
		},
	}
}

// shopGoods are what a recipe names beside its chemicals.
func shopGoods() []Substance {
	return []Substance{
		{
			ID: "sulfur", Name: "sulfur",
			Synonyms: []string{"flowers of sulfur", "brimstone", "sulphur"},
			CAS:      "7704-34-9", Groups: []Group{Neutral},
			Forms:  []Form{solid("powder", "S", 32.06, "")},
			Signal: "Warning", HCodes: []string{"H228", "H315"}, Storage: "dry, away from oxidisers and flames", Gloves: "any",
			Hazards: []string{"burns to sulfur dioxide, which chokes", "with chlorate or permanganate it explodes when rubbed"},
			Source:  "supplier sheet (H228, H315, H319)", Evidence: PartlyOpened,
		},
		{
			ID: "detergent", Name: "detergent",
			Synonyms: []string{"dish soap", "washing-up liquid"},
			Groups:   []Group{Neutral},
			Forms:    []Form{{Name: "liquid", Liquid: true, StrengthUnknown: true, Source: "a blend: the label decides"}},
			Storage:  "as the label says", Gloves: "any",
			Hazards: []string{"look for bleach, acid or citrus on the label before using it near a sulfide"},
			Source:  "typical blend, from memory", Evidence: FromMemory,
		},
		{
			ID: "pumice", Name: "pumice powder",
			CAS: "1332-09-8", Groups: []Group{Neutral},
			Forms:   []Form{{Name: "powder", Source: "a rock: no formula"}},
			Storage: "dry", Gloves: "any",
			Hazards: []string{"use it wet: the dry dust harms the lungs"},
			Source:  "from memory", Evidence: FromMemory,
		},
		{
			ID: "carnauba-wax", Name: "carnauba wax",
			CAS: "8015-86-9", Groups: []Group{Neutral},
			Forms:   []Form{{Name: "flake", Source: "a mixture of esters: no formula"}},
			Storage: "cool", Gloves: "against heat where it is melted",
			Hazards: []string{"melted wax burns skin and catches fire"},
			Source:  "not classified, from memory", Evidence: FromMemory,
		},
		{
			ID: "microcrystalline-wax", Name: "microcrystalline wax",
			Synonyms: []string{"conservation wax", "paste wax"},
			CAS:      "63231-60-7", Groups: []Group{Neutral},
			Forms: []Form{
				{Name: "paste", Source: "wax in a solvent: the label decides"},
				{Name: "solid", Source: "a mixture: no formula"},
			},
			Signal: "Warning", HCodes: []string{"H226", "H304", "H336", "EUH066"}, Storage: "cool, away from flames", Gloves: "nitrile for paste",
			Hazards: []string{"the codes are those of paste with white spirit; the solid has none", "solvent rags go into a closed metal bin"},
			Source:  "typical paste, from memory", Evidence: FromMemory,
		},
	}
}
