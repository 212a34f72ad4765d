package reagent

import (
	"strings"

	"hepar/recipe/measure"
)

// Words that stand beside many substances.
const (
	commercial  = "OpenStax Chemistry 2e, Appendix F (commercial acids and bases)"
	fromWeights = "molar mass from IUPAC 2021 atomic weights"
	annexVI     = "CLP Annex VI or registrant classification, from memory"
	checkChart  = "check the glove maker's chart"

	hydrogenSulfide = "hydrogen sulfide"
	carbonDioxide   = "carbon dioxide"

	awayFromAcid = "tightly closed, dry, ventilated; no acid or oxidiser in the same cabinet or tray; not above a drain"
	acidShelf    = "acid cabinet or tray, away from sulfides, hypochlorite, ammonia and metals"
	awayFromFuel = "away from paper, cloth, solvents, metal dust, sulfur and sulfides"
	flammables   = "flammables cabinet, away from flames, nitric acid and oxidisers"
)

// list cuts "one, two" into words.
func list(text string) []string { return strings.Split(text, ", ") }

// solid is a form of definite formula, sold as good as pure; cas is the number of this
// hydrate where it has one of its own.
func solid(name, formula string, cas ...string) Form {
	return Form{Name: name, Formula: formula, CAS: strings.Join(cas, ""), MassPercent: 100, Source: fromWeights}
}

// solution is a liquid of which a share is the solute.
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

// rated gives a form a signal word and codes of its own.
func (f Form) rated(signal, codes string) Form {
	f.Rated, f.Signal, f.HCodes = true, signal, codes
	return f
}
