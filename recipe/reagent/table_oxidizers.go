package reagent

// oxidizers are what feeds a fire, silver nitrate among them.
func oxidizers() []Substance {
	return []Substance{{
		Name: "potassium permanganate", CAS: "7722-64-7", Groups: []Group{Permanganate, HeavyMetal}, Signal: "Danger", HCodes: list("H272, H302, H314, H361d, H373, H410"),
		Names: list("permanganate, permanganate of potash, condy's crystals, kmno4"),
		Forms: []Form{solid("crystals", "KMnO4")}, Storage: awayFromFuel + "; away from peroxide and acids",
		Source: annexVI + "; skin and repeated exposure codes as makers give them",
		Hazards: []string{
			"catches fire with glycerine, alcohol and rags; chlorine with hydrochloric acid; explosive oxide with strong sulfuric acid",
			"never with sulfides", "may harm the unborn; stains",
		},
	}, {
		Name: "sodium chlorate", CAS: "7775-09-9", Groups: []Group{Chlorate}, Signal: "Danger", HCodes: list("H271, H302, H411"),
		Names: list("chlorate of soda, naclo3"),
		Forms: []Form{solid("crystals", "NaClO3")}, Storage: awayFromFuel + "; away from acids and ammonium salts",
		Hazards: []string{"never with sulfides, sulfur, acids, ammonium salts or anything that burns: fire, explosion, chlorine dioxide", "clothes wetted with it burn like a fuse when dry"},
	}, {
		Name: "potassium chlorate", CAS: "3811-04-9", Groups: []Group{Chlorate}, Signal: "Danger", HCodes: list("H271, H302, H332, H411"),
		Names: list("chlorate, chlorate of potash, kclo3"),
		Forms: []Form{solid("crystals", "KClO3")}, Storage: awayFromFuel + "; away from acids and ammonium salts",
		Hazards: []string{"never with sulfides, sulfur, acids, ammonium salts or anything that burns: fire, explosion, chlorine dioxide"},
	}, {
		ID: "sodium-hypochlorite", Name: "sodium hypochlorite solution", CAS: "7681-52-9", Groups: []Group{Hypochlorite, Oxidizer}, Signal: "Danger",
		HCodes: list("H290, H314, H335, H410, EUH031"),
		Names:  list("thick bleach, mould remover, swimming pool chlorine, labarraque's solution, bleach, household bleach, chlorine bleach, laundry bleach, hypochlorite, javel water, javelle water, eau de javel, pool chlorine, naocl"),
		Forms: []Form{
			solution("5 % bleach", "NaClO", 5, 1.07, "density from memory; bleach loses strength in the jar").frees(0.0476),
			solution("12 % solution", "NaClO", 12, 1.19, "density from memory; it loses strength in the jar").frees(0.1143),
		},
		Storage: "cool, dark, vented, away from acids, ammonia and sulfides", Gloves: "nitrile or neoprene; " + checkChart,
		Source: "Safe Work Australia HCIS entry 4178; INCHEM ICSC 0482; gas: one mol of chlorine per mol, computed", Evidence: Opened,
		Hazards: []string{
			"chlorine with any acid, chloramine with ammonia or ammonium salts: both are poison gases",
			"with a sulfide bath: heat, and poison gas as soon as the pH falls",
			"below 10 % available chlorine the codes are milder",
		},
	}, {
		ID: "hydrogen-peroxide", Name: "hydrogen peroxide solution", CAS: "7722-84-1", Groups: []Group{Peroxide}, Signal: "Danger", HCodes: list("H302, H318, H332"),
		Names:   list("peroxide, hydrogen peroxide, peroxide of hydrogen, perhydrol, h2o2"),
		Forms:   []Form{solution("3 %", "H2O2", 3, 1.01, "density from memory; no hazard class below 5 %, CLP Annex VI, from memory").mild(), solution("30 %", "H2O2", 30, 1.11, "density from memory")},
		Storage: "vented cap, cool, dark; never in a tight bottle with anything added", Gloves: "nitrile or neoprene; " + checkChart, Source: "two supplier sheets of 30-32 %",
		Evidence: Opened,
		Hazards: []string{
			"copper, iron, manganese and silver salts make it boil over and burst bottles",
			"with acetone and acid: explosive crystals; with permanganate or bleach: a burst of oxygen",
			"never with sulfides: great heat", "3 % is milder than these codes, which are those of 30 %",
		},
	}, {
		Name: "potassium nitrate", CAS: "7757-79-1", Groups: []Group{Nitrate}, Signal: "Warning", HCodes: list("H272"),
		Names:   list("saltpetre, saltpeter, niter, nitre, nitrate of potash, kno3"),
		Forms:   []Form{solid("crystals", "KNO3")},
		Hazards: []string{"never with sulfides or sulfur"},
	}, {
		Name: "sodium percarbonate", CAS: "15630-89-4", Groups: []Group{Peroxide, Alkali, Carbonate}, Signal: "Danger", HCodes: list("H272, H302, H318"),
		Names: list("oxi cleaner, oxygen bleach, oxygen cleaner, stain remover powder"),
		Forms: []Form{solid("granules", "Na2CO3·1.5H2O2").frees(0.2803)}, Storage: awayFromFuel + "; dry, vented cap",
		Hazards: []string{"gives hydrogen peroxide in water: never with sulfides, bleach, permanganate or acetone, nor in a closed bottle"},
	}, {
		Name: "silver nitrate", CAS: "7761-88-8", Groups: []Group{SilverSalt, Nitrate}, Signal: "Danger", HCodes: list("H272, H290, H314, H410"),
		Names: list("lunar caustic, nitrate of silver, caustic pencil, agno3"),
		Forms: []Form{solid("crystals", "AgNO3")}, Storage: awayFromFuel + "; dark; away from ammonia and acetylene", Source: "supplier sheets (H272, H314, H410; UN 1493)",
		Evidence: PartlyOpened,
		Hazards: []string{
			"with ammonia: make it fresh, use it up, destroy it the same day under a written procedure; never keep it, it explodes",
			"with alcohol and nitric acid: explosive fulminate", "burns skin and eyes; stains black",
		},
	}, {
		Name: "bismuth nitrate", CAS: "10361-44-1", Groups: []Group{AcidSalt, Nitrate, HeavyMetal}, Signal: "Danger", HCodes: list("H272, H315, H319, H335"),
		Names: list("nitrate of bismuth"),
		Forms: []Form{solid("pentahydrate", "Bi(NO3)3.5H2O", "10035-06-0")}, Source: "registrant classification, from memory",
	}}
}
