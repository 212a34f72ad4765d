package reagent

import (
	"cmp"
	"slices"
)

// Group is a family of substances that react alike. A substance may be in several.
type Group string

// The groups. Which of them must not meet stands in [Pairs].
const (
	Sulfide         Group = "sulfide"           // sulfides and polysulfides: any acid frees hydrogen sulfide
	Acid            Group = "acid"              // acids, and salts used as acids
	OxidizingAcid   Group = "oxidizing acid"    // nitric acid
	OrganicAcid     Group = "organic acid"      // acids that nitric acid oxidizes
	Hydrochloric    Group = "hydrochloric acid" // oxidizers free chlorine from it
	Sulfuric        Group = "sulfuric acid"     // strong, takes up water
	AcidSalt        Group = "acid salt"         // metal and ammonium salts whose solutions are acid
	Oxidizer        Group = "oxidizer"          // chlorates, permanganates, peroxides, nitrates
	StrongOxidizer  Group = "strong oxidizer"   // chlorates and permanganates
	Chlorate        Group = "chlorate"
	Permanganate    Group = "permanganate"
	Peroxide        Group = "peroxide"
	Nitrate         Group = "nitrate"      // nitrates of metals: brown fume when heated
	Hypochlorite    Group = "hypochlorite" // bleach
	Ammonia         Group = "ammonia"      // ammonia solutions
	AmmoniumSalt    Group = "ammonium salt"
	Caustic         Group = "caustic"     // hydroxides
	Alkali          Group = "alkali"      // carbonates and the like, mildly alkaline
	Carbonate       Group = "carbonate"   // foams with acid
	Bicarbonate     Group = "bicarbonate" // holds water near pH 8.3
	CopperSalt      Group = "copper salt"
	MetalSalt       Group = "metal salt"  // of copper, iron or silver: breaks peroxide up
	HeavyMetal      Group = "heavy metal" // compounds of metals that poison people and water: no dust, no drain
	SilverSalt      Group = "silver salt"
	Solvent         Group = "solvent"
	Alcohol         Group = "alcohol"
	Ketone          Group = "ketone" // acetone
	Fuel            Group = "fuel"   // burns with an oxidizer: solvents, waxes, oils, sulfur
	ElementalSulfur Group = "sulfur"
	Thiosulfate     Group = "thiosulfate"
	Cyanide         Group = "cyanide"           // banned; named so that an old jar on the shelf is still known
	Fluoride        Group = "fluoride"          // banned, likewise
	Metal           Group = "metal"             // the pieces themselves: no substance is in it
	LightMetal      Group = "aluminium or zinc" // of vessels and tools: no substance is in it
	Neutral         Group = "neutral"           // in no pair: salt, soap, pumice
)

// Plural names the members of the group as a person at the bench would.
func (g Group) Plural() string { return cmp.Or(plurals[g], string(g)+"s") }

var plurals = map[Group]string{
	OxidizingAcid: "nitric acid", AcidSalt: "iron, copper and zinc salts", Hypochlorite: "bleach", Oxidizer: "oxidisers",
	StrongOxidizer: "chlorates and permanganates", Fuel: "anything that burns", Ketone: "acetone", Hydrochloric: "hydrochloric acid",
	Sulfuric: "sulfuric acid", Ammonia: "ammonia", ElementalSulfur: "sulfur", Bicarbonate: "bicarbonate",
}

// In tells whether the substance belongs to the group.
func (s Substance) In(g Group) bool { return slices.Contains(s.Groups, g) }

// implied says which groups a member of a group is in as well.
var implied = map[Group][]Group{
	OxidizingAcid: {Acid}, OrganicAcid: {Acid}, Hydrochloric: {Acid}, Sulfuric: {Acid},
	StrongOxidizer: {Oxidizer}, Chlorate: {Oxidizer, StrongOxidizer}, Permanganate: {Oxidizer, StrongOxidizer}, Peroxide: {Oxidizer}, Nitrate: {Oxidizer},
	Bicarbonate: {Carbonate, Alkali}, Solvent: {Fuel}, Ketone: {Solvent, Fuel}, SilverSalt: {MetalSalt, HeavyMetal}, CopperSalt: {MetalSalt, HeavyMetal},
}

func withImplied(groups []Group) []Group {
	var all []Group
	for _, g := range groups {
		for _, g := range append([]Group{g}, implied[g]...) {
			if !slices.Contains(all, g) {
				all = append(all, g)
			}
		}
	}
	return all
}

func names(groups []Group) (list []string) {
	for _, g := range groups {
		list = append(list, string(g))
	}
	return list
}
