package reagent

const (
	solventFire   = "catches fire from a flame across the room; the vapour creeps along the bench; no torch, no hot plate"
	solventNitric = "never with nitric acid, permanganate, chlorate, peroxide or bleach, nor in one waste bottle with them"
)

func solvents() []Substance {
	return []Substance{{
		ID: "isopropanol", Name: "isopropanol",
		Names: []string{"isopropyl alcohol", "isopropyl", "rubbing alcohol", "propan-2-ol", "2-propanol", "ipa"},
		CAS:   "67-63-0", Groups: []Group{Solvent, Alcohol, Fuel}, Forms: []Form{solution("99 %", "C3H8O", 60.096, 99, 0.785, "density from memory")},
		Signal: "Danger", HCodes: []string{"H225", "H319", "H336"}, Storage: flammables, Gloves: "butyl; nitrile for a short time; " + checkChart,
		Hazards: []string{solventFire, solventNitric}, Source: annexVI, Evidence: FromMemory,
	}, {
		ID: "acetone", Name: "acetone",
		Names: []string{"propanone", "dimethyl ketone", "nail polish remover", "nail varnish remover"},
		CAS:   "67-64-1", Groups: []Group{Solvent, Ketone, Fuel}, Forms: []Form{solution("99 %", "C3H6O", 58.08, 99, 0.791, "density from memory")},
		Signal: "Danger", HCodes: []string{"H225", "H319", "H336", "EUH066"}, Storage: flammables, Gloves: "butyl only; " + checkChart,
		Hazards: []string{solventFire, solventNitric, "with peroxide and acid: explosive crystals"}, Source: annexVI, Evidence: FromMemory,
	}, {
		ID: "ethanol", Name: "ethanol",
		Names: []string{"alcohol", "ethyl alcohol", "grain alcohol", "denatured alcohol", "industrial alcohol", "methylated spirit", "meths", "burning spirit", "surgical spirit", "rectified spirit", "spirits of wine", "spirit of wine"},
		CAS:   "64-17-5", Groups: []Group{Solvent, Alcohol, Fuel}, Forms: []Form{solution("95 %", "C2H6O", 46.069, 95, 0.80, "density from memory")},
		Signal: "Danger", HCodes: []string{"H225", "H319"}, Storage: flammables, Gloves: "butyl; nitrile for a short time; " + checkChart,
		Hazards: []string{solventFire, solventNitric, "with silver nitrate and nitric acid: explosive fulminate"}, Source: annexVI, Evidence: FromMemory,
	}, {
		ID: "lacquer", Name: "lacquer",
		Names: []string{"lacquer thinner", "clear lacquer", "spray lacquer", "nitrocellulose lacquer", "varnish", "thinner", "cellulose thinner"},
		NoCAS: "a blend", Groups: []Group{Solvent, Fuel},
		Forms:  []Form{{Name: "as sold", Liquid: true, StrengthUnknown: true, Source: "a blend: the label decides"}},
		Signal: "Danger", HCodes: []string{"H225", "H304", "H315", "H319", "H336", "H361d", "H373", "EUH066"},
		Storage: flammables, Gloves: "butyl or laminate; " + checkChart,
		Hazards: []string{solventFire, "a typical blend with toluene is meant here: always take the codes from the SDS of your own"},
		Source:  "typical blend, from memory", Evidence: FromMemory,
	}, {
		ID: "methanol", Name: "methanol",
		Names: []string{"methyl alcohol", "wood alcohol", "wood spirit", "wood naphtha"}, CAS: "67-56-1", Groups: []Group{Solvent, Alcohol, Fuel},
		Forms:  []Form{solution("99 %", "CH4O", 32.042, 99, 0.792, "density from memory")},
		Signal: "Danger", HCodes: []string{"H225", "H301", "H311", "H331", "H370"}, Storage: flammables, Gloves: "butyl; " + checkChart,
		Hazards: []string{solventFire, solventNitric, "poisonous when swallowed, breathed or through the skin; blinds"},
		Source:  annexVI, Evidence: FromMemory,
	}, {
		ID: "white-spirit", Name: "white spirit",
		Names: []string{"paint thinner", "naphtha", "lighter fluid", "petrol", "gasoline", "kerosene", "paraffin oil", "benzine", "mineral spirits", "mineral spirit", "turpentine substitute", "turps substitute", "stoddard solvent", "petroleum spirit"},
		CAS:   "8052-41-3", Groups: []Group{Solvent, Fuel},
		Forms:  []Form{{Name: "as sold", Liquid: true, StrengthUnknown: true, Source: "a petroleum cut: the label decides"}},
		Signal: "Danger", HCodes: []string{"H226", "H304", "H336", "H411", "EUH066"}, Storage: flammables, Gloves: "nitrile; " + checkChart,
		Hazards: []string{"catches fire; may kill when swallowed and drawn into the lungs", "solvent rags go into a closed metal bin", solventNitric},
		Source:  annexVI, Evidence: FromMemory,
	}, {
		ID: "turpentine", Name: "turpentine",
		Names: []string{"wood turpentine", "turps", "oil of turpentine", "spirit of turpentine", "spirits of turpentine", "gum turpentine"},
		CAS:   "8006-64-2", Groups: []Group{Solvent, Fuel},
		Forms:  []Form{{Name: "as sold", Liquid: true, StrengthUnknown: true, Source: "a mixture of terpenes: the label decides"}},
		Signal: "Danger", HCodes: []string{"H226", "H302", "H304", "H312", "H315", "H317", "H319", "H332", "H411"}, Storage: flammables, Gloves: "nitrile; " + checkChart,
		Hazards: []string{"catches fire; rags may heat up by themselves", "may cause allergy of the skin", solventNitric},
		Source:  annexVI, Evidence: FromMemory,
	}}
}

