package reagent

const (
	meetsSulfide = "frees hydrogen sulfide from any sulfide bath, rinse or waste: rinse well and keep the two apart"
	meetsBleach  = "frees chlorine from bleach"
	acidGloves   = "neoprene or butyl, thick nitrile against splashes only; " + checkChart
)

// acids are the acids and the salts used as pickle.
func acids() []Substance {
	return []Substance{{
		ID: "sodium-bisulfate", Name: "sodium bisulfate",
		Names: []string{"sodium hydrogen sulfate", "sodium acid sulfate", "bisulfate", "bisulfate of soda", "dry acid", "dry acid pickle", "pickling salt", "pickle salt", "pool acid", "ph minus", "niter cake", "nitre cake", "nahso4"},
		CAS:   "7681-38-1", Groups: []Group{Acid},
		Forms:  []Form{solid("anhydrous", "NaHSO4", 120.0538, ""), solid("monohydrate", "NaHSO4.H2O", 138.0688, "10034-88-5")},
		Signal: "Danger", HCodes: []string{"H318"}, Storage: acidShelf, Gloves: "nitrile; " + checkChart,
		Hazards: []string{
			"a film of hot pickle carried into a sulfide bath is the likeliest way to make hydrogen sulfide in this trade",
			meetsBleach, "seriously damages eyes; steel tools in it plate the work with copper",
		},
		AcidEquivalents: 1, Source: annexVI, Evidence: FromMemory,
	}, {
		ID: "citric-acid", Name: "citric acid",
		Names: []string{"lime fruit", "lime juice concentrate", "orange juice", "grapefruit juice", "lemonade", "citrus juice", "citrus cleaner", "citrus degreaser", "citric", "citric pickle", "lemon", "lemon juice", "lime juice", "sour salt"},
		CAS:   "77-92-9", Groups: []Group{Acid, OrganicAcid},
		Forms:  []Form{solid("anhydrous", "C6H8O7", 192.123, ""), solid("monohydrate", "C6H8O7.H2O", 210.138, "5949-29-1")},
		Signal: "Warning", HCodes: []string{"H319", "H335"}, Storage: acidShelf, Gloves: "nitrile",
		Hazards:         []string{meetsSulfide + "; that it is a food acid changes nothing", meetsBleach, "irritates eyes and lungs"},
		AcidEquivalents: 3, Source: annexVI, Evidence: FromMemory,
	}, {
		ID: "sulfamic-acid", Name: "sulfamic acid",
		Names: []string{"kettle descaler", "coffee machine cleaner", "scale remover", "amidosulfuric acid", "aminosulfonic acid", "descaler", "descaling powder", "limescale remover"},
		CAS:   "5329-14-6", Groups: []Group{Acid}, Forms: []Form{solid("crystals", "H3NSO3", 97.088, "")},
		Signal: "Warning", HCodes: []string{"H315", "H319", "H412"}, Storage: acidShelf, Gloves: "nitrile",
		Hazards: []string{meetsSulfide, "with bleach: chlorine and chloramines"}, AcidEquivalents: 1, Source: annexVI, Evidence: FromMemory,
	}, {
		ID: "acetic-acid", Name: "acetic acid",
		Names: []string{"rice vinegar", "apple vinegar", "cleaning vinegar", "balsamic", "pickle juice", "pickle brine", "ketchup", "hot sauce", "stop bath", "vinegar", "white vinegar", "spirit vinegar", "wine vinegar", "cider vinegar", "malt vinegar", "vinegar essence", "wood vinegar", "pyroligneous acid", "glacial acetic acid", "ethanoic acid"},
		CAS:   "64-19-7", Groups: []Group{Acid, OrganicAcid},
		Forms: []Form{
			solution("glacial", "C2H4O2", 60.052, 99.5, 1.05, commercial),
			solution("vinegar 5 %", "C2H4O2", 60.052, 5, 1.005, "density from memory; 5 % is the usual label figure; no hazard class below 10 %, CLP Annex VI, from memory").rated("", ""),
		},
		Signal: "Danger", HCodes: []string{"H226", "H314"}, Storage: acidShelf + "; away from nitric acid and oxidisers",
		Gloves:          "butyl or neoprene; " + checkChart,
		Hazards:         []string{meetsSulfide + "; a spoon of vinegar is enough", meetsBleach, "glacial acid burns and catches fire; vinegar does neither"},
		AcidEquivalents: 1, Source: annexVI, Evidence: FromMemory,
	}, {
		ID: "oxalic-acid", Name: "oxalic acid",
		Names: []string{"rhubarb", "rhubarb juice", "salt of sorrel", "salts of lemon", "radiator cleaner", "ethanedioic acid", "wood bleach", "acid of sugar"}, CAS: "144-62-7", Groups: []Group{Acid, OrganicAcid},
		Forms:  []Form{solid("dihydrate", "C2H2O4.2H2O", 126.064, "6153-56-6"), solid("anhydrous", "C2H2O4", 90.034, "")},
		Signal: "Danger", HCodes: []string{"H302", "H312", "H318"}, Storage: acidShelf, Gloves: "nitrile; " + checkChart,
		Hazards:         []string{meetsSulfide, meetsBleach, "harms when swallowed and through the skin; damages eyes and kidneys"},
		AcidEquivalents: 2, Source: annexVI, Evidence: FromMemory,
	}, {
		ID: "selenous-acid", Name: "selenous acid",
		Names: []string{"selenious acid", "gun blue", "gun bluing", "cold blue"}, CAS: "7783-00-8", Groups: []Group{Acid, HeavyMetal},
		Forms: []Form{solid("crystals", "H2SeO3", 128.984, "")}, Signal: "Danger", HCodes: []string{"H301", "H331", "H373", "H410"},
		Storage: "locked, dry, away from sulfides, acids, reducing agents, zinc and aluminium", Gloves: "double nitrile; " + checkChart,
		Hazards: []string{
			"poisonous when swallowed, breathed or through the skin; the harm may come late and builds up",
			"cards report skin and eye burns: take H314 as well if your SDS does",
			meetsSulfide,
		},
		Source: "INCHEM ICSC 0945 (UN 3283, burns); codes: " + annexVI, Evidence: PartlyOpened,
	}, {
		ID: "tartaric-acid", Name: "tartaric acid",
		Names: []string{"tamarind", "grape acid", "tartaric", "acid of tartar"}, CAS: "87-69-4", Groups: []Group{Acid, OrganicAcid},
		Forms: []Form{solid("crystals", "C4H6O6", 150.086, "")}, Signal: "Danger", HCodes: []string{"H318"}, Storage: acidShelf, Gloves: "nitrile",
		Hazards:         []string{meetsSulfide, meetsBleach, "seriously damages eyes"},
		AcidEquivalents: 2, Source: "registrant classification, from memory", Evidence: FromMemory,
	}, {
		ID: "potassium-bitartrate", Name: "potassium bitartrate",
		Names: []string{"cream of tartar", "potassium hydrogen tartrate", "tartar", "argol", "bitartrate of potash"},
		CAS:   "868-14-4", Groups: []Group{Acid, OrganicAcid}, Forms: []Form{solid("powder", "KC4H5O6", 188.1763, "")},
		Storage: "dry, away from sulfides and hypochlorite", Gloves: "any", Hazards: []string{meetsSulfide, meetsBleach},
		AcidEquivalents: 1, Source: "not classified, from memory", Evidence: FromMemory,
	}, {
		ID: "silver-dip", Name: "silver dip",
		Names: []string{"tarnish dip", "tarnish remover", "silver cleaner", "dip cleaner"}, NoCAS: "a blend", Groups: []Group{Acid},
		Forms:  []Form{{Name: "as sold", Liquid: true, StrengthUnknown: true, Source: "a blend: the label decides"}},
		Signal: "Danger", HCodes: []string{"H302", "H318", "H351", "H361d", "H411"}, Storage: acidShelf, Gloves: "nitrile",
		Hazards: []string{meetsSulfide, meetsBleach, "a typical blend of acid and thiourea is meant here: take the codes from the SDS of your own"},
		Source:  "typical blend, from memory", Evidence: FromMemory,
	}, {
		ID: "selenium-dioxide", Name: "selenium dioxide",
		Names: []string{"selenous anhydride", "selenium oxide"}, CAS: "7446-08-4", Groups: []Group{Acid, HeavyMetal},
		Forms:  []Form{solid("crystals", "SeO2", 110.969, "")},
		Signal: "Danger", HCodes: []string{"H301", "H331", "H373", "H410"}, Storage: "locked, dry, away from sulfides, acids, reducing agents, zinc and aluminium", Gloves: "double nitrile; " + checkChart,
		Hazards: []string{"poisonous when swallowed, breathed or through the skin; in water it is selenous acid", meetsSulfide},
		Source:  "dictionary entry (risk phrases, EC number); codes: " + annexVI, Evidence: PartlyOpened,
	}, {
		ID: "sulfuric-acid", Name: "sulfuric acid",
		Names: []string{"vitriol", "oleum", "acid drain opener", "oil of vitriol", "spirit of vitriol", "vitriolic acid", "battery acid", "accumulator acid", "h2so4"},
		CAS:   "7664-93-9", Groups: []Group{Acid, Sulfuric}, Forms: []Form{solution("96 %", "H2SO4", 98.072, 96, 1.84, commercial)},
		Signal: "Danger", HCodes: []string{"H290", "H314"}, Storage: acidShelf, Gloves: acidGloves,
		Hazards:         []string{"acid into cold water, never water into acid: it boils and spits", meetsSulfide, meetsBleach, "chars cloth and skin"},
		AcidEquivalents: 2, Source: "older sheet (UN 1830); codes: " + annexVI, Evidence: PartlyOpened,
	}, {
		ID: "hydrochloric-acid", Name: "hydrochloric acid",
		Names: []string{"muriatic", "toilet cleaner", "toilet bowl cleaner", "patio cleaner", "masonry cleaner", "muriatic acid", "spirits of salt", "spirit of salt", "marine acid", "brick cleaner", "hydrogen chloride", "hcl"},
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
		Names: []string{"strong water", "aqua fortis", "aquafortis", "spirit of nitre", "spirits of nitre", "spirit of niter", "parting acid", "aqua regia", "hno3"},
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
		Names: []string{"cola drink", "soda pop", "rust dissolver", "metal prep", "orthophosphoric acid", "cola", "rust remover", "rust converter", "h3po4"}, CAS: "7664-38-2", Groups: []Group{Acid},
		Forms:  []Form{solution("85 %", "H3PO4", 97.9938, 85, 1.70, commercial)},
		Signal: "Danger", HCodes: []string{"H290", "H314"}, Storage: acidShelf, Gloves: acidGloves,
		Hazards: []string{meetsSulfide, meetsBleach, "burns; acid into water"},
		// Two of the three: bicarbonate brings it to hydrogen phosphate only.
		AcidEquivalents: 2, Source: annexVI, Evidence: FromMemory,
	}, {
		ID: "lactic-acid", Name: "lactic acid",
		Names: []string{"milk acid", "sour milk", "buttermilk", "whey", "yoghurt", "yogurt", "sauerkraut juice"}, CAS: "50-21-5", Groups: []Group{Acid, OrganicAcid},
		Forms:  []Form{solution("80 %", "C3H6O3", 90.078, 80, 1.20, "density from memory")},
		Signal: "Danger", HCodes: []string{"H315", "H318"}, Storage: acidShelf, Gloves: acidGloves,
		Hazards:         []string{meetsSulfide, meetsBleach, "seriously damages eyes"},
		AcidEquivalents: 1, Source: annexVI, Evidence: FromMemory,
	}, {
		ID: "formic-acid", Name: "formic acid",
		Names: []string{"methanoic acid", "ant acid", "beekeeper's acid"}, CAS: "64-18-6", Groups: []Group{Acid, OrganicAcid},
		Forms:  []Form{solution("85 %", "CH2O2", 46.025, 85, 1.19, "density from memory")},
		Signal: "Danger", HCodes: []string{"H226", "H302", "H314", "H331"}, Storage: acidShelf, Gloves: acidGloves,
		Hazards:         []string{meetsSulfide, meetsBleach, "burns deeply; the vapour harms the lungs"},
		AcidEquivalents: 1, Source: annexVI, Evidence: FromMemory,
	}, {
		ID: "ascorbic-acid", Name: "ascorbic acid",
		Names: []string{"vitamin c", "vitamin c powder"}, CAS: "50-81-7", Groups: []Group{Acid, OrganicAcid},
		Forms:   []Form{solid("powder", "C6H8O6", 176.124, "")},
		Storage: acidShelf, Gloves: acidGloves,
		Hazards:         []string{meetsSulfide, meetsBleach},
		AcidEquivalents: 1, Source: "not classified, from memory", Evidence: FromMemory,
	}, {
		ID: "boric-acid", Name: "boric acid",
		Names: []string{"boracic acid", "boracic", "sedative salt"}, CAS: "10043-35-3", Groups: []Group{Acid},
		Forms:  []Form{solid("powder", "H3BO3", 61.831, "")},
		Signal: "Danger", HCodes: []string{"H360FD"}, Storage: acidShelf, Gloves: acidGloves,
		Hazards: []string{meetsSulfide, "may harm fertility and the unborn: no dust, no food near it"},
		Source:  annexVI, Evidence: FromMemory,
	}, {
		ID: "denture-tablet", Name: "denture tablet",
		Names: []string{"denture cleaner", "denture cleaning tablet", "effervescent tablet", "effervescent cleaning tablet", "retainer tablet"}, NoCAS: "a blend", Groups: []Group{Acid, Oxidizer, Peroxide},
		Forms:  []Form{{Name: "tablet", StrengthUnknown: true, Source: "a blend: the label decides"}},
		Signal: "Warning", HCodes: []string{"H319"}, Storage: acidShelf, Gloves: acidGloves,
		Hazards: []string{meetsSulfide, meetsBleach, "a typical blend of acid, soda and a peroxide is meant here: take the codes from the SDS of your own"},
		Source:  "typical blend, from memory", Evidence: FromMemory,
	}, {
		ID: "metal-polish", Name: "metal polish",
		Names: []string{"silver polish", "brass polish", "copper polish", "copper cleaner", "brass cleaner", "copper cream"}, NoCAS: "a blend", Groups: []Group{Acid},
		Forms:  []Form{{Name: "as sold", Liquid: true, StrengthUnknown: true, Source: "a blend: the label decides"}},
		Signal: "Warning", HCodes: []string{"H319"}, Storage: acidShelf, Gloves: acidGloves,
		Hazards: []string{meetsSulfide, meetsBleach, "many are acid, some hold ammonia or a solvent: the label and the SDS of your own decide"},
		Source:  "typical blend, from memory", Evidence: FromMemory,
	}, {
		ID: "soldering-flux", Name: "soldering flux",
		Names: []string{"acid flux", "tinner's fluid", "flux paste"}, NoCAS: "a blend", Groups: []Group{AcidSalt},
		Forms:  []Form{{Name: "as sold", Liquid: true, StrengthUnknown: true, Source: "a blend: the label decides"}},
		Signal: "Danger", HCodes: []string{"H314"}, Storage: acidShelf, Gloves: acidGloves,
		Hazards: []string{meetsSulfide, "many hold zinc chloride and an acid: the label and the SDS of your own decide"},
		Source:  "typical blend, from memory", Evidence: FromMemory,
	}}
}
