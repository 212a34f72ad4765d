package reagent

func alkalis() []Substance {
	return []Substance{{
		ID: "ammonia", Name: "ammonia solution", CAS: "1336-21-6", Groups: []Group{Ammonia}, Signal: "Danger", HCodes: list("H290, H302, H314, H335, H400"), BaseEquivalents: 1,
		Names: list("ammoniacal liquor, floor ammonia, ammonium hydroxide, aqueous ammonia, household ammonia, ammonia water, water of ammonia, liquor of ammonia, liquor ammoniae, spirits of hartshorn, spirit of hartshorn, hartshorn, cloudy ammonia, caustic ammonia, volatile alkali, nh4oh"),
		Forms: []Form{
			solution("25 % solution", "NH3", 25, 0.91, "density from memory"),
			solution("28 % solution", "NH3", 28, 0.90, commercial),
			solution("10 % solution", "NH3", 10, 0.957, "density from memory"),
		},
		Storage: "cool, closed, ventilated, away from acids, hypochlorite and silver salts", Gloves: "butyl or neoprene, thick nitrile against splashes; " + checkChart,
		Source: "INCHEM ICSC 0215 (10-35 %); weaker solutions have milder codes", Evidence: Opened,
		Hazards: []string{
			"with bleach it makes chloramine, a poison gas",
			"with silver salts it makes a black solid that explodes, within a day or two, also in the cold: never keep the mixture",
			"the vapour burns eyes and lungs; hot baths drive it off",
		},
	}, {
		Name: "sodium hydroxide", CAS: "1310-73-2", Groups: []Group{Caustic}, Signal: "Danger", HCodes: list("H290, H314"), BaseEquivalents: 1,
		Names:   list("oven cleaner, soda caustic, caustic soda, lye, soda lye, caustic lye, drain cleaner, naoh"),
		Forms:   []Form{solid("pellets", "NaOH"), solution("50 % solution", "NaOH", 50, 1.53, commercial)},
		Storage: "dry, closed, away from acids, aluminium, zinc and ammonium salts", Gloves: "nitrile, neoprene or PVC; " + checkChart,
		Hazards: []string{
			"burns skin and blinds; goggles and face shield when pouring",
			"heats violently with water and acids: caustic into cold water, little by little",
			"makes hydrogen with aluminium and zinc, ammonia with ammonium salts",
		},
	}, {
		Name: "sodium carbonate", CAS: "497-19-8", Groups: []Group{Alkali, Carbonate}, Signal: "Warning", HCodes: list("H319"), BaseEquivalents: 2,
		Names: list("washing soda, soda ash, soda crystals, sal soda, crystal soda, calcined soda, carbonate of soda, na2co3"),
		Forms: []Form{
			solid("anhydrous", "Na2CO3").frees(0.4152),
			solid("monohydrate", "Na2CO3.H2O", "5968-11-6").frees(0.3549),
			solid("decahydrate", "Na2CO3.10H2O", "6132-02-1").frees(0.1538),
		},
		Storage: "dry, closed",
		Hazards: []string{"irritates the eyes"},
	}, {
		Name: "sodium bicarbonate", CAS: "144-55-8", Groups: []Group{Bicarbonate}, BaseEquivalents: 1,
		Names: list("baking soda, bicarbonate of soda, bicarbonate, bicarb, sodium hydrogen carbonate, cooking soda, bread soda, saleratus, nahco3"),
		Forms: []Form{{
			Name: "powder", Formula: "NaHCO3", MassPercent: 100, BulkDensity: 0.9,
			GasUpper: 0.5239, GasExpected: 0.5239,
			Source: fromWeights + "; bulk density from memory, +/-15 %",
		}},
		Storage: "dry, closed", Gloves: "any", Source: "not classified, from memory; pH 8.31: published exercise, (6.3 + 10.32) / 2",
		Hazards: []string{"does not destroy sulfide: it brings a sulfide bath towards pH 8.3, where about a twentieth of it is hydrogen sulfide gas in solution"},
	}, {
		Name: "potassium carbonate", CAS: "584-08-7", Groups: []Group{Alkali, Carbonate}, Signal: "Warning", HCodes: list("H315, H319, H335"), BaseEquivalents: 2,
		Names: list("wood ash lye, potash, pearl ash, pearlash, salt of tartar, carbonate of potash, k2co3"),
		Forms: []Form{solid("anhydrous", "K2CO3").frees(0.3184)}, Storage: "dry, closed",
		Hazards: []string{"irritates eyes, skin and lungs"},
	}, {
		Name: "potassium hydroxide", CAS: "1310-58-3", Groups: []Group{Caustic}, Signal: "Danger", HCodes: list("H290, H302, H314"), BaseEquivalents: 1,
		Names: list("caustic potash, potash lye, koh"),
		Forms: []Form{solid("pellets", "KOH")}, Storage: "dry, closed, away from acids, aluminium, zinc and ammonium salts", Gloves: "nitrile, neoprene or PVC; " + checkChart,
		Hazards: []string{"burns skin and blinds; goggles and face shield when pouring", "heats violently with water and acids: caustic into cold water, little by little"},
	}, {
		Name: "calcium hydroxide", CAS: "1305-62-0", Groups: []Group{Caustic}, Signal: "Danger", HCodes: list("H315, H318, H335"), BaseEquivalents: 2,
		Names: list("lime, builder's lime, garden lime, lime putty, slaked lime, hydrated lime, lime water, limewater, milk of lime"),
		Forms: []Form{solid("powder", "Ca(OH)2")}, Storage: "dry, closed, away from acids and ammonium salts", Gloves: "nitrile",
		Hazards: []string{"seriously damages eyes; the dust bites", "makes ammonia with ammonium salts"},
	}, {
		Name: "borax", CAS: "1303-96-4", Groups: []Group{Alkali}, Signal: "Danger", HCodes: list("H319, H360FD"),
		Names: list("sodium borate, sodium tetraborate, tincal, biborate of soda"),
		Forms: []Form{solid("decahydrate", "Na2B4O7.10H2O")}, Storage: "dry, closed",
		Hazards: []string{"may harm fertility and the unborn: no dust, no food near it"},
	}, {
		Name: "calcium carbonate", CAS: "471-34-1", Groups: []Group{Carbonate}, BaseEquivalents: 2,
		Names: list("chalk, whiting, precipitated chalk, carbonate of lime, marble dust"),
		Forms: []Form{solid("powder", "CaCO3").frees(0.4397)}, Storage: "dry", Gloves: "any",
	}}
}
