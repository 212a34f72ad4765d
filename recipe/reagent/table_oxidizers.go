package reagent

func oxidizers() []Substance {
	return []Substance{{
		ID: "potassium-permanganate", Name: "potassium permanganate",
		Names: []string{"permanganate", "permanganate of potash", "condy's crystals", "kmno4"},
		CAS:   "7722-64-7", Groups: []Group{Oxidizer, StrongOxidizer, Permanganate, HeavyMetal}, Forms: []Form{solid("crystals", "KMnO4", 158.032, "")},
		Signal: "Danger", HCodes: []string{"H272", "H302", "H314", "H361d", "H373", "H410"},
		Storage: awayFromFuel + "; away from peroxide and acids", Gloves: nitrile,
		Hazards: []string{
			"catches fire with glycerine, alcohol and rags; chlorine with hydrochloric acid; explosive oxide with strong sulfuric acid",
			"never with sulfides", "may harm the unborn; stains",
		},
		Source: annexVI + "; skin and repeated exposure codes as makers give them", Evidence: FromMemory,
	}, {
		ID: "sodium-chlorate", Name: "sodium chlorate",
		Names: []string{"chlorate of soda", "naclo3"}, CAS: "7775-09-9", Groups: []Group{Oxidizer, StrongOxidizer, Chlorate},
		Forms:  []Form{solid("crystals", "NaClO3", 106.4368, "")},
		Signal: "Danger", HCodes: []string{"H271", "H302", "H411"}, Storage: awayFromFuel + "; away from acids and ammonium salts", Gloves: nitrile,
		Hazards: []string{"never with sulfides, sulfur, acids, ammonium salts or anything that burns: fire, explosion, chlorine dioxide", "clothes wetted with it burn like a fuse when dry"},
		Source:  annexVI, Evidence: FromMemory,
	}, {
		ID: "potassium-chlorate", Name: "potassium chlorate",
		Names: []string{"chlorate", "chlorate of potash", "kclo3"}, CAS: "3811-04-9", Groups: []Group{Oxidizer, StrongOxidizer, Chlorate},
		Forms:  []Form{solid("crystals", "KClO3", 122.5453, "")},
		Signal: "Danger", HCodes: []string{"H271", "H302", "H332", "H411"}, Storage: awayFromFuel + "; away from acids and ammonium salts", Gloves: nitrile,
		Hazards: []string{"never with sulfides, sulfur, acids, ammonium salts or anything that burns: fire, explosion, chlorine dioxide"},
		Source:  annexVI, Evidence: FromMemory,
	}, {
		ID: "sodium-hypochlorite", Name: "sodium hypochlorite solution",
		Names: []string{"thick bleach", "mould remover", "swimming pool chlorine", "labarraque's solution", "bleach", "household bleach", "chlorine bleach", "laundry bleach", "hypochlorite", "javel water", "javelle water", "eau de javel", "pool chlorine", "naocl"},
		CAS:   "7681-52-9", Groups: []Group{Hypochlorite, Oxidizer},
		Forms: []Form{
			solution("5 % bleach", "NaClO", 74.4388, 5, 1.07, "density from memory; bleach loses strength in the jar").frees(0.0476, 0.0476),
			solution("12 % solution", "NaClO", 74.4388, 12, 1.19, "density from memory; it loses strength in the jar").frees(0.1143, 0.1143),
		},
		Signal: "Danger", HCodes: []string{"H290", "H314", "H335", "H410", "EUH031"},
		GasWithAcid: "chlorine", Storage: "cool, dark, vented, away from acids, ammonia and sulfides", Gloves: "nitrile or neoprene; " + checkChart,
		Hazards: []string{
			"chlorine with any acid, chloramine with ammonia or ammonium salts: both are poison gases",
			"with a sulfide bath: heat, and poison gas as soon as the pH falls",
			"below 10 % available chlorine the codes are milder",
		},
		Source: "Safe Work Australia HCIS entry 4178; INCHEM ICSC 0482; gas: one mol of chlorine per mol, computed", Evidence: Opened,
	}, {
		ID: "hydrogen-peroxide", Name: "hydrogen peroxide solution",
		Names: []string{"peroxide", "hydrogen peroxide", "peroxide of hydrogen", "perhydrol", "h2o2"},
		CAS:   "7722-84-1", Groups: []Group{Oxidizer, Peroxide},
		Forms:  []Form{solution("3 %", "H2O2", 34.014, 3, 1.01, "density from memory; no hazard class below 5 %, CLP Annex VI, from memory").rated("", ""), solution("30 %", "H2O2", 34.014, 30, 1.11, "density from memory")},
		Signal: "Danger", HCodes: []string{"H302", "H318", "H332"}, Storage: "vented cap, cool, dark; never in a tight bottle with anything added", Gloves: "nitrile or neoprene; " + checkChart,
		Hazards: []string{
			"copper, iron, manganese and silver salts make it boil over and burst bottles",
			"with acetone and acid: explosive crystals; with permanganate or bleach: a burst of oxygen",
			"never with sulfides: great heat", "3 % is milder than these codes, which are those of 30 %",
		},
		Source: "two supplier sheets of 30-32 %", Evidence: Opened,
	}, {
		ID: "potassium-nitrate", Name: "potassium nitrate",
		Names: []string{"saltpetre", "saltpeter", "niter", "nitre", "nitrate of potash", "kno3"},
		CAS:   "7757-79-1", Groups: []Group{Oxidizer, Nitrate}, Forms: []Form{solid("crystals", "KNO3", 101.1023, "")},
		Signal: "Warning", HCodes: []string{"H272"}, Storage: awayFromFuel, Gloves: nitrile,
		Hazards: []string{"paper and cloth wetted with it burn fiercely once dry", "never with sulfides or sulfur"},
		Source:  annexVI, Evidence: FromMemory,
	}, {
		ID: "sodium-percarbonate", Name: "sodium percarbonate",
		Names: []string{"oxi cleaner", "oxygen bleach", "oxygen cleaner", "stain remover powder"},
		CAS:   "15630-89-4", Groups: []Group{Oxidizer, Peroxide, Alkali, Carbonate},
		Forms:  []Form{solid("granules", "Na2CO3·1.5H2O2", 157.0085, "").frees(0.2803, 0.2803)},
		Signal: "Danger", HCodes: []string{"H272", "H302", "H318"}, Storage: awayFromFuel + "; dry, vented cap", Gloves: "nitrile",
		Hazards:     []string{"gives hydrogen peroxide in water: never with sulfides, bleach, permanganate or acetone, nor in a closed bottle", "foams with acids"},
		GasWithAcid: carbonDioxide, Source: annexVI, Evidence: FromMemory,
	}}
}

