package reagent

const (
	hydrogenSulfide = "hydrogen sulfide"
	sulfideGloves   = "nitrile, neoprene or butyl gauntlets; " + checkChart
	neverAcid       = "any acid, even vinegar or a film of pickle, frees hydrogen sulfide, which kills; the nose stops smelling it"
)

// sulfides are the sulfides and polysulfides. A plain sulfide frees one mol of
// hydrogen sulfide per mol (34.076 g), computed; a polysulfide one mol per chain, the
// rest of its sulfur falls out. The upper figure of a polysulfide is that of the
// shortest chain expected.
func sulfides() []Substance {
	return []Substance{{
		ID: "potassium-sulfide", Name: "potassium sulfide",
		Names: []string{"dipotassium sulfide", "potassium monosulfide", "sulfide of potassium", "sulfuret of potassium"},
		CAS:   "1312-73-8", Groups: []Group{Sulfide}, Forms: []Form{solid("anhydrous", "K2S", 110.2566, "").frees(0.3091, 0.3091)},
		Signal: "Danger", HCodes: []string{"H314", "H400", "EUH031"}, GasWithAcid: hydrogenSulfide, Storage: awayFromAcid, Gloves: sulfideGloves,
		Hazards: []string{
			neverAcid,
			"burns skin and eyes; the dry solid may heat up by itself in air",
			"what jewellers' books call potassium sulfide is most often liver of sulfur",
		},
		Source: "dictionary entry (class, EC number) and " + annexVI, Evidence: PartlyOpened,
	}, {
		ID: "sodium-sulfide", Name: "sodium sulfide", FlushMinutes: 30,
		Names: []string{"disodium sulfide", "sodium monosulfide", "sulfide of soda", "sulfide of sodium", "sulfuret of sodium"},
		CAS:   "1313-82-2", Groups: []Group{Sulfide},
		Forms: []Form{
			solid("nonahydrate", "Na2S.9H2O", 240.1745, "1313-84-4").frees(0.1419, 0.1419),
			{
				Name: "flake", Formula: "Na2S", MolarMass: 78.0395, MassPercent: 60,
				GasUpper: 0.2620, GasExpected: 0.2620,
				Source: "supplier sheet: flakes of 60 % or more, about Na2S.3H2O; " + fromWeights,
			},
			solid("anhydrous", "Na2S", 78.0395, "").frees(0.4367, 0.4367),
		},
		Signal: "Danger", HCodes: []string{"H290", "H301", "H311", "H314", "H400", "EUH031"},
		GasWithAcid: hydrogenSulfide, Storage: awayFromAcid, Gloves: sulfideGloves,
		Hazards: []string{
			neverAcid,
			"poisonous through the skin and when swallowed; burns; stomach acid frees the gas",
			"a 10-12 % solution still burns badly; a 3 % solution still damages eyes",
			"the dry solid burns and its dust may explode",
		},
		Source: "INCHEM ICSC 1047; New Jersey fact sheet 1728; codes: " + annexVI, Evidence: PartlyOpened,
	}, {
		ID: "ammonium-sulfide", Name: "ammonium sulfide solution", FlushMinutes: 30,
		Names: []string{"ammonium hydrosulfide", "ammonium hydrogen sulfide", "sulfide of ammonia", "sulfide of ammonium", "hydrosulfate of ammonia", "hydrosulfuret of ammonia"},
		CAS:   "12135-76-1", Groups: []Group{Sulfide, Ammonia, AmmoniumSalt},
		Forms: []Form{
			solution("20 % solution", "(NH4)2S", 68.138, 20, 1.00, "density from memory; strength: supplier sheet 20-22 %").frees(0.1000, 0.1000),
		},
		Signal: "Danger", HCodes: []string{"H226", "H301", "H314", "H331", "H400", "EUH031"}, GasWithAcid: hydrogenSulfide,
		Storage: awayFromAcid + "; flammables cabinet", Gloves: "butyl before nitrile or neoprene; " + checkChart,
		Hazards: []string{
			"gives off hydrogen sulfide and ammonia at room temperature: the worst of the sulfide baths to breathe",
			neverAcid,
			"burns; poisonous when swallowed; the vapour burns",
		},
		Source: "dictionary entry (risk phrases, UN 2683); New Jersey fact sheet 0115", Evidence: PartlyOpened,
	}, {
		ID: "barium-sulfide", Name: "barium sulfide",
		Names: []string{"black ash", "sulfide of barium", "sulfuret of barium"}, CAS: "21109-95-5", Groups: []Group{Sulfide, HeavyMetal},
		Forms:  []Form{solid("powder", "BaS", 169.387, "").frees(0.2012, 0.2012)},
		Signal: "Warning", HCodes: []string{"H302", "H332", "H400", "EUH031"},
		GasWithAcid: hydrogenSulfide, Storage: awayFromAcid, Gloves: sulfideGloves,
		Hazards: []string{neverAcid, "soluble barium is poisonous: no dust, no food near it; the waste counts as barium waste"},
		Source:  "supplier sheet (H302, H332, H400; acid frees hydrogen sulfide); EUH031 as for the family, from memory", Evidence: PartlyOpened,
	}, {
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
		ID: "ammonium-polysulfide", Name: "ammonium polysulfide solution", FlushMinutes: 30,
		Names: []string{"yellow ammonium sulfide", "boyle's fuming liquor"}, CAS: "9080-17-5", Groups: []Group{Sulfide, Ammonia, AmmoniumSalt},
		Forms:  []Form{unknownStrength("solution", 0.2576, "upper: pure (NH4)2S3 (computed); the strength is on the label")},
		Signal: "Danger", HCodes: []string{"H314", "H400", "EUH031"}, GasWithAcid: hydrogenSulfide, Storage: awayFromAcid, Gloves: sulfideGloves,
		Hazards: []string{neverAcid, "gives off hydrogen sulfide and ammonia at room temperature; burns"},
		Source:  "dictionary entry (UN 2818); codes: " + annexVI, Evidence: PartlyOpened,
	}, {
		ID: "sodium-polysulfide", Name: "sodium polysulfide", FlushMinutes: 30,
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
