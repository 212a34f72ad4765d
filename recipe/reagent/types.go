package reagent

import (
	"strings"

	"hepar/recipe/measure"
)

// Form is a state in which a substance is sold and weighed: a hydrate, lumps, a
// ready-made solution.
type Form struct {
	Name            string              // "anhydrous", "pentahydrate", "lump", "28 % solution"
	Formula         string              // with the water of crystallisation; of the solute for a solution; empty for a mixture
	CAS             string              // of this hydrate where it has a number of its own
	Liquid          bool                // measured by volume
	MassPercent     float64             // g of Formula per 100 g of what is in the jar: 100 for a pure solid; 0 where not known
	Density         measure.GramsPerCM3 // of a liquid; 0 where not known
	BulkDensity     measure.GramsPerCM3 // of a powder as poured; 0 where not known, and then spoons are refused
	StrengthUnknown bool                // the strength must be asked for, never guessed (gels, ready-made liquids)
	GasUpper        float64             // g of the gas that acid frees, per g of this form, at most; 0 where not known
	GasExpected     float64             // the same, as expected of the common product; 0 where not known
	Source          string              // where the figures come from

	// Rated says that this form has a signal word and codes of its own, in place of those
	// of the substance: vinegar is no glacial acid. Both may be empty.
	Rated  bool
	Signal string
	HCodes string // "H315 H319"
}

// The tags of Evidence: how well a fact was checked. Show anything but Opened as
// not verified.
const (
	Opened       = "opened"        // the text with the fact was read
	PartlyOpened = "partly opened" // some facts read, the others from memory
	FromMemory   = "from memory"   // not read: verify
)

// Substance is one thing that a recipe may name. All that the program knows of it
// stands in one literal of the table, which leaves out what follows: the id from the
// name, groups from groups, gas, storage and gloves from a group, a source from memory.
type Substance struct {
	ID              string   // "liver-of-sulfur"
	Name            string   // "liver of sulfur", as it is printed
	Names           []string // what else it is called: in the trade, in old books, in the kitchen; lower case
	CAS             string
	NoCAS           string // why there is no CAS number, where there is none
	Groups          []Group
	Forms           []Form   // the first is the default
	Signal          string   // GHS signal word, a family default; a form may have its own, see Rating
	HCodes          []string // GHS hazard codes, family defaults: the SDS decides
	GasWithAcid     string   // gas freed by acid, for instance "hydrogen sulfide"
	GasGramsPerGram float64  // g of that gas per g of substance, the most of its forms; 0 where not known
	FlushMinutes    int      // of water on eyes and skin, where a source asks for more than 15
	Storage         string
	Gloves          string
	Hazards         []string // lines in plain words
	Banned          string   // not empty: no recipe may use it, and why
	// AcidEquivalents is how many mol of bicarbonate a mol of the acid takes,
	// BaseEquivalents how many mol of a one-basic acid a mol of the base takes.
	// Both are 0 where the substance is not used that way.
	AcidEquivalents, BaseEquivalents int
	Source                           string
	Evidence                         string // one of the Evidence constants
}

// Rating returns the signal word and the hazard codes of a form, by its name: its own, or
// those of the substance.
func (s Substance) Rating(form string) (signal string, codes []string) {
	if f, err := s.Form(form); err == nil && f.Rated {
		return f.Signal, strings.Fields(f.HCodes)
	}
	return s.Signal, s.HCodes
}
