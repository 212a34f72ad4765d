package reagent

const (
	nitrateFumes = "brown nitrogen dioxide when it is heated on hot metal; paper and cloth wetted with it catch fire easily once dry"
	copperWaste  = "poisons water: no drain without leave of the local authority"
	sourSulfide  = "its solution is acid enough to free hydrogen sulfide from a sulfide bath"
)

func copperSalts() []Substance {
	return []Substance{{
		Name: "copper nitrate", CAS: "3251-23-8", Groups: []Group{CopperSalt, AcidSalt, Nitrate}, Signal: "Danger", HCodes: list("H272, H302, H315, H318, H410"),
		Names:  list("cupric nitrate, copper(ii) nitrate, nitrate of copper"),
		Forms:  []Form{solid("trihydrate", "Cu(NO3)2.3H2O", "10031-43-3"), solid("hemipentahydrate", "Cu(NO3)2·2.5H2O", "19004-19-4")},
		Source: "dictionary entry (UN 1477); laboratory profile (paper ignites, gives way at 115 C); supplier page", Evidence: PartlyOpened,
		Hazards: []string{nitrateFumes, sourSulfide, "damages eyes; some makers class it as burning the skin (H314)", copperWaste},
	}, {
		Name: "copper sulfate", CAS: "7758-98-7", Groups: []Group{CopperSalt, AcidSalt}, Signal: "Danger", HCodes: list("H302, H318, H410"),
		Names: list("cupric sulfate, copper(ii) sulfate, sulfate of copper, blue vitriol, roman vitriol, copper vitriol, bluestone, blue copperas, cuso4"),
		Forms: []Form{solid("pentahydrate", "CuSO4.5H2O", "7758-99-8"), solid("anhydrous", "CuSO4", "7758-98-7")}, Storage: "closed, no way to a drain",
		Source: "ILO ICSC 1416 (November 2023)", Evidence: Opened,
		Hazards: []string{"seriously damages eyes", sourSulfide, copperWaste},
	}, {
		Name: "copper chloride", CAS: "7447-39-4", Groups: []Group{CopperSalt, AcidSalt}, Signal: "Danger", HCodes: list("H290, H302, H312, H315, H318, H410"),
		Names: list("cupric chloride, copper(ii) chloride, chloride of copper"),
		Forms: []Form{solid("dihydrate", "CuCl2.2H2O", "10125-13-0"), solid("anhydrous", "CuCl2", "7447-39-4")}, Storage: "closed plastic, away from aluminium",
		Hazards: []string{"seriously damages eyes; harms through the skin", sourSulfide, copperWaste},
	}, {
		Name: "copper acetate", CAS: "142-71-2", Groups: []Group{CopperSalt, AcidSalt}, Signal: "Danger", HCodes: list("H302, H314, H410"),
		Names: list("cupric acetate, acetate of copper, verdigris, neutral verdigris, crystallized verdigris, distilled verdigris"),
		Forms: []Form{solid("monohydrate", "Cu(C2H3O2)2.H2O", "6046-93-1")}, Storage: "closed", Gloves: "nitrile; " + checkChart, Source: "registrant classification, from memory",
		Hazards: []string{"burns or at least damages eyes: makers differ", sourSulfide, copperWaste},
	}, {
		ID: "copper-carbonate", Name: "basic copper carbonate", CAS: "12069-69-1", Groups: []Group{CopperSalt, Carbonate}, Signal: "Warning",
		HCodes: list("H302, H319, H332, H410"),
		Names:  list("copper carbonate, basic cupric carbonate, carbonate of copper, artificial malachite, green verditer"),
		Forms:  []Form{solid("basic", "Cu2(CO3)(OH)2").frees(0.1990)}, Storage: "closed, away from acids", Gloves: "nitrile",
		Hazards: []string{"harmful dust: weigh it without stirring it up", "foams with acids", copperWaste},
	}}
}
