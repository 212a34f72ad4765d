package reagent

const nitrile = "nitrile"

func ironSalts() []Substance {
	return []Substance{
		{
			ID: "ferric-nitrate", Name: "ferric nitrate",
			Synonyms: []string{"iron nitrate", "iron(III) nitrate"},
			CAS:      "10421-48-4", Groups: []Group{AcidSalt, Oxidizer},
			Forms:  []Form{solid("nonahydrate", "Fe(NO3)3.9H2O", 403.992, "7782-61-8")},
			Signal: "Warning", HCodes: []string{"H272", "H315", "H319"}, Storage: awayFromFuel, Gloves: nitrile,
			Hazards: []string{nitrateFumes, "strongly acid in water: frees hydrogen sulfide from a sulfide bath"},
			Source:  annexVI, Evidence: FromMemory,
		},
		{
			ID: "ferric-chloride", Name: "ferric chloride",
			Synonyms: []string{"iron chloride", "iron(III) chloride", "etchant"},
			CAS:      "7705-08-0", Groups: []Group{AcidSalt},
			Forms: []Form{
				solid("hexahydrate", "FeCl3.6H2O", 270.285, "10025-77-1"),
				solid("anhydrous", "FeCl3", 162.195, "7705-08-0"),
				solution("40 % solution", "FeCl3", 162.195, 40, 1.42, "density from memory"),
			},
			Signal: "Danger", HCodes: []string{"H290", "H302", "H315", "H318"}, Storage: "closed plastic, away from metals, sulfides and hypochlorite", Gloves: "nitrile or neoprene; " + checkChart,
			Hazards: []string{"as acid as a weak pickle (pH 1-2): frees hydrogen sulfide from a sulfide bath, chlorine from bleach", "seriously damages eyes; eats metal"},
			Source:  "supplier sheet of the etchant liquid; ILO ICSC 1499", Evidence: Opened,
		},
		{
			ID: "ferrous-sulfate", Name: "ferrous sulfate",
			Synonyms: []string{"green vitriol", "copperas", "iron sulfate"},
			CAS:      "7720-78-7", Groups: []Group{AcidSalt},
			Forms:  []Form{solid("heptahydrate", "FeSO4.7H2O", 278.006, "7782-63-0")},
			Signal: "Warning", HCodes: []string{"H302", "H315", "H319"}, Storage: "closed", Gloves: nitrile,
			Hazards: []string{"harmful when swallowed, most of all to children", sourSulfide},
			Source:  "supplier sheet", Evidence: Opened,
		},
	}
}

func ammoniumSalts() []Substance {
	const meetsCaustic = "caustic soda frees ammonia from it; bleach makes chloramine of it"
	return []Substance{
		{
			ID: "ammonium-chloride", Name: "ammonium chloride",
			Synonyms: []string{"sal ammoniac"},
			CAS:      "12125-02-9", Groups: []Group{AmmoniumSalt, AcidSalt},
			Forms:  []Form{solid("crystals", "NH4Cl", 53.489, "")},
			Signal: "Warning", HCodes: []string{"H302", "H319"}, Storage: "dry, away from hypochlorite and caustics", Gloves: nitrile,
			Hazards: []string{meetsCaustic, "dense irritating fume when heated"},
			Source:  "supplier sheet", Evidence: Opened,
		},
		{
			ID: "ammonium-carbonate", Name: "ammonium carbonate",
			Synonyms: []string{"baker's ammonia", "salt of hartshorn", "sal volatile"},
			CAS:      "506-87-6", Groups: []Group{AmmoniumSalt},
			Forms:  []Form{solid("crystals", "(NH4)2CO3", 96.086, "").frees(0.4580, 0.4580)},
			Signal: "Warning", HCodes: []string{"H302", "H319"}, Storage: "cool, closed, away from hypochlorite and caustics", Gloves: nitrile,
			GasWithAcid: carbonDioxide,
			Hazards:     []string{"gives off ammonia at room temperature, much more when warm", meetsCaustic},
			Source:      annexVI, Evidence: FromMemory,
		},
		{
			ID: "ammonium-sulfate", Name: "ammonium sulfate",
			Synonyms: []string{"ammonium sulphate"},
			CAS:      "7783-20-2", Groups: []Group{AmmoniumSalt, AcidSalt},
			Forms:   []Form{solid("crystals", "(NH4)2SO4", 132.134, "")},
			Storage: "dry, away from hypochlorite, chlorates and caustics", Gloves: nitrile,
			Hazards: []string{meetsCaustic},
			Source:  "not classified, from memory", Evidence: FromMemory,
		},
	}
}

func salts() []Substance {
	return []Substance{
		{
			ID: "calcium-chloride", Name: "calcium chloride",
			CAS: "10043-52-4", Groups: []Group{Neutral},
			Forms: []Form{
				solid("anhydrous", "CaCl2", 110.978, ""),
				solid("dihydrate", "CaCl2.2H2O", 147.008, "10035-04-8"),
			},
			Signal: "Warning", HCodes: []string{"H319"}, Storage: "dry, closed: it draws water", Gloves: nitrile,
			Hazards: []string{"irritates the eyes", "the anhydrous salt heats water strongly: salt into cold water"},
			Source:  annexVI, Evidence: FromMemory,
		},
		{
			ID: "zinc-chloride", Name: "zinc chloride",
			CAS: "7646-85-7", Groups: []Group{AcidSalt},
			Forms:  []Form{solid("anhydrous", "ZnCl2", 136.28, "")},
			Signal: "Danger", HCodes: []string{"H302", "H314", "H410"}, Storage: "dry, closed", Gloves: "nitrile or neoprene; " + checkChart,
			Hazards: []string{"burns; its fume is dangerous to the lungs", sourSulfide},
			Source:  annexVI, Evidence: FromMemory,
		},
		{
			ID: "sodium-chloride", Name: "sodium chloride",
			Synonyms: []string{"salt", "table salt", "common salt"},
			CAS:      "7647-14-5", Groups: []Group{Neutral},
			Forms: []Form{{
				Name: "crystals", Formula: "NaCl", MolarMass: 58.4398, MassPercent: 100, BulkDensity: 1.2,
				Source: fromWeights + "; bulk density of fine salt from memory, +/-15 %",
			}},
			Storage: "dry", Gloves: "any",
			Hazards: []string{"salt with vinegar is an acid cleaner: rinse it off before any sulfide"},
			Source:  "not classified, from memory", Evidence: FromMemory,
		},
		{
			ID: "sodium-thiosulfate", Name: "sodium thiosulfate",
			Synonyms: []string{"hypo", "sodium hyposulfite", "photographic fixer"},
			CAS:      "7772-98-7", Groups: []Group{Thiosulfate},
			Forms: []Form{
				solid("pentahydrate", "Na2S2O3.5H2O", 248.1715, "10102-17-7").frees(0.2581, 0.2581),
				solid("anhydrous", "Na2S2O3", 158.0965, "7772-98-7").frees(0.4052, 0.4052),
			},
			GasWithAcid: "sulfur dioxide", Storage: "dry, away from acids, nitrates and chlorates", Gloves: "any",
			Hazards: []string{"acid frees sulfur dioxide and clouds it with sulfur; strong hot acid may free hydrogen sulfide"},
			Source:  "not classified, from memory; gas: one mol of sulfur dioxide per mol, computed", Evidence: FromMemory,
		},
	}
}
