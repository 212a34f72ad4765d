package reagent

const nitrile = "nitrile"

func ironSalts() []Substance {
	return []Substance{{
		ID: "ferric-nitrate", Name: "ferric nitrate",
		Names: []string{"iron nitrate", "iron(iii) nitrate", "nitrate of iron", "pernitrate of iron"},
		CAS:   "10421-48-4", Groups: []Group{MetalSalt, AcidSalt, Oxidizer, Nitrate}, Forms: []Form{solid("nonahydrate", "Fe(NO3)3.9H2O", 403.992, "7782-61-8")},
		Signal: "Warning", HCodes: []string{"H272", "H315", "H319"}, Storage: awayFromFuel, Gloves: nitrile,
		Hazards: []string{nitrateFumes, "strongly acid in water: frees hydrogen sulfide from a sulfide bath"}, Source: annexVI, Evidence: FromMemory,
	}, {
		ID: "ferric-chloride", Name: "ferric chloride",
		Names: []string{"iron chloride", "iron(iii) chloride", "chloride of iron", "perchloride of iron", "iron perchloride", "muriate of iron", "etchant", "circuit board etchant", "fecl3"},
		CAS:   "7705-08-0", Groups: []Group{MetalSalt, AcidSalt},
		Forms: []Form{
			solid("hexahydrate", "FeCl3.6H2O", 270.285, "10025-77-1"),
			solid("anhydrous", "FeCl3", 162.195, "7705-08-0"),
			solution("40 % solution", "FeCl3", 162.195, 40, 1.42, "density from memory"),
		},
		Signal: "Danger", HCodes: []string{"H290", "H302", "H315", "H318"}, Storage: "closed plastic, away from metals, sulfides and hypochlorite", Gloves: "nitrile or neoprene; " + checkChart,
		Hazards: []string{"as acid as a weak pickle (pH 1-2): frees hydrogen sulfide from a sulfide bath, chlorine from bleach", "seriously damages eyes; eats metal"},
		Source:  "supplier sheet of the etchant liquid; ILO ICSC 1499", Evidence: Opened,
	}, {
		ID: "ferrous-sulfate", Name: "ferrous sulfate",
		Names: []string{"iron sulfate", "iron(ii) sulfate", "green vitriol", "iron vitriol", "copperas", "sulfate of iron", "protosulfate of iron", "feso4"},
		CAS:   "7720-78-7", Groups: []Group{MetalSalt, AcidSalt}, Forms: []Form{solid("heptahydrate", "FeSO4.7H2O", 278.006, "7782-63-0")},
		Signal: "Warning", HCodes: []string{"H302", "H315", "H319"}, Storage: "closed", Gloves: nitrile,
		Hazards: []string{"harmful when swallowed, most of all to children", sourSulfide}, Source: "supplier sheet", Evidence: Opened,
	}}
}

func ammoniumSalts() []Substance {
	const meetsCaustic = "caustic soda frees ammonia from it; bleach makes chloramine of it"
	return []Substance{{
		ID: "ammonium-chloride", Name: "ammonium chloride",
		Names: []string{"sal ammoniac", "salmiac", "muriate of ammonia", "chloride of ammonia", "nh4cl"},
		CAS:   "12125-02-9", Groups: []Group{AmmoniumSalt, AcidSalt}, Forms: []Form{solid("crystals", "NH4Cl", 53.489, "")},
		Signal: "Warning", HCodes: []string{"H302", "H319"}, Storage: "dry, away from hypochlorite and caustics", Gloves: nitrile,
		Hazards: []string{meetsCaustic, "dense irritating fume when heated"}, Source: "supplier sheet", Evidence: Opened,
	}, {
		ID: "ammonium-carbonate", Name: "ammonium carbonate",
		Names: []string{"baker's ammonia", "salt of hartshorn", "sal volatile", "smelling salts", "carbonate of ammonia"},
		CAS:   "506-87-6", Groups: []Group{AmmoniumSalt, Carbonate}, Forms: []Form{solid("crystals", "(NH4)2CO3", 96.086, "").frees(0.4580, 0.4580)},
		Signal: "Warning", HCodes: []string{"H302", "H319"}, Storage: "cool, closed, away from hypochlorite and caustics", Gloves: nitrile,
		GasWithAcid: carbonDioxide, Hazards: []string{"gives off ammonia at room temperature, much more when warm", meetsCaustic},
		Source: annexVI, Evidence: FromMemory,
	}, {
		ID: "ammonium-sulfate", Name: "ammonium sulfate",
		Names: []string{"sulfate of ammonia"}, CAS: "7783-20-2", Groups: []Group{AmmoniumSalt, AcidSalt},
		Forms: []Form{solid("crystals", "(NH4)2SO4", 132.134, "")}, Storage: "dry, away from hypochlorite, chlorates and caustics", Gloves: nitrile,
		Hazards: []string{meetsCaustic}, Source: "not classified, from memory", Evidence: FromMemory,
	}}
}

