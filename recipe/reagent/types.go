package reagent

import (
	"strings"

	"hepar/recipe/measure"
)

// Form is a state in which a substance is sold and weighed: a hydrate, lumps, a solution.
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
	Good            string              // how to tell that what is in the jar is good; empty where nothing is said
	Source          string              // where the figures come from

	Mild bool // without the signal word and the codes of the substance: vinegar is no glacial acid
}

// The tags of Evidence: how well a fact was checked. Show all but Opened as not verified.
const (
	Opened       = "opened"        // the text with the fact was read
	PartlyOpened = "partly opened" // some facts read, the others from memory
	FromMemory   = "from memory"   // not read: verify
)

// Substance is one thing that a recipe may name, one literal of the table. The literal leaves
// out what follows: the id from the name, groups from groups, gas, storage and gloves from a
// group, a source from memory.
type Substance struct {
	ID              string   // "liver-of-sulfur"
	Name            string   // "liver of sulfur", as it is printed
	Names           []string // what else it is called: in the trade, in old books, in the kitchen; lower case
	CAS             string
	NoCAS           string // why there is no CAS number, where there is none
	Groups          []Group
	Forms           []Form   // the first is the default
	Signal          string   // GHS signal word, a family default, see Rating
	HCodes          []string // GHS hazard codes, family defaults: the SDS decides
	GasWithAcid     string   // gas freed by acid, for instance "hydrogen sulfide"
	GasGramsPerGram float64  // g of that gas per g of substance, the most of its forms; 0 where not known
	Storage         string
	Gloves          string
	Hazards         []string // lines in plain words
	Banned          string   // not empty: no recipe may use it, and why
	// Mol of bicarbonate that a mol of the acid takes, and mol of a one-basic acid that a mol
	// of the base takes; 0 where the substance is not used that way.
	AcidEquivalents, BaseEquivalents int
	Source                           string
	Evidence                         string // one of the Evidence constants
}

// Rating returns the signal word and the hazard codes of a form: those of the substance, or
// none.
func (s Substance) Rating(form string) (signal string, codes []string) {
	if f, err := s.Form(form); err == nil && f.Mild {
		return "", nil
	}
	return s.Signal, s.HCodes
}

// Words that stand beside many substances.
const (
	commercial  = "OpenStax Chemistry 2e, Appendix F (commercial acids and bases)"
	fromWeights = "molar mass from IUPAC 2021 atomic weights"
	annexVI     = "CLP Annex VI or registrant classification, from memory"
	checkChart  = "check the glove maker's chart"

	aBlend          = "a blend"
	hydrogenSulfide = "hydrogen sulfide"
	carbonDioxide   = "carbon dioxide"

	rubber       = "neoprene or butyl, thick nitrile against splashes only; " + checkChart
	awayFromAcid = "tightly closed, dry, ventilated; no acid or oxidiser in the same cabinet or tray; not above a drain"
	acidShelf    = "acid cabinet or tray, away from sulfides, hypochlorite, ammonia and metals"
	awayFromFuel = "away from paper, cloth, solvents, metal dust, sulfur and sulfides"
	flammables   = "flammables cabinet, away from flames, nitric acid and oxidisers"
)

func list(text string) []string { return strings.Split(text, ", ") }

// solid is a form of definite formula, sold as good as pure; cas is a number of its own.
func solid(name, formula string, cas ...string) Form {
	return Form{Name: name, Formula: formula, CAS: strings.Join(cas, ""), MassPercent: 100, Source: fromWeights}
}

func solution(name, solute string, massPercent float64, density measure.GramsPerCM3, source string) Form {
	return Form{Name: name, Formula: solute, Liquid: true, MassPercent: massPercent, Density: density, Source: source}
}

// frees adds the gas yield, in g of gas per g of the form.
func (f Form) frees(yield float64) Form {
	f.GasUpper, f.GasExpected = yield, yield
	return f
}

// unknownStrength is a liquid whose maker does not say what is in it.
func unknownStrength(name string, gasUpper float64, source string) Form {
	return Form{Name: name, Liquid: true, StrengthUnknown: true, GasUpper: gasUpper, Source: source}
}

func (f Form) mild() Form { f.Mild = true; return f }
