package reagent

// shopGoods are the solvents, and what a recipe names beside its chemicals.
func shopGoods() []Substance {
	return []Substance{{
		Name: "isopropanol", CAS: "67-63-0", Groups: []Group{Solvent, Alcohol}, Signal: "Danger", HCodes: list("H225, H319, H336"),
		Names: list("isopropyl alcohol, isopropyl, rubbing alcohol, propan-2-ol, 2-propanol, ipa"),
		Forms: []Form{solution("99 %", "C3H8O", 99, 0.785, "density from memory")}, Gloves: "butyl; nitrile for a short time; " + checkChart,
		Hazards: []string{solventFire},
	}, {
		Name: "acetone", CAS: "67-64-1", Groups: []Group{Ketone}, Signal: "Danger", HCodes: list("H225, H319, H336, EUH066"),
		Names: list("propanone, dimethyl ketone, nail polish remover, nail varnish remover"),
		Forms: []Form{solution("99 %", "C3H6O", 99, 0.791, "density from memory")}, Gloves: "butyl only; " + checkChart,
		Hazards: []string{solventFire, "with peroxide and acid: explosive crystals"},
	}, {
		Name: "ethanol", CAS: "64-17-5", Groups: []Group{Solvent, Alcohol}, Signal: "Danger", HCodes: list("H225, H319"),
		Names: list("alcohol, ethyl alcohol, grain alcohol, denatured alcohol, industrial alcohol, methylated spirit, meths, burning spirit, surgical spirit, rectified spirit, spirits of wine, spirit of wine"),
		Forms: []Form{solution("95 %", "C2H6O", 95, 0.80, "density from memory")}, Gloves: "butyl; nitrile for a short time; " + checkChart,
		Hazards: []string{solventFire, "with silver nitrate and nitric acid: explosive fulminate"},
	}, {
		Name: "lacquer", NoCAS: aBlend, Groups: []Group{Solvent}, Signal: "Danger", HCodes: list("H225, H304, H315, H319, H336, H361d, H373, EUH066"),
		Names:   list("lacquer thinner, clear lacquer, spray lacquer, nitrocellulose lacquer, varnish, thinner, cellulose thinner"),
		Gloves:  "butyl or laminate; " + checkChart,
		Hazards: []string{solventFire, "a typical blend with toluene is meant here: always take the codes from the SDS of your own"},
	}, {
		Name: "methanol", CAS: "67-56-1", Groups: []Group{Solvent, Alcohol}, Signal: "Danger", HCodes: list("H225, H301, H311, H331, H370"),
		Names: list("methyl alcohol, wood alcohol, wood spirit, wood naphtha"),
		Forms: []Form{solution("99 %", "CH4O", 99, 0.792, "density from memory")}, Gloves: "butyl; " + checkChart,
		Hazards: []string{solventFire, "poisonous when swallowed, breathed or through the skin; blinds"},
	}, {
		Name: "white spirit", CAS: "8052-41-3", Groups: []Group{Solvent}, Signal: "Danger", HCodes: list("H226, H304, H336, H411, EUH066"),
		Names: list("paint thinner, naphtha, lighter fluid, petrol, gasoline, kerosene, paraffin oil, benzine, mineral spirits, mineral spirit, turpentine substitute, turps substitute, stoddard solvent, petroleum spirit"),
		Forms: []Form{unknownStrength("as sold", 0, "a petroleum cut: the label decides")}, Gloves: "nitrile; " + checkChart,
		Hazards: []string{"catches fire; may kill when swallowed and drawn into the lungs", "solvent rags go into a closed metal bin"},
	}, {
		Name: "turpentine", CAS: "8006-64-2", Groups: []Group{Solvent}, Signal: "Danger", HCodes: list("H226, H302, H304, H312, H315, H317, H319, H332, H411"),
		Names: list("wood turpentine, turps, oil of turpentine, spirit of turpentine, spirits of turpentine, gum turpentine"),
		Forms: []Form{unknownStrength("as sold", 0, "a mixture of terpenes: the label decides")}, Gloves: "nitrile; " + checkChart,
		Hazards: []string{"catches fire; rags may heat up by themselves", "may cause allergy of the skin"},
	}, {
		Name: "sulfur", CAS: "7704-34-9", Groups: []Group{ElementalSulfur, Fuel}, Signal: "Warning", HCodes: list("H228, H315"),
		Names: list("flowers of sulfur, flour of sulfur, roll sulfur, brimstone"),
		Forms: []Form{solid("powder", "S")}, Storage: "dry, away from oxidisers and flames", Source: "supplier sheet (H228, H315, H319)", Evidence: PartlyOpened,
		Hazards: []string{"burns to sulfur dioxide, which chokes", "with chlorate or permanganate it explodes when rubbed"},
	}, {
		Name: "detergent", NoCAS: aBlend, Groups: []Group{Neutral},
		Names: list("dish soap, washing-up liquid, dishwashing liquid, soap, liquid soap"),
		Forms: []Form{unknownStrength("liquid", 0, "a blend: the label decides")}, Storage: "as the label says",
		Hazards: []string{"look for bleach, acid or citrus on the label before using it near a sulfide"},
	}, {
		ID: "pumice", Name: "pumice powder", CAS: "1332-09-8", Groups: []Group{Neutral},
		Names: list("pumice, pumice stone, ground pumice"),
		Forms: []Form{{Name: "powder", Source: "a rock: no formula"}}, Source: "from memory",
		Hazards: []string{"use it wet: the dry dust harms the lungs"},
	}, {
		Name: "carnauba wax", CAS: "8015-86-9", Groups: []Group{Fuel},
		Names: list("carnauba, palm wax, brazil wax"),
		Forms: []Form{{Name: "flake", Source: "a mixture of esters: no formula"}}, Storage: "cool", Gloves: "against heat where it is melted",
		Hazards: []string{"melted wax burns skin and catches fire"},
	}, {
		Name: "microcrystalline wax", CAS: "63231-60-7", Groups: []Group{Fuel}, Signal: "Warning", HCodes: list("H226, H304, H336, EUH066"),
		Names: list("conservation wax, paste wax, museum wax"),
		Forms: []Form{{Name: "paste", Source: "wax in a solvent: the label decides"}, {Name: "solid", Source: "a mixture: no formula"}}, Storage: "cool, away from flames",
		Gloves: "nitrile for paste", Source: "typical paste, from memory",
		Hazards: []string{"the codes are those of paste with white spirit; the solid has none", "solvent rags go into a closed metal bin"},
	}, {
		Name: "linseed oil", CAS: "8001-26-1", Groups: []Group{Fuel},
		Names: list("boiled linseed oil, raw linseed oil, flaxseed oil, drying oil"),
		Forms: []Form{unknownStrength("raw", 0, "an oil: no formula")}, Storage: "closed, away from oxidisers",
		Hazards: []string{"oily rags catch fire by themselves: spread them flat outdoors or soak them in water"},
	}, {
		Name: "beeswax", CAS: "8012-89-3", Groups: []Group{Fuel},
		Names: list("bees wax, yellow wax, white wax"),
		Forms: []Form{{Name: "block", Source: "a mixture of esters: no formula"}}, Storage: "cool", Gloves: "against heat where it is melted",
		Hazards: []string{"melted wax burns skin and catches fire"},
	}, {
		Name: "glycerol", CAS: "56-81-5", Groups: []Group{Fuel, Alcohol},
		Names: list("glycerine, glycerin"),
		Forms: []Form{solution("99 %", "C3H8O3", 99, 1.26, "density from memory")}, Storage: "closed, away from permanganate and other oxidisers",
		Hazards: []string{"permanganate sets it on fire; nitric acid makes an explosive of it"},
	}, {
		Name: "gypsum", CAS: "7778-18-9", Groups: []Group{Neutral},
		Names:   list("plaster, plaster of paris, calcium sulfate, burnt plaster, dental plaster, alabaster powder"),
		Forms:   []Form{solid("anhydrous", "CaSO4")},
		Hazards: []string{"warms up as it sets: no cast around a hand", "in waste without air it may turn to sulfide and smell"},
	}, {
		Name: "shellac", NoCAS: "a resin in alcohol", Groups: []Group{Solvent, Alcohol}, Signal: "Danger", HCodes: list("H225, H319"),
		Names: list("french polish, shellac varnish, spirit varnish, button polish"),
		Forms: []Form{unknownStrength("as sold", 0, "a resin in alcohol: the label decides")}, Gloves: "nitrile for a short time; " + checkChart,
		Source:  "typical solution, from memory",
		Hazards: []string{solventFire},
	}, {
		Name: "tung oil", CAS: "8001-20-5", Groups: []Group{Fuel},
		Names: list("china wood oil, danish oil, teak oil, walnut oil, poppy oil"),
		Forms: []Form{unknownStrength("as sold", 0, "an oil: no formula")}, Storage: "closed, away from oxidisers",
		Hazards: []string{"oily rags catch fire by themselves: spread them flat outdoors or soak them in water"},
	}}
}
