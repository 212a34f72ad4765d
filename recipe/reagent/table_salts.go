package reagent

// salts are the salts of copper, iron and ammonia, then the others.
func salts() []Substance {
	return []Substance{{
		Name: "copper nitrate", CAS: "3251-23-8", Groups: []Group{CopperSalt, AcidSalt, Nitrate}, Signal: "Danger", HCodes: list("H272, H302, H315, H318, H410"),
		Names:  list("cupric nitrate, copper(ii) nitrate, nitrate of copper"),
		Forms:  []Form{solid("trihydrate", "Cu(NO3)2.3H2O", "10031-43-3"), solid("hemipentahydrate", "Cu(NO3)2·2.5H2O", "19004-19-4")},
		Source: "dictionary entry (UN 1477); laboratory profile (paper ignites, gives way at 115 C); supplier page", Evidence: PartlyOpened,
		Hazards: []string{"damages eyes; some makers class it as burning the skin (H314)", noDrain},
	}, {
		Name: "copper sulfate", CAS: "7758-98-7", Groups: []Group{CopperSalt, AcidSalt}, Signal: "Danger", HCodes: list("H302, H318, H410"),
		Names: list("cupric sulfate, copper(ii) sulfate, sulfate of copper, blue vitriol, roman vitriol, copper vitriol, bluestone, blue copperas, cuso4"),
		Forms: []Form{solid("pentahydrate", "CuSO4.5H2O", "7758-99-8"), solid("anhydrous", "CuSO4", "7758-98-7")}, Storage: "closed, no way to a drain",
		Source: "ILO ICSC 1416 (November 2023)", Evidence: Opened,
		Hazards: []string{"seriously damages eyes", noDrain},
	}, {
		Name: "copper chloride", CAS: "7447-39-4", Groups: []Group{CopperSalt, AcidSalt}, Signal: "Danger", HCodes: list("H290, H302, H312, H315, H318, H410"),
		Names: list("cupric chloride, copper(ii) chloride, chloride of copper"),
		Forms: []Form{solid("dihydrate", "CuCl2.2H2O", "10125-13-0"), solid("anhydrous", "CuCl2", "7447-39-4")}, Storage: "closed plastic, away from aluminium",
		Hazards: []string{"seriously damages eyes; harms through the skin", noDrain},
	}, {
		Name: "copper acetate", CAS: "142-71-2", Groups: []Group{CopperSalt, AcidSalt}, Signal: "Danger", HCodes: list("H302, H314, H410"),
		Names: list("cupric acetate, acetate of copper, verdigris, neutral verdigris, crystallized verdigris, distilled verdigris"),
		Forms: []Form{solid("monohydrate", "Cu(C2H3O2)2.H2O", "6046-93-1")}, Storage: "closed", Gloves: "nitrile; " + checkChart, Source: "registrant classification, from memory",
		Hazards: []string{"burns or at least damages eyes: makers differ", noDrain},
	}, {
		ID: "copper-carbonate", Name: "basic copper carbonate", CAS: "12069-69-1", Groups: []Group{CopperSalt, Carbonate}, Signal: "Warning",
		HCodes: list("H302, H319, H332, H410"),
		Names:  list("copper carbonate, basic cupric carbonate, carbonate of copper, artificial malachite, green verditer"),
		Forms:  []Form{solid("basic", "Cu2(CO3)(OH)2").frees(0.1990)}, Storage: "closed, away from acids", Gloves: "nitrile",
		Hazards: []string{"harmful dust: weigh it without stirring it up", noDrain},
	}, {
		Name: "ferric nitrate", CAS: "10421-48-4", Groups: []Group{MetalSalt, AcidSalt, Nitrate}, Signal: "Warning", HCodes: list("H272, H315, H319"),
		Names: list("iron nitrate, iron(iii) nitrate, nitrate of iron, pernitrate of iron"),
		Forms: []Form{solid("nonahydrate", "Fe(NO3)3.9H2O", "7782-61-8")},
	}, {
		Name: "ferric chloride", CAS: "7705-08-0", Groups: []Group{MetalSalt, AcidSalt}, Signal: "Danger", HCodes: list("H290, H302, H315, H318"),
		Names:   list("iron chloride, iron(iii) chloride, chloride of iron, perchloride of iron, iron perchloride, muriate of iron, etchant, circuit board etchant, fecl3"),
		Forms:   []Form{solid("hexahydrate", "FeCl3.6H2O", "10025-77-1"), solid("anhydrous", "FeCl3", "7705-08-0"), solution("40 % solution", "FeCl3", 40, 1.42, "density from memory")},
		Storage: "closed plastic, away from metals, sulfides and hypochlorite", Gloves: "nitrile or neoprene; " + checkChart,
		Source: "supplier sheet of the etchant liquid; ILO ICSC 1499", Evidence: Opened,
		Hazards: []string{"as acid as a weak pickle (pH 1-2): frees hydrogen sulfide from a sulfide bath, chlorine from bleach", "seriously damages eyes; eats metal"},
	}, {
		Name: "ferrous sulfate", CAS: "7720-78-7", Groups: []Group{MetalSalt, AcidSalt}, Signal: "Warning", HCodes: list("H302, H315, H319"),
		Names: list("iron sulfate, iron(ii) sulfate, green vitriol, iron vitriol, copperas, sulfate of iron, protosulfate of iron, feso4"),
		Forms: []Form{solid("heptahydrate", "FeSO4.7H2O", "7782-63-0")}, Storage: "closed", Source: "supplier sheet", Evidence: Opened,
		Hazards: []string{"harmful when swallowed, most of all to children"},
	}, {
		Name: "ammonium chloride", CAS: "12125-02-9", Groups: []Group{AmmoniumSalt, AcidSalt}, Signal: "Warning", HCodes: list("H302, H319"),
		Names: list("sal ammoniac, salmiac, muriate of ammonia, chloride of ammonia, nh4cl"),
		Forms: []Form{solid("crystals", "NH4Cl")}, Storage: "dry, away from hypochlorite and caustics", Source: "supplier sheet", Evidence: Opened,
		Hazards: []string{"dense irritating fume when heated"},
	}, {
		Name: "ammonium carbonate", CAS: "506-87-6", Groups: []Group{AmmoniumSalt, Carbonate}, Signal: "Warning", HCodes: list("H302, H319"),
		Names: list("baker's ammonia, salt of hartshorn, sal volatile, smelling salts, carbonate of ammonia"),
		Forms: []Form{solid("crystals", "(NH4)2CO3").frees(0.4580)}, Storage: "cool, closed, away from hypochlorite and caustics",
		Hazards: []string{"gives off ammonia at room temperature, much more when warm"},
	}, {
		Name: "ammonium sulfate", CAS: "7783-20-2", Groups: []Group{AmmoniumSalt, AcidSalt},
		Names: list("sulfate of ammonia"),
		Forms: []Form{solid("crystals", "(NH4)2SO4")}, Storage: "dry, away from hypochlorite, chlorates and caustics",
	}, {
		Name: "calcium chloride", CAS: "10043-52-4", Groups: []Group{Neutral}, Signal: "Warning", HCodes: list("H319"),
		Names: list("chloride of calcium, muriate of lime, moisture absorber"),
		Forms: []Form{solid("anhydrous", "CaCl2"), solid("dihydrate", "CaCl2.2H2O", "10035-04-8")}, Storage: "dry, closed: it draws water", Gloves: "nitrile",
		Hazards: []string{"irritates the eyes", "the anhydrous salt heats water strongly: salt into cold water"},
	}, {
		Name: "zinc chloride", CAS: "7646-85-7", Groups: []Group{AcidSalt, HeavyMetal}, Signal: "Danger", HCodes: list("H302, H314, H410"),
		Names: list("chloride of zinc, butter of zinc, muriate of zinc, killed spirits, killed spirits of salt, soldering fluid"),
		Forms: []Form{solid("anhydrous", "ZnCl2")}, Storage: "dry, closed", Gloves: "nitrile or neoprene; " + checkChart,
		Hazards: []string{"burns; its fume is dangerous to the lungs"},
	}, {
		Name: "sodium chloride", CAS: "7647-14-5", Groups: []Group{Neutral},
		Names:   list("salt, table salt, common salt, kitchen salt, cooking salt, rock salt, sea salt, bay salt, nacl, brine"),
		Forms:   []Form{{Name: "crystals", Formula: "NaCl", MassPercent: 100, BulkDensity: 1.2, Source: fromWeights + "; bulk density of fine salt from memory, +/-15 %"}},
		Hazards: []string{"salt with vinegar is an acid cleaner: rinse it off before any sulfide"},
	}, {
		Name: "sodium thiosulfate", CAS: "7772-98-7", Groups: []Group{Thiosulfate},
		Names:   list("hypo, hyposulfite of soda, sodium hyposulfite, hyposulfite, photographic fixer, fixer, antichlor"),
		Forms:   []Form{solid("pentahydrate", "Na2S2O3.5H2O", "10102-17-7").frees(0.2581), solid("anhydrous", "Na2S2O3", "7772-98-7").frees(0.4052)},
		Storage: "dry, away from acids, nitrates and chlorates", Gloves: "any", Source: "not classified, from memory; gas: one mol of sulfur dioxide per mol, computed",
		Hazards: []string{"acid frees sulfur dioxide and clouds it with sulfur; strong hot acid may free hydrogen sulfide"},
	}, {
		ID: "alum", Name: "potassium alum", CAS: "10043-67-1", Groups: []Group{AcidSalt},
		Names: list("alum, potash alum, alum stone"),
		Forms: []Form{solid("dodecahydrate", "KAl(SO4)2.12H2O", "7784-24-9")}, Storage: "dry, closed", Gloves: "any",
		Hazards: []string{"a solution of alum and salt is an acid pickle"},
	}, {
		Name: "zinc sulfate", CAS: "7733-02-0", Groups: []Group{AcidSalt, HeavyMetal}, Signal: "Danger", HCodes: list("H302, H318, H410"),
		Names: list("white vitriol, zinc vitriol, sulfate of zinc, white copperas"),
		Forms: []Form{solid("heptahydrate", "ZnSO4.7H2O", "7446-20-0")}, Storage: "closed, no way to a drain",
		Hazards: []string{"seriously damages eyes", noDrain},
	}, {
		Name: "antimony trichloride", CAS: "10025-91-9", Groups: []Group{AcidSalt, HeavyMetal}, Signal: "Danger", HCodes: list("H314, H411"),
		Names: list("butter of antimony, antimony chloride, chloride of antimony"),
		Forms: []Form{solid("crystals", "SbCl3")}, Storage: "dry, closed, away from sulfides and alkalis", Gloves: "nitrile; " + checkChart,
		Hazards: []string{"burns; fumes hydrochloric acid with water"},
	}}
}
