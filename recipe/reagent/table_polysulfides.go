package reagent

// unknownStrength is a form whose maker does not say what is in it.
func unknownStrength(name string, upper float64, source string) Form {
	return Form{Name: name, Liquid: true, StrengthUnknown: true, GasUpper: upper, Source: source}
}

// polysulfides frees one mol of hydrogen sulfide per chain, the rest of the
// sulfur falls out. The upper figure is that of the shortest chain expected.
func polysulfides() []Substance {
	return []Substance{{
		ID: "liver-of-sulfur", Name: "liver of sulfur",
		Names: []string{"sulfurated potash", "hepar sulfuris", "hepar sulfur", "potassium polysulfide", "potassium pentasulfide", "sulfurated potassa", "potassa sulfurata", "sulfuret of potash"},
		CAS:   "39365-88-3", Groups: []Group{Sulfide},
		Forms: []Form{
			{
				Name: "lump", GasUpper: 0.1954, GasExpected: 0.1360,
				Source: "upper: pure K2S3, one mol of gas each (computed); expected: 12.8 % sulfide sulfur, the compendial minimum of sulfurated potash",
			},
			unknownStrength("gel", 0.1954, "makers give no strength: ask for it; gas as for lumps at most"),
			unknownStrength("liquid", 0.1954, "makers give no strength: ask for it; gas as for lumps at most"),
		},
		Signal: "Danger", HCodes: []string{"H314", "H400", "EUH031"},
		GasWithAcid: hydrogenSulfide, Storage: awayFromAcid + "; dark", Gloves: sulfideGloves,
		Hazards: []string{
			neverAcid,
			"burns skin and eyes; damp air and carbon dioxide free a little gas all the time",
			"pale or white lumps are spent and of unknown strength",
		},
		Source: "no official sheet was found for this CAS number: codes of the potassium polysulfides, " + annexVI, Evidence: FromMemory,
	}, {
		ID: "ammonium-polysulfide", Name: "ammonium polysulfide solution",
		Names: []string{"yellow ammonium sulfide", "boyle's fuming liquor"}, CAS: "9080-17-5", Groups: []Group{Sulfide, Ammonia, AmmoniumSalt},
		Forms:  []Form{unknownStrength("solution", 0.2576, "upper: pure (NH4)2S3 (computed); the strength is on the label")},
		Signal: "Danger", HCodes: []string{"H314", "H400", "EUH031"}, GasWithAcid: hydrogenSulfide, Storage: awayFromAcid, Gloves: sulfideGloves,
		Hazards: []string{neverAcid, "gives off hydrogen sulfide and ammonia at room temperature; burns"},
		Source:  "dictionary entry (UN 2818); codes: " + annexVI, Evidence: PartlyOpened,
	}, {
		ID: "sodium-polysulfide", Name: "sodium polysulfide",
		Names: []string{"soda liver of sulfur", "sodium tetrasulfide"}, CAS: "1344-08-7", Groups: []Group{Sulfide},
		Forms: []Form{
			{Name: "lump", GasUpper: 0.3095, GasExpected: 0.1956, Source: "upper: pure Na2S2, expected: pure Na2S4 (computed)"},
			unknownStrength("solution", 0.3095, "upper: as for lumps; the strength is on the label"),
		},
		Signal: "Danger", HCodes: []string{"H302", "H311", "H314", "H400", "EUH031"},
		GasWithAcid: hydrogenSulfide, Storage: awayFromAcid, Gloves: sulfideGloves,
		Hazards: []string{neverAcid, "poisonous through the skin; burns"}, Source: annexVI, Evidence: FromMemory,
	}, {
		ID: "calcium-polysulfide", Name: "calcium polysulfide",
		Names: []string{"lime sulfur", "calcium pentasulfide"}, CAS: "1344-81-6", Groups: []Group{Sulfide},
		Forms:  []Form{unknownStrength("solution", 0.1701, "upper: pure CaS5 (computed); the strength is on the label")},
		Signal: "Warning", HCodes: []string{"H315", "H319", "H335", "H400", "EUH031"},
		GasWithAcid: hydrogenSulfide, Storage: awayFromAcid, Gloves: sulfideGloves,
		Hazards: []string{neverAcid, "irritates skin, eyes and lungs; no mouth-to-mouth breathing for someone who took it in"},
		Source:  "INCHEM ICSC 1038; codes: " + annexVI, Evidence: PartlyOpened,
	}}
}