func salts() []Substance {
	return []Substance{{
		ID: "calcium-chloride", Name: "calcium chloride",
		Names: []string{"chloride of calcium", "muriate of lime", "moisture absorber"}, CAS: "10043-52-4", Groups: []Group{Neutral},
		Forms:  []Form{solid("anhydrous", "CaCl2", 110.978, ""), solid("dihydrate", "CaCl2.2H2O", 147.008, "10035-04-8")},
		Signal: "Warning", HCodes: []string{"H319"}, Storage: "dry, closed: it draws water", Gloves: nitrile,
		Hazards: []string{"irritates the eyes", "the anhydrous salt heats water strongly: salt into cold water"}, Source: annexVI, Evidence: FromMemory,
	}, {
		ID: "zinc-chloride", Name: "zinc chloride",
		Names: []string{"chloride of zinc", "butter of zinc", "muriate of zinc", "killed spirits", "killed spirits of salt", "soldering fluid"},
		CAS:   "7646-85-7", Groups: []Group{AcidSalt, HeavyMetal}, Forms: []Form{solid("anhydrous", "ZnCl2", 136.28, "")},
		Signal: "Danger", HCodes: []string{"H302", "H314", "H410"}, Storage: "dry, closed", Gloves: "nitrile or neoprene; " + checkChart,
		Hazards: []string{"burns; its fume is dangerous to the lungs", sourSulfide}, Source: annexVI, Evidence: FromMemory,
	}, {
		ID: "sodium-chloride", Name: "sodium chloride",
		Names: []string{"salt", "table salt", "common salt", "kitchen salt", "cooking salt", "rock salt", "sea salt", "bay salt", "nacl", "brine"},
		CAS:   "7647-14-5", Groups: []Group{Neutral},
		Forms: []Form{{
			Name: "crystals", Formula: "NaCl", MolarMass: 58.4398, MassPercent: 100, BulkDensity: 1.2,
			Source: fromWeights + "; bulk density of fine salt from memory, +/-15 %",
		}},
		Storage: "dry", Gloves: "any", Hazards: []string{"salt with vinegar is an acid cleaner: rinse it off before any sulfide"},
		Source: "not classified, from memory", Evidence: FromMemory,
	}, {
		ID: "sodium-thiosulfate", Name: "sodium thiosulfate",
		Names: []string{"hypo", "hyposulfite of soda", "sodium hyposulfite", "hyposulfite", "photographic fixer", "fixer", "antichlor"},
		CAS:   "7772-98-7", Groups: []Group{Thiosulfate},
		Forms: []Form{
			solid("pentahydrate", "Na2S2O3.5H2O", 248.1715, "10102-17-7").frees(0.2581, 0.2581),
			solid("anhydrous", "Na2S2O3", 158.0965, "7772-98-7").frees(0.4052, 0.4052),
		},
		GasWithAcid: "sulfur dioxide", Storage: "dry, away from acids, nitrates and chlorates", Gloves: "any",
		Hazards: []string{"acid frees sulfur dioxide and clouds it with sulfur; strong hot acid may free hydrogen sulfide"},
		Source:  "not classified, from memory; gas: one mol of sulfur dioxide per mol, computed", Evidence: FromMemory,
	}, {
		ID: "alum", Name: "potassium alum",
		Names: []string{"alum", "potash alum", "alum stone"}, CAS: "10043-67-1", Groups: []Group{AcidSalt},
		Forms: []Form{solid("dodecahydrate", "KAl(SO4)2.12H2O", 474.3718, "7784-24-9")}, Storage: "dry, closed", Gloves: "any",
		Hazards: []string{sourSulfide, "a solution of alum and salt is an acid pickle"}, Source: "not classified, from memory", Evidence: FromMemory,
	}, {
		ID: "zinc-sulfate", Name: "zinc sulfate",
		Names: []string{"white vitriol", "zinc vitriol", "sulfate of zinc", "white copperas"}, CAS: "7733-02-0", Groups: []Group{AcidSalt, HeavyMetal},
		Forms:  []Form{solid("heptahydrate", "ZnSO4.7H2O", 287.541, "7446-20-0")},
		Signal: "Danger", HCodes: []string{"H302", "H318", "H410"}, Storage: "closed, no way to a drain", Gloves: nitrile,
		Hazards: []string{"seriously damages eyes", sourSulfide, "poisons water: no drain without leave of the local authority"},
		Source:  annexVI, Evidence: FromMemory,
	}, {
		ID: "antimony-trichloride", Name: "antimony trichloride",
		Names: []string{"butter of antimony", "antimony chloride", "chloride of antimony"}, CAS: "10025-91-9", Groups: []Group{AcidSalt, HeavyMetal},
		Forms:  []Form{solid("crystals", "SbCl3", 228.11, "")},
		Signal: "Danger", HCodes: []string{"H314", "H411"}, Storage: "dry, closed, away from sulfides and alkalis", Gloves: "nitrile; " + checkChart,
		Hazards: []string{"burns; fumes hydrochloric acid with water", "strongly acid in water: frees hydrogen sulfide from a sulfide bath"},
		Source:  annexVI, Evidence: FromMemory,
	}}
}
