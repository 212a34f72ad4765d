package reagent

// banned are in the table so that a recipe or an old jar that names them is
// recognised, refused and explained.
func banned() []Substance {
	never := func(id, name, cas string, why string, groups []Group, forms []Form, codes []string, names ...string) Substance {
		return Substance{
			ID: id, Name: name, CAS: cas, Names: names, Groups: groups, Forms: forms,
			Signal: "Danger", HCodes: codes, Banned: why,
			Storage: "not to be stocked: hand an old jar to a licensed collector, unopened",
			Gloves:  "not to be handled",
			Hazards: []string{why},
			Source:  annexVI, Evidence: FromMemory,
		}
	}
	cyanide := func(id, name, cas string, form Form, names ...string) Substance {
		s := never(id, name, cas, whyCyanide, []Group{Cyanide}, []Form{form},
			[]string{"H290", "H300", "H310", "H330", "H372", "H410", "EUH032"}, names...)
		s.GasWithAcid = "hydrogen cyanide"
		return s
	}
	acidFluoride := []Group{Acid, Fluoride}
	return []Substance{
		never("mercury-chloride", "mercury chloride", "7487-94-7", whyMercury, []Group{HeavyMetal},
			[]Form{solid("crystals", "HgCl2", 271.492, "")},
			[]string{"H300", "H314", "H341", "H361f", "H372", "H410"}, "corrosive sublimate", "mercuric chloride", "bichloride of mercury", "perchloride of mercury"),
		never("mercury-nitrate", "mercury nitrate", "10045-94-0", whyMercury, []Group{AcidSalt, Oxidizer, Nitrate, HeavyMetal},
			[]Form{solid("anhydrous", "Hg(NO3)2", 324.6, "")},
			[]string{"H300", "H310", "H330", "H373", "H410"}, "mercuric nitrate", "nitrate of mercury", "quicking solution", "quick water"),
		never("arsenic-trioxide", "arsenic trioxide", "1327-53-3", whyArsenic, []Group{HeavyMetal},
			[]Form{solid("powder", "As2O3", 197.8402, "")},
			[]string{"H300", "H314", "H350", "H410"}, "white arsenic", "arsenious acid", "arsenious oxide", "arsenic"),
		cyanide("potassium-cyanide", "potassium cyanide", "151-50-8", solid("crystals", "KCN", 65.1163, "").frees(0.4150, 0.4150),
			"cyanide", "cyanide of potash", "cyanide of potassium", "kcn"),
		cyanide("sodium-cyanide", "sodium cyanide", "143-33-9", solid("crystals", "NaCN", 49.0078, "").frees(0.5515, 0.5515),
			"cyanide of sodium", "nacn"),
		never("potassium-dichromate", "potassium dichromate", "7778-50-9", whyChromate, []Group{Oxidizer, HeavyMetal},
			[]Form{solid("crystals", "K2Cr2O7", 294.1818, "")},
			[]string{"H272", "H301", "H312", "H314", "H317", "H330", "H334", "H335", "H340", "H350", "H360FD", "H372", "H410"},
			"bichromate of potash", "potassium bichromate"),
		never("sodium-dichromate", "sodium dichromate", "10588-01-9", whyChromate, []Group{Oxidizer, HeavyMetal},
			[]Form{solid("dihydrate", "Na2Cr2O7.2H2O", 297.9947, "7789-12-0")},
			[]string{"H272", "H301", "H312", "H314", "H317", "H330", "H334", "H335", "H340", "H350", "H360FD", "H372", "H410"},
			"sodium bichromate"),
		never("lead-acetate", "lead acetate", "301-04-2", whyLead, []Group{HeavyMetal},
			[]Form{solid("trihydrate", "Pb(C2H3O2)2.3H2O", 379.333, "6080-56-4")},
			[]string{"H360Df", "H373", "H410"}, "sugar of lead", "acetate of lead"),
		never("hydrofluoric-acid", "hydrofluoric acid", "7664-39-3", whyFluoride, acidFluoride,
			[]Form{solution("48 %", "HF", 20.0064, 48, 1.15, "density from memory")},
			[]string{"H300", "H310", "H314", "H330"}, "hydrogen fluoride", "glass etching acid"),
		never("ammonium-bifluoride", "ammonium bifluoride", "1341-49-7", whyFluoride, []Group{Acid, Fluoride, AmmoniumSalt},
			[]Form{solid("crystals", "NH4HF2", 57.0438, "")},
			[]string{"H301", "H314"}, "ammonium hydrogen difluoride", "glass etching cream"),
	}
}
