package reagent

import (
	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// HydrateFactor returns the grams of the form to that hold as much of the
// substance itself as one gram of the form from: m(to) = factor x m(from). It
// works between hydrates, between solutions, and from one to the other, as long
// as both are the same thing but for their water. The factor follows from the
// molar masses and the mass percents of the two forms. A form without formula,
// or of unknown strength, is an error of kind Usage, except against itself.
func HydrateFactor(from, to Form) (float64, error) {
	if from == to {
		return 1, nil
	}
	for _, f := range []Form{from, to} {
		if f.StrengthUnknown {
			return 0, fault.Usagef("the strength of the form %q is not known", f.Name).
				Try("ask the maker for the grams of substance per liter, or use another form")
		}
		if f.molPerGram() == 0 {
			return 0, fault.Usagef("the form %q has no formula to convert by", f.Name).Try("weigh it in the form that the recipe names")
		}
	}
	if a, b := from.dry().text, to.dry().text; a != b {
		return 0, fault.Usagef("%q and %q are not forms of one substance", from.Formula, to.Formula).
			Try("convert only between hydrates and solutions of the same substance")
	}
	return from.molPerGram() / to.molPerGram(), nil
}

// molPerGram is the mol of the substance without its water in a gram of what is in the
// jar; 0 where it cannot be told.
func (f Form) molPerGram() float64 {
	if mass := MolarMass(f.Formula); mass > 0 && f.MassPercent > 0 && f.MassPercent <= 100 {
		return f.dry().times * f.MassPercent / 100 / mass
	}
	return 0
}

// dry is what a formula holds beside water, and how many of it: "2Cu(NO3)2.5H2O" holds two.
func (f Form) dry() part {
	dry := part{1, "H2O"}
	parts, _, _ := weigh(f.Formula, "")
	for _, p := range parts {
		if dry.text == "H2O" {
			dry = p
		} else if p.text != "H2O" {
			dry = part{1, dry.text + "." + p.text}
		}
	}
	return dry
}

// NeutralizerGrams returns the grams of a base that take up a mass of acid, by
// equivalents, and the grams of carbon dioxide that come off: the stoichiometric
// least, with nothing added for good measure. Both masses are of the forms as
// weighed, so for a solution the whole solution. Equivalents: see
// Substance.AcidEquivalents. Source: the reaction equations; checked against
// OpenStax Chemistry 2e, 4.5.
//
// It counts for rinses after a pickle. ok is false where it cannot count: what is no
// acid or no base, a strength that is not known, what is banned, and a sulfide, which
// neither a bicarbonate nor an acid destroys.
func NeutralizerGrams(acid Substance, acidForm Form, mass measure.Grams, base Substance, baseForm Form) (grams, carbonDioxide measure.Grams, ok bool) {
	for _, s := range []Substance{acid, base} {
		if s.In(Sulfide) || s.Banned != "" {
			return 0, 0, false
		}
	}
	molBase := float64(mass) * acidForm.molPerGram() * float64(acid.AcidEquivalents) / float64(base.BaseEquivalents)
	grams = measure.Grams(molBase / baseForm.molPerGram())
	if !positive(float64(grams)) {
		return 0, 0, false
	}
	if base.In(Carbonate) {
		carbonDioxide = measure.Grams(molBase * MolarMass("CO2")) // a mol per mol, of bicarbonate and of carbonate alike
	}
	return grams, carbonDioxide, true
}

// H2SPerSulfur is the hydrogen sulfide, in g, that acid frees per g of sulfur
// present as sulfide: 34.076 / 32.06, from the IUPAC 2021 atomic weights.
const H2SPerSulfur = 34.076 / 32.06

// GasFreed returns the grams of gas that acid in excess frees from a mass of the
// form: at most, and as expected of the common product. The gas is named by
// [Substance].GasWithAcid. The expected figure is the upper one where nothing better
// is known. ok is false where the yield is not known.
func (f Form) GasFreed(mass measure.Grams) (upper, expected measure.Grams, ok bool) {
	upper, expected = mass*measure.Grams(f.GasUpper), mass*measure.Grams(f.GasExpected)
	if f.GasExpected == 0 {
		expected = upper
	}
	return upper, expected, f.GasUpper > 0
}
