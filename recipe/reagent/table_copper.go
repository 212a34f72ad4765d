package reagent

const (
	nitrateFumes = "brown nitrogen dioxide when it is heated on hot metal; paper and cloth wetted with it catch fire easily once dry"
	copperWaste  = "poisons water: no drain without leave of the local authority"
	sourSulfide  = "its solution is acid enough to free hydrogen sulfide from a sulfide bath"
)

func copperSalts() []Substance {
	return []Substance{{
		ID: "copper-nitrate", Name: "copper nitrate",
		Names: []string{"cupric nitrate", "copper(ii) nitrate", "nitrate of copper"},
		CAS:   "3251-23-8", Groups: []Group{CopperSalt, MetalSalt, AcidSalt, Oxidizer, Nitrate, HeavyMetal},
		Forms:  []Form{solid("trihydrate", "Cu(NO3)2.3H2O", 241.599, "10031-43-3"), solid("hemipentahydrate", "Cu(NO3)2·2.5H2O", 232.5915, "19004-19-4")},
		Signal: "Danger", HCodes: []string{"H272", "H302", "H315", "H318", "H410"}, Storage: awayFromFuel, Gloves: "nitrile",
		Hazards: []string{nitrateFumes, sourSulfide, "damages eyes; some makers class it as burning the skin (H314)", copperWaste},
		Source:  "dictionary entry (UN 1477); laboratory profile (paper ignites, gives way at 115 C); supplier page", Evidence: PartlyOpened,
	}, {
		ID: "copper-sulfate", Name: "copper sulfate",
		Names: []string{"cupric sulfate", "copper(ii) sulfate", "sulfate of copper", "blue vitriol", "roman vitriol", "copper vitriol", "bluestone", "blue copperas", "cuso4"},
		CAS:   "7758-98-7", Groups: []Group{CopperSalt, MetalSalt, AcidSalt, HeavyMetal},
		Forms:  []Form{solid("pentahydrate", "CuSO4.5H2O", 249.677, "7758-99-8"), solid("anhydrous", "CuSO4", 159.602, "7758-98-7")},
		Signal: "Danger", HCodes: []string{"H302", "H318", "H410"}, Storage: "closed, no way to a drain", Gloves: "nitrile",
		Hazards: []string{"seriously damages eyes", sourSulfide, copperWaste}, Source: "ILO ICSC 1416 (November 2023)", Evidence: Opened,
	}, {
		ID: "copper-chloride", Name: "copper chloride",
		Names: []string{"cupric chloride", "copper(ii) chloride", "chloride of copper"}, CAS: "7447-39-4", Groups: []Group{CopperSalt, MetalSalt, AcidSalt, HeavyMetal},
		Forms:  []Form{solid("dihydrate", "CuCl2.2H2O", 170.476, "10125-13-0"), solid("anhydrous", "CuCl2", 134.446, "7447-39-4")},
		Signal: "Danger", HCodes: []string{"H290", "H302", "H312", "H315", "H318", "H410"}, Storage: "closed plastic, away from aluminium", Gloves: "nitrile",
		Hazards: []string{"seriously damages eyes; harms through the skin", sourSulfide, copperWaste}, Source: annexVI, Evidence: FromMemory,
	}, {
		ID: "copper-acetate", Name: "copper acetate",
		Names: []string{"cupric acetate", "acetate of copper", "verdigris", "neutral verdigris", "crystallized verdigris", "distilled verdigris"},
		CAS:   "142-71-2", Groups: []Group{CopperSalt, MetalSalt, AcidSalt, HeavyMetal}, Forms: []Form{solid("monohydrate", "Cu(C2H3O2)2.H2O", 199.649, "6046-93-1")},
		Signal: "Danger", HCodes: []string{"H302", "H314", "H410"}, Storage: "closed", Gloves: "nitrile; " + checkChart,
		Hazards: []string{"burns or at least damages eyes: makers differ", sourSulfide, copperWaste},
		Source:  "registrant classification, from memory", Evidence: FromMemory,
	}, {
		ID: "copper-carbonate", Name: "basic copper carbonate",
		Names: []string{"copper carbonate", "basic cupric carbonate", "carbonate of copper", "artificial malachite", "green verditer"},
		CAS:   "12069-69-1", Groups: []Group{CopperSalt, MetalSalt, Carbonate, HeavyMetal}, Forms: []Form{solid("basic", "Cu2(CO3)(OH)2", 221.114, "").frees(0.1990, 0.1990)},
		Signal: "Warning", HCodes: []string{"H302", "H319", "H332", "H410"}, Storage: "closed, away from acids", Gloves: "nitrile",
		GasWithAcid: carbonDioxide, Hazards: []string{"harmful dust: weigh it without stirring it up", "foams with acids", copperWaste},
		Source: annexVI, Evidence: FromMemory,
	}}
}
