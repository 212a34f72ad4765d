package reagent

import "hepar/recipe/measure"

// Sources that stand beside many figures.
const (
	fromWeights = "molar mass from IUPAC 2021 atomic weights"
	commercial  = "OpenStax Chemistry 2e, Appendix F (commercial acids and bases)"
	annexVI     = "CLP Annex VI or registrant classification, from memory"
	checkChart  = "check the glove maker's chart"
)

// Where the two families of hazards want to stand.
const (
	awayFromAcid = "tightly closed, dry, ventilated; no acid or oxidiser in the same cabinet or tray; not above a drain"
	acidShelf    = "acid cabinet or tray, away from sulfides, hypochlorite, ammonia and metals"
	awayFromFuel = "away from paper, cloth, solvents, metal dust, sulfur and sulfides"
	flammables   = "flammables cabinet, away from flames, nitric acid and oxidisers"
)

// solid is a form of definite formula, sold as good as pure.
func solid(name, formula string, molarMass float64, cas string) Form {
	return Form{Name: name, Formula: formula, MolarMass: molarMass, CAS: cas, MassPercent: 100, Source: fromWeights}
}

// solution is a liquid of which a share is the solute.
func solution(name, solute string, molarMass, massPercent float64, density measure.GramsPerCM3, source string) Form {
	return Form{
		Name: name, Formula: solute, MolarMass: molarMass, Liquid: true,
		MassPercent: massPercent, Density: density, Source: source,
	}
}

// frees adds the gas yields, in g of gas per g of the form.
func (f Form) frees(upper, expected float64) Form {
	f.GasUpper, f.GasExpected = upper, expected
	return f
}

// unknownStrength is a form whose maker does not say what is in it.
func unknownStrength(name string, upper float64, source string) Form {
	return Form{Name: name, Liquid: true, StrengthUnknown: true, GasUpper: upper, Source: source}
}
