package reagent

const acidGloves = "neoprene or butyl, thick nitrile against splashes only; " + checkChart

func mineralAcids() []Substance {
	return []Substance{{
		ID: "sulfuric-acid", Name: "sulfuric acid",
		Names: []string{"oil of vitriol", "spirit of vitriol", "vitriolic acid", "battery acid", "accumulator acid", "h2so4"},
		CAS:   "7664-93-9", Groups: []Group{Acid, Sulfuric}, Forms: []Form{solution("96 %", "H2SO4", 98.072, 96, 1.84, commercial)},
		Signal: "Danger", HCodes: []string{"H290", "H314"}, Storage: acidShelf, Gloves: acidGloves,
		Hazards:         []string{"acid into cold water, never water into acid: it boils and spits", meetsSulfide, meetsBleach, "chars cloth and skin"},
		AcidEquivalents: 2, Source: "older sheet (UN 1830); codes: " + annexVI, Evidence: PartlyOpened,
	}, {
		ID: "hydrochloric-acid", Name: "hydrochloric acid",
		Names: []string{"muriatic acid", "spirits of salt", "spirit of salt", "marine acid", "brick cleaner", "hydrogen chloride", "hcl"},
		CAS:   "7647-01-0", Groups: []Group{Acid, Hydrochloric},
		Forms: []Form{
			solution("37 %", "HCl", 36.458, 37, 1.18, "usual label figures; the book row is 36 %, 1.18 g/mL: "+commercial),
			solution("36 %", "HCl", 36.458, 36, 1.18, commercial),
		},
		Signal: "Danger", HCodes: []string{"H290", "H314", "H335"}, Storage: acidShelf, Gloves: acidGloves,
		Hazards:         []string{meetsSulfide, "chlorine with bleach, permanganate, chlorate or peroxide", "fumes rust the workshop and burn the lungs", "acid into water"},
		AcidEquivalents: 1, Source: annexVI, Evidence: FromMemory,
	}, {
		ID: "nitric-acid", Name: "nitric acid",
		Names: []string{"aqua fortis", "aquafortis", "spirit of nitre", "spirits of nitre", "spirit of niter", "parting acid", "aqua regia", "hno3"},
		CAS:   "7697-37-2", Groups: []Group{Acid, OxidizingAcid},
		Forms:  []Form{solution("70 %", "HNO3", 63.012, 70, 1.41, "usual label figures"), solution("71 %", "HNO3", 63.012, 71, 1.42, commercial)},
		Signal: "Danger", HCodes: []string{"H272", "H290", "H314", "H331", "EUH071"},
		Storage: acidShelf + "; apart from organic acids, solvents and waxes",
		Gloves:  "neoprene, butyl or fluoroelastomer: nitrile does not last in strong nitric acid; " + checkChart,
		Hazards: []string{
			"brown nitrogen dioxide on copper and silver: the lungs may fill hours later, also without cough",
			"fire or burst bottles with alcohol, acetone, paper, wax; solvent wipes and nitric waste never meet",
			meetsSulfide, "acid into water",
		},
		AcidEquivalents: 1, Source: "supplier sheet 65-70 %; INCHEM ICSC 0183; H331 from memory", Evidence: PartlyOpened,
	}, {
		ID: "phosphoric-acid", Name: "phosphoric acid",
		Names: []string{"orthophosphoric acid", "cola", "rust remover", "rust converter", "h3po4"}, CAS: "7664-38-2", Groups: []Group{Acid},
		Forms:  []Form{solution("85 %", "H3PO4", 97.9938, 85, 1.70, commercial)},
		Signal: "Danger", HCodes: []string{"H290", "H314"}, Storage: acidShelf, Gloves: acidGloves,
		Hazards: []string{meetsSulfide, meetsBleach, "burns; acid into water"},
		// Two of the three: bicarbonate brings it to hydrogen phosphate only.
		AcidEquivalents: 2, Source: annexVI, Evidence: FromMemory,
	}}
}
