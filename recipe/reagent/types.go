package reagent

import "hepar/recipe/measure"

// Group is a family of substances that behave alike when they meet another family.
type Group string

// The groups. The list of pairs that must never meet is in [Incompatible].
const (
	Sulfide       Group = "sulfide"        // sulfides and polysulfides: any acid frees hydrogen sulfide
	Acid          Group = "acid"           // acids, and salts used as acids
	OxidizingAcid Group = "oxidizing acid" // nitric acid
	AcidSalt      Group = "acid salt"      // metal and ammonium salts whose solutions are acid
	Oxidizer      Group = "oxidizer"       // chlorates, permanganates, peroxides, nitrates
	Hypochlorite  Group = "hypochlorite"   // bleach
	Ammonia       Group = "ammonia"        // ammonia solutions
	AmmoniumSalt  Group = "ammonium salt"
	Caustic       Group = "caustic" // hydroxides
	Alkali        Group = "alkali"  // carbonates and the like, mildly alkaline
	CopperSalt    Group = "copper salt"
	SilverSalt    Group = "silver salt"
	Solvent       Group = "solvent"
	Thiosulfate   Group = "thiosulfate"
	Neutral       Group = "neutral" // water, salt, wax
)

// Form is a state in which a substance is sold and weighed: a hydrate, lumps, a
// ready-made solution.
type Form struct {
	Name            string              // "anhydrous", "pentahydrate", "lump", "28 % solution"
	Formula         string              // with the water of crystallisation; empty for a mixture
	MolarMass       float64             // g/mol; 0 for a mixture
	Liquid          bool                // measured by volume
	MassPercent     float64             // g of the active substance per 100 g; 0 where not known
	Density         measure.GramsPerCM3 // of a liquid; 0 where not known
	BulkDensity     measure.GramsPerCM3 // of a powder as poured; 0 where not known, and then spoons are refused
	StrengthUnknown bool                // a stock whose strength must be asked for, never guessed (gels, ready-made liquids)
	Source          string              // where the figures come from
}

// Substance is one thing that a recipe may name.
type Substance struct {
	ID              string // "liver-of-sulfur"
	Name            string // "liver of sulfur"
	Synonyms        []string
	CAS             string
	Groups          []Group
	Forms           []Form   // the first is the default
	Signal          string   // GHS signal word, a family default
	HCodes          []string // GHS hazard codes, family defaults: the SDS decides
	GasWithAcid     string   // gas freed by acid, for instance "hydrogen sulfide"
	GasGramsPerGram float64  // g of that gas per g of substance, upper figure; 0 where not known
	Storage         string
	Gloves          string
	Hazards         []string // lines in plain words
	Banned          string   // not empty: no recipe may use it, and why
	Source          string
	Evidence        string // "opened", "opened (secondary)", "partly opened", "from memory", "computed"
}