// shopGoods are what a recipe names beside its chemicals.
func shopGoods() []Substance {
	return []Substance{{
		ID: "sulfur", Name: "sulfur",
		Names: []string{"flowers of sulfur", "flour of sulfur", "roll sulfur", "brimstone"},
		CAS:   "7704-34-9", Groups: []Group{ElementalSulfur, Fuel}, Forms: []Form{solid("powder", "S", 32.06, "")},
		Signal: "Warning", HCodes: []string{"H228", "H315"}, Storage: "dry, away from oxidisers and flames", Gloves: "any",
		Hazards: []string{"burns to sulfur dioxide, which chokes", "with chlorate or permanganate it explodes when rubbed"},
		Source:  "supplier sheet (H228, H315, H319)", Evidence: PartlyOpened,
	}, {
		ID: "detergent", Name: "detergent",
		Names: []string{"dish soap", "washing-up liquid", "dishwashing liquid", "soap", "liquid soap"}, NoCAS: "a blend", Groups: []Group{Neutral},
		Forms:   []Form{{Name: "liquid", Liquid: true, StrengthUnknown: true, Source: "a blend: the label decides"}},
		Storage: "as the label says", Gloves: "any",
		Hazards: []string{"look for bleach, acid or citrus on the label before using it near a sulfide"},
		Source:  "typical blend, from memory", Evidence: FromMemory,
	}, {
		ID: "pumice", Name: "pumice powder",
		Names: []string{"pumice", "pumice stone", "ground pumice"}, CAS: "1332-09-8", Groups: []Group{Neutral},
		Forms: []Form{{Name: "powder", Source: "a rock: no formula"}}, Storage: "dry", Gloves: "any",
		Hazards: []string{"use it wet: the dry dust harms the lungs"}, Source: "from memory", Evidence: FromMemory,
	}, {
		ID: "carnauba-wax", Name: "carnauba wax",
		Names: []string{"carnauba", "palm wax", "brazil wax"}, CAS: "8015-86-9", Groups: []Group{Fuel},
		Forms: []Form{{Name: "flake", Source: "a mixture of esters: no formula"}}, Storage: "cool", Gloves: "against heat where it is melted",
		Hazards: []string{"melted wax burns skin and catches fire"}, Source: "not classified, from memory", Evidence: FromMemory,
	}, {
		ID: "microcrystalline-wax", Name: "microcrystalline wax",
		Names: []string{"conservation wax", "paste wax", "museum wax"}, CAS: "63231-60-7", Groups: []Group{Fuel},
		Forms:  []Form{{Name: "paste", Source: "wax in a solvent: the label decides"}, {Name: "solid", Source: "a mixture: no formula"}},
		Signal: "Warning", HCodes: []string{"H226", "H304", "H336", "EUH066"}, Storage: "cool, away from flames", Gloves: "nitrile for paste",
		Hazards: []string{"the codes are those of paste with white spirit; the solid has none", "solvent rags go into a closed metal bin"},
		Source:  "typical paste, from memory", Evidence: FromMemory,
	}, {
		ID: "linseed-oil", Name: "linseed oil",
		Names: []string{"boiled linseed oil", "raw linseed oil", "flaxseed oil", "drying oil"}, CAS: "8001-26-1", Groups: []Group{Fuel},
		Forms:   []Form{{Name: "raw", Liquid: true, StrengthUnknown: true, Source: "an oil: no formula"}},
		Storage: "closed, away from oxidisers", Gloves: "any",
		Hazards: []string{"oily rags catch fire by themselves: spread them flat outdoors or soak them in water"},
		Source:  "not classified, from memory", Evidence: FromMemory,
	}, {
		ID: "beeswax", Name: "beeswax",
		Names: []string{"bees wax", "yellow wax", "white wax"}, CAS: "8012-89-3", Groups: []Group{Fuel},
		Forms: []Form{{Name: "block", Source: "a mixture of esters: no formula"}}, Storage: "cool", Gloves: "against heat where it is melted",
		Hazards: []string{"melted wax burns skin and catches fire"}, Source: "not classified, from memory", Evidence: FromMemory,
	}, {
		ID: "glycerol", Name: "glycerol",
		Names: []string{"glycerine", "glycerin"}, CAS: "56-81-5", Groups: []Group{Fuel, Alcohol},
		Forms:   []Form{solution("99 %", "C3H8O3", 92.094, 99, 1.26, "density from memory")},
		Storage: "closed, away from permanganate and other oxidisers", Gloves: "any",
		Hazards: []string{"permanganate sets it on fire; nitric acid makes an explosive of it"},
		Source:  "not classified, from memory", Evidence: FromMemory,
	}, {
		ID: "gypsum", Name: "gypsum",
		Names: []string{"plaster", "plaster of paris", "calcium sulfate", "burnt plaster", "dental plaster", "alabaster powder"},
		CAS:   "7778-18-9", Groups: []Group{Neutral}, Forms: []Form{solid("anhydrous", "CaSO4", 136.134, "")},
		Storage: "dry", Gloves: "any", Hazards: []string{"warms up as it sets: no cast around a hand", "in waste without air it may turn to sulfide and smell"},
		Source: "not classified, from memory", Evidence: FromMemory,
	}, {
		ID: "shellac", Name: "shellac",
		Names: []string{"french polish", "shellac varnish", "spirit varnish", "button polish"},
		NoCAS: "a resin in alcohol", Groups: []Group{Solvent, Alcohol, Fuel},
		Forms:  []Form{{Name: "as sold", Liquid: true, StrengthUnknown: true, Source: "a resin in alcohol: the label decides"}},
		Signal: "Danger", HCodes: []string{"H225", "H319"}, Storage: flammables, Gloves: "nitrile for a short time; " + checkChart,
		Hazards: []string{solventFire, solventNitric}, Source: "typical solution, from memory", Evidence: FromMemory,
	}, {
		ID: "tung-oil", Name: "tung oil",
		Names: []string{"china wood oil", "danish oil", "teak oil", "walnut oil", "poppy oil"}, CAS: "8001-20-5", Groups: []Group{Fuel},
		Forms:   []Form{{Name: "as sold", Liquid: true, StrengthUnknown: true, Source: "an oil: no formula"}},
		Storage: "closed, away from oxidisers", Gloves: "any",
		Hazards: []string{"oily rags catch fire by themselves: spread them flat outdoors or soak them in water"},
		Source:  "not classified, from memory", Evidence: FromMemory,
	}}
}
