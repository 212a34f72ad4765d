package reagent

// sulfides are the sulfides and polysulfides. A sulfide frees one mol of hydrogen sulfide per
// mol (34.076 g), computed; a polysulfide one mol per chain, at most that of the shortest
// chain expected: the rest of its sulfur falls out.
func sulfides() []Substance {
	return []Substance{{
		Name: "potassium sulfide", CAS: "1312-73-8", Groups: []Group{Sulfide}, Signal: "Danger", HCodes: list("H314, H400, EUH031"),
		Names: list("dipotassium sulfide, potassium monosulfide, sulfide of potassium, sulfuret of potassium"),
		Forms: []Form{solid("anhydrous", "K2S").frees(0.3091)}, Source: "dictionary entry (class, EC number) and " + annexVI, Evidence: PartlyOpened,
		Hazards: []string{"burns skin and eyes; the dry solid may heat up by itself in air", "what jewellers' books call potassium sulfide is most often liver of sulfur"},
	}, {
		Name: "sodium sulfide", CAS: "1313-82-2", Groups: []Group{Sulfide}, Signal: "Danger", HCodes: list("H290, H301, H311, H314, H400, EUH031"),
		Names: list("disodium sulfide, sodium monosulfide, sulfide of soda, sulfide of sodium, sulfuret of sodium"),
		Forms: []Form{
			solid("nonahydrate", "Na2S.9H2O", "1313-84-4").frees(0.1419),
			{Name: "flake", Formula: "Na2S", MassPercent: 60, GasUpper: 0.2620, GasExpected: 0.2620, Source: "supplier sheet: flakes of 60 % or more, about Na2S.3H2O; " + fromWeights},
			solid("anhydrous", "Na2S").frees(0.4367),
		},
		Source: "INCHEM ICSC 1047; New Jersey fact sheet 1728; codes: " + annexVI, Evidence: PartlyOpened,
		Hazards: []string{
			"poisonous through the skin and when swallowed; burns; stomach acid frees the gas",
			"a 10-12 % solution still burns badly; a 3 % solution still damages eyes",
			"the dry solid burns and its dust may explode",
		},
	}, {
		ID: "ammonium-sulfide", Name: "ammonium sulfide solution", CAS: "12135-76-1", Groups: []Group{Sulfide, Ammonia, AmmoniumSalt}, Signal: "Danger",
		HCodes:  list("H226, H301, H314, H331, H400, EUH031"),
		Names:   list("ammonium hydrosulfide, ammonium hydrogen sulfide, sulfide of ammonia, sulfide of ammonium, hydrosulfate of ammonia, hydrosulfuret of ammonia"),
		Forms:   []Form{solution("20 % solution", "(NH4)2S", 20, 1.00, "density from memory; strength: supplier sheet 20-22 %").frees(0.1000)},
		Storage: awayFromAcid + "; flammables cabinet", Gloves: "butyl before nitrile or neoprene; " + checkChart,
		Source: "dictionary entry (risk phrases, UN 2683); New Jersey fact sheet 0115", Evidence: PartlyOpened,
		Hazards: []string{
			"gives off hydrogen sulfide and ammonia at room temperature: the worst of the sulfide baths to breathe",
			"burns; poisonous when swallowed; the vapour burns",
		},
	}, {
		Name: "barium sulfide", CAS: "21109-95-5", Groups: []Group{Sulfide, HeavyMetal}, Signal: "Warning", HCodes: list("H302, H332, H400, EUH031"),
		Names: list("black ash, sulfide of barium, sulfuret of barium"),
		Forms: []Form{solid("powder", "BaS").frees(0.2012)}, Source: "supplier sheet (H302, H332, H400; acid frees hydrogen sulfide); EUH031 as for the family, from memory",
		Evidence: PartlyOpened,
		Hazards:  []string{"soluble barium is poisonous: no dust, no food near it; the waste counts as barium waste"},
	}, {
		Name: "liver of sulfur", CAS: "39365-88-3", Groups: []Group{Sulfide}, Signal: "Danger", HCodes: list("H314, H400, EUH031"),
		Names: list("sulfurated potash, hepar sulfuris, hepar sulfur, potassium polysulfide, potassium pentasulfide, sulfurated potassa, potassa sulfurata, sulfuret of potash"),
		Forms: []Form{
			{
				Name: "lump", GasUpper: 0.1954, GasExpected: 0.1360, Good: "lumps must be yellow-brown, not pale",
				Source: "upper: pure K2S3, one mol of gas each (computed); expected: 12.8 % sulfide sulfur, the compendial minimum of sulfurated potash; colour of a good lump: common practice, no source",
			},
			unknownStrength("gel", 0.1954, "makers give no strength: ask for it; gas as for lumps at most"),
			unknownStrength("liquid", 0.1954, "makers give no strength: ask for it; gas as for lumps at most"),
		},
		Storage: awayFromAcid + "; dark", Source: "no official sheet was found for this CAS number: codes of the potassium polysulfides, " + annexVI,
		Hazards: []string{"burns skin and eyes; damp air and carbon dioxide free a little gas all the time", "pale or white lumps are spent and of unknown strength"},
	}, {
		ID: "ammonium-polysulfide", Name: "ammonium polysulfide solution", CAS: "9080-17-5", Groups: []Group{Sulfide, Ammonia, AmmoniumSalt}, Signal: "Danger",
		HCodes: list("H314, H400, EUH031"),
		Names:  list("yellow ammonium sulfide, boyle's fuming liquor"),
		Forms:  []Form{unknownStrength("solution", 0.2576, "upper: pure (NH4)2S3 (computed); the strength is on the label")},
		Source: "dictionary entry (UN 2818); codes: " + annexVI, Evidence: PartlyOpened,
		Hazards: []string{"gives off hydrogen sulfide and ammonia at room temperature; burns"},
	}, {
		Name: "sodium polysulfide", CAS: "1344-08-7", Groups: []Group{Sulfide}, Signal: "Danger", HCodes: list("H302, H311, H314, H400, EUH031"),
		Names: list("soda liver of sulfur, sodium tetrasulfide"),
		Forms: []Form{
			{Name: "lump", GasUpper: 0.3095, GasExpected: 0.1956, Source: "upper: pure Na2S2, expected: pure Na2S4 (computed)"},
			unknownStrength("solution", 0.3095, "upper: as for lumps; the strength is on the label"),
		},
		Hazards: []string{"poisonous through the skin; burns"},
	}, {
		Name: "calcium polysulfide", CAS: "1344-81-6", Groups: []Group{Sulfide}, Signal: "Warning", HCodes: list("H315, H319, H335, H400, EUH031"),
		Names: list("lime sulfur, calcium pentasulfide"),
		Forms: []Form{unknownStrength("solution", 0.1701, "upper: pure CaS5 (computed); the strength is on the label")}, Source: "INCHEM ICSC 1038; codes: " + annexVI,
		Evidence: PartlyOpened,
		Hazards:  []string{"irritates skin, eyes and lungs; no mouth-to-mouth breathing for someone who took it in"},
	}}
}