func silverSalts() []Substance {
	return []Substance{{
		ID: "silver-nitrate", Name: "silver nitrate",
		Names: []string{"lunar caustic", "nitrate of silver", "caustic pencil", "agno3"},
		CAS:   "7761-88-8", Groups: []Group{SilverSalt, MetalSalt, Oxidizer, Nitrate, HeavyMetal}, Forms: []Form{solid("crystals", "AgNO3", 169.8722, "")},
		Signal: "Danger", HCodes: []string{"H272", "H290", "H314", "H410"}, Storage: awayFromFuel + "; dark; away from ammonia and acetylene", Gloves: nitrile,
		Hazards: []string{
			"with ammonia: make it fresh, use it up, destroy it the same day under a written procedure; never keep it, it explodes",
			"with alcohol and nitric acid: explosive fulminate", "burns skin and eyes; stains black",
		},
		Source: "supplier sheets (H272, H314, H410; UN 1493)", Evidence: PartlyOpened,
	}, {
		ID: "bismuth-nitrate", Name: "bismuth nitrate",
		Names: []string{"nitrate of bismuth"}, CAS: "10361-44-1", Groups: []Group{AcidSalt, Oxidizer, Nitrate, HeavyMetal},
		Forms:  []Form{solid("pentahydrate", "Bi(NO3)3.5H2O", 485.0674, "10035-06-0")},
		Signal: "Danger", HCodes: []string{"H272", "H315", "H319", "H335"}, Storage: awayFromFuel, Gloves: nitrile,
		Hazards: []string{nitrateFumes, sourSulfide}, Source: "registrant classification, from memory", Evidence: FromMemory,
	}}
}
