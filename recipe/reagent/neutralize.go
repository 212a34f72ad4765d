package reagent

import (
	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// NeutralizerGrams returns the grams of a base that take up a mass of acid, by
// equivalents, and the grams of carbon dioxide that come off: the stoichiometric
// least, with nothing added for good measure. Both masses are of the forms as
// weighed, so for a solution the whole solution. Equivalents: see
// Substance.AcidEquivalents. Source: the reaction equations; checked against
// OpenStax Chemistry 2e, 4.5.
//
// It counts for rinses after a pickle. It refuses, with an error of kind Safety,
// to count for a sulfide: neither a bicarbonate nor an acid destroys it.
func NeutralizerGrams(acid Substance, acidForm Form, mass measure.Grams, base Substance, baseForm Form) (grams, carbonDioxide measure.Grams, err error) {
	for _, s := range []Substance{acid, base} {
		if s.In(Sulfide) {
			return 0, 0, fault.Safetyf("%s is a sulfide: a sulfide cannot be neutralised", s.Name).
				Try("keep it alkaline and away from acids, and give it to the waste route of your local authority")
		}
		if s.Banned != "" {
			return 0, 0, fault.Safetyf("%s is refused: %s", s.Name, s.Banned).Try("do not use it")
		}
	}
	if acid.AcidEquivalents == 0 {
		return 0, 0, fault.Usagef("%s is not an acid that can be counted", acid.ID).Try("choose an acid of the table")
	}
	if base.BaseEquivalents == 0 {
		return 0, 0, fault.Usagef("%s is not a base that can be counted", base.ID).
			Try("choose sodium-bicarbonate, sodium-carbonate, potassium-carbonate or sodium-hydroxide")
	}
	if err := amount("mass of the acid", float64(mass)); err != nil {
		return 0, 0, err
	}
	a, err := acidForm.core()
	if err != nil {
		return 0, 0, err
	}
	b, err := baseForm.core()
	if err != nil {
		return 0, 0, err
	}
	equivalents := float64(mass) * a.unitsPerGram * float64(acid.AcidEquivalents)
	moles := equivalents / float64(base.BaseEquivalents)
	if grams, err = finite(measure.Grams(moles / b.unitsPerGram)); err != nil {
		return 0, 0, err
	}
	if base.GasWithAcid == "carbon dioxide" {
		// One mol of gas per mol, of bicarbonate and of carbonate alike.
		if carbonDioxide, err = finite(measure.Grams(moles * carbonDioxideMass)); err != nil {
			return 0, 0, err
		}
	}
	return grams, carbonDioxide, nil
}

// carbonDioxideMass is the molar mass of CO2 in g/mol, from the IUPAC 2021
// atomic weights of C (12.011) and O (15.999).
const carbonDioxideMass = 44.009
