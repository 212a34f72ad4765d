package rinse

import (
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/reagent"
)

// h2sMolar is the molar mass of H2S in g/mol (IUPAC 2021 atomic weights).
const h2sMolar = 34.076

// AcidCarried is the acid, in g as weighed, that clings to pieces of an area in
// dm2 when the liquid on them holds clings g/L: that of the pickle itself for
// pieces that were not rinsed, what [Row.Dip] returns for those that were.
func AcidCarried(areaDM2 float64, drain measure.MillilitersPerSquareM, clings measure.GramsPerLiter) measure.Grams {
	return measure.Grams(float64(Carried(areaDM2, drain)) * clamp(float64(clings), 0, 2000))
}

// GasFreed is the hydrogen sulfide, in g, that a mass of acid frees at most in a
// sulfide bath that has enough to give: one mol for each acid equivalent, since
// one proton turns one HS- into H2S. It is an upper bound: carbonate and other
// alkali in the bath take up acid first, and the larger part may stay in the
// water. That is no reason to carry acid in. For the other bound, what the bath
// holds, see [reagent.GasFreed]. It is an error of kind Usage when the substance
// is not known as an acid or its strength not known.
func GasFreed(acid reagent.Substance, form reagent.Form, mass measure.Grams) (measure.Grams, error) {
	if acid.AcidEquivalents <= 0 {
		return 0, fault.Usagef("no equivalents are known of %s as an acid", acid.ID).Try("choose an acid of the table")
	}
	if form.MolarMass <= 0 || form.MassPercent <= 0 {
		return 0, fault.Usagef("the strength of %s (%s) is not known", acid.ID, form.Name).Try("read it from the label and give it in percent by mass")
	}
	if !(mass >= 0 && mass <= 1e9) {
		return 0, fault.Usagef("a mass of %g g of acid", float64(mass)).Try("give a mass of 0 g or more")
	}
	equivalents := float64(mass) * form.MassPercent / 100 / form.MolarMass * float64(acid.AcidEquivalents)
	return measure.Grams(equivalents * h2sMolar), nil
}
