package reagent

import (
	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// H2SPerSulfur is the hydrogen sulfide, in g, that acid frees per g of sulfur
// present as sulfide: 34.076 / 32.06, from the IUPAC 2021 atomic weights.
const H2SPerSulfur = 34.076 / 32.06

// GasFreed returns the grams of gas that acid in excess frees from a mass of a
// form: at most, and as expected of the common product. The gas is named by
// GasWithAcid. The expected figure is the upper one where nothing better is
// known. An error of kind Usage says that the yield is not known.
func GasFreed(s Substance, f Form, mass measure.Grams) (upper, expected measure.Grams, err error) {
	if s.GasWithAcid == "" || f.GasUpper == 0 {
		return 0, 0, fault.Usagef("the gas that acid frees from %s (%s) is not known", s.ID, f.Name).
			Try("treat it as the worst of its family and keep acid away")
	}
	if err := amount("mass", float64(mass)); err != nil {
		return 0, 0, err
	}
	if upper, err = finite(mass * measure.Grams(f.GasUpper)); err != nil {
		return 0, 0, err
	}
	if f.GasExpected == 0 {
		return upper, upper, nil
	}
	return upper, mass * measure.Grams(f.GasExpected), nil
}
