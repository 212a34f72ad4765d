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
	Cyanide       Group = "cyanide"  // banned; named so that an old jar on the shelf is still known
	Fluoride      Group = "fluoride" // banned, likewise
	Metal         Group = "metal"    // the pieces themselves: no substance is in it, see [Between]
	Neutral       Group = "neutral"  // water, salt, wax
)

// Form is a state in which a substance is sold and weighed: a hydrate, lumps, a
// ready-made solution.
type Form struct {
	Name            string              // "anhydrous", "pentahydrate", "lump", "28 % solution"
	Formula         string              // with the water of crystallisation; of the solute for a solution; empty for a mixture
	MolarMass       float64             // g/mol of Formula; 0 for a mixture
	CAS             string              // of this hydrate where it has a number of its own
	Liquid          bool                // measured by volume
	MassPercent     float64             // g of Formula per 100 g of what is in the jar: 100 for a pure solid; 0 where not known
	Density         measure.GramsPerCM3 // of a liquid; 0 where not known
	BulkDensity     measure.GramsPerCM3 // of a powder as poured; 0 where not known, and then spoons are refused
	StrengthUnknown bool                // a stock whose strength must be asked for, never guessed (gels, ready-made liquids)
	GasUpper        float64             // g of the gas that acid frees, per g of this form, at most; 0 where not known
	GasExpected     float64             // the same, as expected of the common product; 0 where not known
	Source          string              // where the figures come from
}

// The tags of Evidence: how well the hazards of a substance were seen. Anything
// but Opened is to be shown as not verified.
const (
	Opened          = "opened"             // the text with the fact was read
	OpenedSecondary = "opened (secondary)" // read as a quotation in another work
	PartlyOpened    = "partly opened"      // some facts read, the others from memory
	FromMemory      = "from memory"        // not read: verify
	Computed        = "computed"           // worked out here from stated figures
)

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

	// AcidEquivalents is how many mol of bicarbonate a mol of the acid takes,
	// BaseEquivalents how many mol of a one-basic acid a mol of the base takes.
	// Both are 0 where the substance is not used that way.
	AcidEquivalents, BaseEquivalents int

	Source   string
	Evidence string // one of the Evidence constants
}
