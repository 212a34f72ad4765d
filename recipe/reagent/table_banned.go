package reagent

// banned are in the table so that a recipe or an old jar that names them is
// recognised, refused and explained.
func banned() []Substance {
	cyanide := list("H290, H300, H310, H330, H372, H410, EUH032")
	dichromate := list("H272, H301, H312, H314, H317, H330, H334, H335, H340, H350, H360FD, H372, H410")
	all := []Substance{{
		Name: "mercury chloride", CAS: "7487-94-7", Banned: whyMercury, Groups: []Group{HeavyMetal}, HCodes: list("H300, H314, H341, H361f, H372, H410"),
		Names: list("corrosive sublimate, mercuric chloride, bichloride of mercury, perchloride of mercury"), Forms: []Form{solid("crystals", "HgCl2")},
	}, {
		Name: "mercury nitrate", CAS: "10045-94-0", Banned: whyMercury, Groups: []Group{AcidSalt, Nitrate, HeavyMetal}, HCodes: list("H300, H310, H330, H373, H410"),
		Names: list("mercuric nitrate, nitrate of mercury, quicking solution, quick water"), Forms: []Form{solid("anhydrous", "Hg(NO3)2")},
	}, {
		Name: "arsenic trioxide", CAS: "1327-53-3", Banned: whyArsenic, Groups: []Group{HeavyMetal}, HCodes: list("H300, H314, H350, H410"),
		Names: list("white arsenic, arsenious acid, arsenious oxide, arsenic"), Forms: []Form{solid("powder", "As2O3")},
	}, {
		Name: "potassium cyanide", CAS: "151-50-8", Banned: whyCyanide, Groups: []Group{Cyanide}, HCodes: cyanide,
		Names: list("cyanide, cyanide of potash, cyanide of potassium, kcn"), Forms: []Form{solid("crystals", "KCN").frees(0.4150)},
	}, {
		Name: "sodium cyanide", CAS: "143-33-9", Banned: whyCyanide, Groups: []Group{Cyanide}, HCodes: cyanide,
		Names: list("cyanide of sodium, nacn"), Forms: []Form{solid("crystals", "NaCN").frees(0.5515)},
	}, {
		Name: "potassium dichromate", CAS: "7778-50-9", Banned: whyChromate, Groups: []Group{Oxidizer, HeavyMetal}, HCodes: dichromate,
		Names: list("bichromate of potash, potassium bichromate"), Forms: []Form{solid("crystals", "K2Cr2O7")},
	}, {
		Name: "sodium dichromate", CAS: "10588-01-9", Banned: whyChromate, Groups: []Group{Oxidizer, HeavyMetal}, HCodes: dichromate,
		Names: list("sodium bichromate"), Forms: []Form{solid("dihydrate", "Na2Cr2O7.2H2O", "7789-12-0")},
	}, {
		Name: "lead acetate", CAS: "301-04-2", Banned: whyLead, Groups: []Group{HeavyMetal}, HCodes: list("H360Df, H373, H410"),
		Names: list("sugar of lead, acetate of lead"), Forms: []Form{solid("trihydrate", "Pb(C2H3O2)2.3H2O", "6080-56-4")},
	}, {
		Name: "hydrofluoric acid", CAS: "7664-39-3", Banned: whyFluoride, Groups: []Group{Acid, Fluoride}, HCodes: list("H300, H310, H314, H330"),
		Names: list("hydrogen fluoride, glass etching acid"), Forms: []Form{solution("48 %", "HF", 48, 1.15, "density from memory")},
	}, {
		Name: "ammonium bifluoride", CAS: "1341-49-7", Banned: whyFluoride, Groups: []Group{Acid, Fluoride, AmmoniumSalt}, HCodes: list("H301, H314"),
		Names: list("ammonium hydrogen difluoride, glass etching cream"), Forms: []Form{solid("crystals", "NH4HF2")},
	}}
	for i, s := range all {
		all[i].Signal, all[i].Hazards = "Danger", []string{s.Banned}
		all[i].Storage, all[i].Gloves = "not to be stocked: hand an old jar to a licensed collector, unopened", "not to be handled"
	}
	return all
}
