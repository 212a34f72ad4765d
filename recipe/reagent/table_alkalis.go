package reagent

const carbonDioxide = "carbon dioxide"

func alkalis() []Substance {
	ammoniaHazards := []string{
		"with bleach it makes chloramine, a poison gas",
		"with silver salts it makes a black solid that explodes, within a day or two, also in the cold: never keep the mixture",
		"the vapour burns eyes and lungs; hot baths drive it off",
	}
	const ammoniaCards = "INCHEM ICSC 0215 (10-35 %); weaker solutions have milder codes"
	return []Substance{{
		ID: "ammonia", Name: "ammonia solution",
		Names: []string{"ammoniacal liquor", "floor ammonia", "ammonium hydroxide", "aqueous ammonia", "household ammonia", "ammonia water", "water of ammonia", "liquor of ammonia", "liquor ammoniae", "spirits of hartshorn", "spirit of hartshorn", "hartshorn", "cloudy ammonia", "caustic ammonia", "volatile alkali", "nh4oh"},
		CAS:   "1336-21-6", Groups: []Group{Ammonia},
		Forms: []Form{
			solution("25 % solution", "NH3", 17.031, 25, 0.91, "density from memory"),
			solution("28 % solution", "NH3", 17.031, 28, 0.90, commercial),
			solution("10 % solution", "NH3", 17.031, 10, 0.957, "density from memory"),
		},
		Signal: "Danger", HCodes: []string{"H290", "H302", "H314", "H335", "H400"},
		Storage: "cool, closed, ventilated, away from acids, hypochlorite and silver salts",
		Gloves:  "butyl or neoprene, thick nitrile against splashes; " + checkChart, Hazards: ammoniaHazards, BaseEquivalents: 1,
		Source: ammoniaCards, Evidence: Opened,
	}, {
		ID: "sodium-hydroxide", Name: "sodium hydroxide",
		Names: []string{"oven cleaner", "soda caustic", "caustic soda", "lye", "soda lye", "caustic lye", "drain cleaner", "naoh"}, CAS: "1310-73-2", Groups: []Group{Caustic},
		Forms:  []Form{solid("pellets", "NaOH", 39.9968, ""), solution("50 % solution", "NaOH", 39.9968, 50, 1.53, commercial)},
		Signal: "Danger", HCodes: []string{"H290", "H314"}, Storage: "dry, closed, away from acids, aluminium, zinc and ammonium salts",
		Gloves: "nitrile, neoprene or PVC; " + checkChart,
		Hazards: []string{
			"burns skin and blinds; goggles and face shield when pouring",
			"heats violently with water and acids: caustic into cold water, little by little",
			"makes hydrogen with aluminium and zinc, ammonia with ammonium salts",
		},
		BaseEquivalents: 1, Source: annexVI, Evidence: FromMemory,
	}, {
		ID: "sodium-carbonate", Name: "sodium carbonate",
		Names: []string{"washing soda", "soda ash", "soda crystals", "sal soda", "crystal soda", "calcined soda", "carbonate of soda", "na2co3"},
		CAS:   "497-19-8", Groups: []Group{Alkali, Carbonate},
		Forms: []Form{
			solid("anhydrous", "Na2CO3", 105.9875, "").frees(0.4152, 0.4152),
			solid("monohydrate", "Na2CO3.H2O", 124.0025, "5968-11-6").frees(0.3549, 0.3549),
			solid("decahydrate", "Na2CO3.10H2O", 286.1375, "6132-02-1").frees(0.1538, 0.1538),
		},
		Signal: "Warning", HCodes: []string{"H319"}, GasWithAcid: carbonDioxide, Storage: "dry, closed", Gloves: "nitrile",
		Hazards:         []string{"irritates the eyes", "foams over with acids: little by little, in a vessel with room"},
		BaseEquivalents: 2, Source: annexVI, Evidence: FromMemory,
	}, {
		ID: "sodium-bicarbonate", Name: "sodium bicarbonate",
		Names: []string{"baking soda", "bicarbonate of soda", "bicarbonate", "bicarb", "sodium hydrogen carbonate", "cooking soda", "bread soda", "saleratus", "nahco3"},
		CAS:   "144-55-8", Groups: []Group{Alkali, Carbonate, Bicarbonate},
		Forms: []Form{{
			Name: "powder", Formula: "NaHCO3", MolarMass: 84.0058, MassPercent: 100, BulkDensity: 0.9,
			GasUpper: 0.5239, GasExpected: 0.5239,
			Source: fromWeights + "; bulk density from memory, +/-15 %",
		}},
		HCodes: nil, GasWithAcid: carbonDioxide, Storage: "dry, closed", Gloves: "any",
		Hazards: []string{
			"foams with acids: little by little, in a vessel with room",
			"does not destroy sulfide: it brings a sulfide bath towards pH 8.3, where about a twentieth of it is hydrogen sulfide gas in solution",
		},
		BaseEquivalents: 1, Source: "not classified, from memory; pH 8.31: published exercise, (6.3 + 10.32) / 2", Evidence: FromMemory,
	}, {
		ID: "potassium-carbonate", Name: "potassium carbonate",
		Names: []string{"wood ash lye", "potash", "pearl ash", "pearlash", "salt of tartar", "carbonate of potash", "k2co3"},
		CAS:   "584-08-7", Groups: []Group{Alkali, Carbonate}, Forms: []Form{solid("anhydrous", "K2CO3", 138.2046, "").frees(0.3184, 0.3184)},
		Signal: "Warning", HCodes: []string{"H315", "H319", "H335"}, GasWithAcid: carbonDioxide, Storage: "dry, closed", Gloves: "nitrile",
		Hazards: []string{"irritates eyes, skin and lungs", "foams over with acids"}, BaseEquivalents: 2, Source: annexVI, Evidence: FromMemory,
	}, {
		ID: "potassium-hydroxide", Name: "potassium hydroxide",
		Names: []string{"caustic potash", "potash lye", "koh"}, CAS: "1310-58-3", Groups: []Group{Caustic},
		Forms:  []Form{solid("pellets", "KOH", 56.1053, "")},
		Signal: "Danger", HCodes: []string{"H290", "H302", "H314"}, Storage: "dry, closed, away from acids, aluminium, zinc and ammonium salts", Gloves: "nitrile, neoprene or PVC; " + checkChart,
		Hazards:         []string{"burns skin and blinds; goggles and face shield when pouring", "heats violently with water and acids: caustic into cold water, little by little"},
		BaseEquivalents: 1, Source: annexVI, Evidence: FromMemory,
	}, {
		ID: "calcium-hydroxide", Name: "calcium hydroxide",
		Names: []string{"lime", "builder's lime", "garden lime", "lime putty", "slaked lime", "hydrated lime", "lime water", "limewater", "milk of lime"}, CAS: "1305-62-0", Groups: []Group{Caustic},
		Forms:  []Form{solid("powder", "Ca(OH)2", 74.092, "")},
		Signal: "Danger", HCodes: []string{"H315", "H318", "H335"}, Storage: "dry, closed, away from acids and ammonium salts", Gloves: "nitrile",
		Hazards:         []string{"seriously damages eyes; the dust bites", "makes ammonia with ammonium salts"},
		BaseEquivalents: 2, Source: annexVI, Evidence: FromMemory,
	}, {
		ID: "borax", Name: "borax",
		Names: []string{"sodium borate", "sodium tetraborate", "tincal", "biborate of soda"}, CAS: "1303-96-4", Groups: []Group{Alkali},
		Forms:  []Form{solid("decahydrate", "Na2B4O7.10H2O", 381.3625, "")},
		Signal: "Danger", HCodes: []string{"H319", "H360FD"}, Storage: "dry, closed", Gloves: "nitrile",
		Hazards: []string{"may harm fertility and the unborn: no dust, no food near it"}, Source: annexVI, Evidence: FromMemory,
	}, {
		ID: "calcium-carbonate", Name: "calcium carbonate",
		Names: []string{"chalk", "whiting", "precipitated chalk", "carbonate of lime", "marble dust"}, CAS: "471-34-1", Groups: []Group{Carbonate},
		Forms: []Form{solid("powder", "CaCO3", 100.086, "").frees(0.4397, 0.4397)}, Storage: "dry", Gloves: "any",
		Hazards:     []string{"foams with acids: little by little, in a vessel with room"},
		GasWithAcid: carbonDioxide, BaseEquivalents: 2, Source: "not classified, from memory", Evidence: FromMemory,
	}}
}
