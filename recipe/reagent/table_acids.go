package reagent

// acids are the acids and the salts used as pickle.
func acids() []Substance {
	return []Substance{{
		Name: "sodium bisulfate", CAS: "7681-38-1", Groups: []Group{Acid}, Signal: "Danger", HCodes: list("H318"), AcidEquivalents: 1,
		Names: list("sodium hydrogen sulfate, sodium hydrogensulfate, sodium acid sulfate, bisulfate, bisulfate of soda, dry acid, dry acid pickle, pickling salt, pickle salt, pool acid, ph minus, niter cake, nitre cake, nahso4"),
		Forms: []Form{solid("anhydrous", "NaHSO4"), solid("monohydrate", "NaHSO4.H2O", "10034-88-5")}, Gloves: "nitrile; " + checkChart,
		Hazards: []string{
			"a film of hot pickle carried into a sulfide bath is the likeliest way to make hydrogen sulfide in this trade",
			"seriously damages eyes; steel tools in it plate the work with copper",
		},
	}, {
		Name: "citric acid", CAS: "77-92-9", Groups: []Group{OrganicAcid}, Signal: "Warning", HCodes: list("H319, H335"), AcidEquivalents: 3,
		Names: list("lime fruit, lime juice concentrate, orange juice, grapefruit juice, lemonade, citrus juice, citrus cleaner, citrus degreaser, citric, citric pickle, lemon, lemon juice, lime juice, sour salt"),
		Forms: []Form{solid("anhydrous", "C6H8O7"), solid("monohydrate", "C6H8O7.H2O", "5949-29-1")}, Gloves: "nitrile",
		Hazards: []string{"that it is a food acid changes nothing", "irritates eyes and lungs"},
	}, {
		Name: "sulfamic acid", CAS: "5329-14-6", Groups: []Group{Acid}, Signal: "Warning", HCodes: list("H315, H319, H412"), AcidEquivalents: 1,
		Names: list("kettle descaler, coffee machine cleaner, scale remover, amidosulfuric acid, aminosulfonic acid, descaler, descaling powder, limescale remover"),
		Forms: []Form{solid("crystals", "H3NSO3")}, Gloves: "nitrile",
		Hazards: []string{"with bleach: chlorine and chloramines"},
	}, {
		Name: "acetic acid", CAS: "64-19-7", Groups: []Group{OrganicAcid}, Signal: "Danger", HCodes: list("H226, H314"), AcidEquivalents: 1,
		Names: list("rice vinegar, apple vinegar, cleaning vinegar, balsamic, pickle juice, pickle brine, ketchup, hot sauce, stop bath, vinegar, white vinegar, spirit vinegar, wine vinegar, cider vinegar, malt vinegar, vinegar essence, wood vinegar, pyroligneous acid, glacial acetic acid, ethanoic acid"),
		Forms: []Form{
			solution("glacial", "C2H4O2", 99.5, 1.05, commercial),
			solution("vinegar 5 %", "C2H4O2", 5, 1.005, "density from memory; 5 % is the usual label figure; no hazard class below 10 %, CLP Annex VI, from memory").mild(),
		},
		Storage: acidShelf + "; away from nitric acid and oxidisers", Gloves: "butyl or neoprene; " + checkChart,
		Hazards: []string{"a spoon of vinegar is enough to free the gas", "glacial acid burns and catches fire; vinegar does neither"},
	}, {
		Name: "oxalic acid", CAS: "144-62-7", Groups: []Group{OrganicAcid}, Signal: "Danger", HCodes: list("H302, H312, H318"), AcidEquivalents: 2,
		Names: list("rhubarb, rhubarb juice, salt of sorrel, salts of lemon, radiator cleaner, ethanedioic acid, wood bleach, acid of sugar"),
		Forms: []Form{solid("dihydrate", "C2H2O4.2H2O", "6153-56-6"), solid("anhydrous", "C2H2O4")}, Gloves: "nitrile; " + checkChart,
		Hazards: []string{"harms when swallowed and through the skin; damages eyes and kidneys"},
	}, {
		Name: "selenous acid", CAS: "7783-00-8", Groups: []Group{Acid, HeavyMetal}, Signal: "Danger", HCodes: list("H301, H331, H373, H410"),
		Names: list("selenious acid, gun blue, gun bluing, cold blue"),
		Forms: []Form{solid("crystals", "H2SeO3")}, Storage: "locked, dry, away from sulfides, acids, reducing agents, zinc and aluminium",
		Gloves: "double nitrile; " + checkChart, Source: "INCHEM ICSC 0945 (UN 3283, burns); codes: " + annexVI, Evidence: PartlyOpened,
		Hazards: []string{
			"poisonous when swallowed, breathed or through the skin; the harm may come late and builds up",
			"cards report skin and eye burns: take H314 as well if your SDS does",
		},
	}, {
		Name: "tartaric acid", CAS: "87-69-4", Groups: []Group{OrganicAcid}, Signal: "Danger", HCodes: list("H318"), AcidEquivalents: 2,
		Names: list("tamarind, grape acid, tartaric, acid of tartar"),
		Forms: []Form{solid("crystals", "C4H6O6")}, Gloves: "nitrile", Source: "registrant classification, from memory",
		Hazards: []string{"seriously damages eyes"},
	}, {
		Name: "potassium bitartrate", CAS: "868-14-4", Groups: []Group{OrganicAcid}, AcidEquivalents: 1,
		Names: list("cream of tartar, potassium hydrogen tartrate, tartar, argol, bitartrate of potash"),
		Forms: []Form{solid("powder", "KC4H5O6")}, Storage: "dry, away from sulfides and hypochlorite", Gloves: "any",
	}, {
		Name: "silver dip", NoCAS: aBlend, Groups: []Group{Acid}, Signal: "Danger", HCodes: list("H302, H318, H351, H361d, H411"),
		Names:   list("tarnish dip, tarnish remover, silver cleaner, dip cleaner"),
		Gloves:  "nitrile",
		Hazards: []string{"a typical blend of acid and thiourea is meant here: take the codes from the SDS of your own"},
	}, {
		Name: "selenium dioxide", CAS: "7446-08-4", Groups: []Group{Acid, HeavyMetal}, Signal: "Danger", HCodes: list("H301, H331, H373, H410"),
		Names: list("selenous anhydride, selenium oxide"),
		Forms: []Form{solid("crystals", "SeO2")}, Storage: "locked, dry, away from sulfides, acids, reducing agents, zinc and aluminium", Gloves: "double nitrile; " + checkChart,
		Source: "dictionary entry (risk phrases, EC number); codes: " + annexVI, Evidence: PartlyOpened,
		Hazards: []string{"poisonous when swallowed, breathed or through the skin; in water it is selenous acid"},
	}, {
		Name: "sulfuric acid", CAS: "7664-93-9", Groups: []Group{Sulfuric}, Signal: "Danger", HCodes: list("H290, H314"), AcidEquivalents: 2,
		Names: list("vitriol, oleum, acid drain opener, oil of vitriol, spirit of vitriol, vitriolic acid, battery acid, accumulator acid, h2so4"),
		Forms: []Form{solution("96 %", "H2SO4", 96, 1.84, commercial)}, Source: "older sheet (UN 1830); codes: " + annexVI, Evidence: PartlyOpened,
		Hazards: []string{"acid into cold water, never water into acid: it boils and spits", "chars cloth and skin"},
	}, {
		Name: "hydrochloric acid", CAS: "7647-01-0", Groups: []Group{Hydrochloric}, Signal: "Danger", HCodes: list("H290, H314, H335"), AcidEquivalents: 1,
		Names:   list("muriatic, toilet cleaner, toilet bowl cleaner, patio cleaner, masonry cleaner, muriatic acid, spirits of salt, spirit of salt, marine acid, brick cleaner, hydrogen chloride, hcl"),
		Forms:   []Form{solution("37 %", "HCl", 37, 1.18, "usual label figures; the book row is 36 %, 1.18 g/mL: "+commercial), solution("36 %", "HCl", 36, 1.18, commercial)},
		Hazards: []string{"chlorine with bleach, permanganate, chlorate or peroxide", "fumes rust the workshop and burn the lungs", "acid into water"},
	}, {
		Name: "nitric acid", CAS: "7697-37-2", Groups: []Group{OxidizingAcid}, Signal: "Danger", HCodes: list("H272, H290, H314, H331, EUH071"), AcidEquivalents: 1,
		Names:   list("strong water, aqua fortis, aquafortis, spirit of nitre, spirits of nitre, spirit of niter, parting acid, aqua regia, hno3"),
		Forms:   []Form{solution("70 %", "HNO3", 70, 1.41, "usual label figures"), solution("71 %", "HNO3", 71, 1.42, commercial)},
		Storage: acidShelf + "; apart from organic acids, solvents and waxes",
		Gloves:  "neoprene, butyl or fluoroelastomer: nitrile does not last in strong nitric acid; " + checkChart,
		Source:  "supplier sheet 65-70 %; INCHEM ICSC 0183; H331 from memory", Evidence: PartlyOpened,
		Hazards: []string{
			"brown nitrogen dioxide on copper and silver: the lungs may fill hours later, also without cough",
			"fire or burst bottles with alcohol, acetone, paper, wax; solvent wipes and nitric waste never meet",
			"acid into water",
		},
	}, {
		Name: "phosphoric acid", CAS: "7664-38-2", Groups: []Group{Acid}, Signal: "Danger", HCodes: list("H290, H314"),
		AcidEquivalents: 2, // of the three: bicarbonate brings it to hydrogen phosphate only
		Names:           list("cola drink, soda pop, rust dissolver, metal prep, orthophosphoric acid, cola, rust remover, rust converter, h3po4"),
		Forms:           []Form{solution("85 %", "H3PO4", 85, 1.70, commercial)},
		Hazards:         []string{"burns; acid into water"},
	}, {
		Name: "lactic acid", CAS: "50-21-5", Groups: []Group{OrganicAcid}, Signal: "Danger", HCodes: list("H315, H318"), AcidEquivalents: 1,
		Names:   list("milk acid, sour milk, buttermilk, whey, yoghurt, yogurt, sauerkraut juice"),
		Forms:   []Form{solution("80 %", "C3H6O3", 80, 1.20, "density from memory")},
		Hazards: []string{"seriously damages eyes"},
	}, {
		Name: "formic acid", CAS: "64-18-6", Groups: []Group{OrganicAcid}, Signal: "Danger", HCodes: list("H226, H302, H314, H331"), AcidEquivalents: 1,
		Names:   list("methanoic acid, ant acid, beekeeper's acid"),
		Forms:   []Form{solution("85 %", "CH2O2", 85, 1.19, "density from memory")},
		Hazards: []string{"burns deeply; the vapour harms the lungs"},
	}, {
		Name: "ascorbic acid", CAS: "50-81-7", Groups: []Group{OrganicAcid}, AcidEquivalents: 1,
		Names: list("vitamin c, vitamin c powder"),
		Forms: []Form{solid("powder", "C6H8O6")},
	}, {
		Name: "boric acid", CAS: "10043-35-3", Groups: []Group{Acid}, Signal: "Danger", HCodes: list("H360FD"),
		Names:   list("boracic acid, boracic, sedative salt"),
		Forms:   []Form{solid("powder", "H3BO3")},
		Hazards: []string{"may harm fertility and the unborn: no dust, no food near it"},
	}, {
		Name: "denture tablet", NoCAS: aBlend, Groups: []Group{Acid, Peroxide}, Signal: "Warning", HCodes: list("H319"),
		Names:   list("denture cleaner, denture cleaning tablet, effervescent tablet, effervescent cleaning tablet, retainer tablet"),
		Forms:   []Form{{Name: "tablet", StrengthUnknown: true, Source: "a blend: the label decides"}},
		Hazards: []string{"a typical blend of acid, soda and a peroxide is meant here: take the codes from the SDS of your own"},
	}, {
		Name: "metal polish", NoCAS: aBlend, Groups: []Group{Acid}, Signal: "Warning", HCodes: list("H319"),
		Names:   list("silver polish, brass polish, copper polish, copper cleaner, brass cleaner, copper cream"),
		Hazards: []string{"many are acid, some hold ammonia or a solvent: the label and the SDS of your own decide"},
	}, {
		Name: "soldering flux", NoCAS: aBlend, Groups: []Group{AcidSalt}, Signal: "Danger", HCodes: list("H314"),
		Names:   list("acid flux, tinner's fluid, flux paste"),
		Storage: acidShelf, Gloves: rubber,
		Hazards: []string{"many hold zinc chloride and an acid: the label and the SDS of your own decide"},
	}}
}
