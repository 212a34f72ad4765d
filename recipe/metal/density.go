package metal

import (
	"math"
	"slices"
	"strings"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// sumTolerance is how far mass fractions may sum from 1 (a bare fraction). Chosen:
// hallmarks are printed in whole thousandths, so that three rounded parts can be
// out by 0.0015.
const sumTolerance = 0.002

// DensityOf returns the density in g/cm3 of an alloy from the mass fractions of
// its elements ("Ag": 0.925, "Cu": 0.075) by the inverse rule
// 1/rho = sum(w/rho), which takes the volumes of the parts as additive. Fractions
// must lie between 0 and 1 and sum to 1 within 0.002; what is missing is shared out.
//
// Valid for silver-copper and gold-silver-copper within about 1 %. It reads 2 to
// 3 % low for brass, whose parts shrink into each other (70/30 computes 8.32; data
// sheets have 8.53, from memory).
//
// Source of the rule and of 10.49, 8.96 and 19.32: the page "Approximate specific
// gravities of alloys". Errors are of kind [fault.Usage].
func DensityOf(fractions map[string]float64) (measure.GramsPerCM3, error) {
	if len(fractions) == 0 {
		return 0, fault.Usagef("an alloy without any element has no density").
			Try("give mass fractions such as Ag 0.925 and Cu 0.075")
	}
	// In a fixed order, so that the last digit does not depend on the map.
	symbols := make([]string, 0, len(fractions))
	for symbol := range fractions {
		symbols = append(symbols, symbol)
	}
	slices.Sort(symbols)
	var sum, volume float64
	for _, symbol := range symbols {
		w := fractions[symbol]
		if math.IsNaN(w) || w < 0 || w > 1 {
			return 0, fault.Usagef("the mass fraction of %.20q is %v", symbol, w).
				Try("give each fraction between 0 and 1: 92.5 %% is 0.925")
		}
		rho, ok := elementDensity(symbol)
		if !ok {
			return 0, fault.Usagef("no density is known for the element %.20q", symbol).
				Try("use the symbols %s", strings.Join(elements[:], ", "))
		}
		sum += w
		volume += w / float64(rho)
	}
	if math.Abs(sum-1) > sumTolerance {
		return 0, fault.Usagef("the mass fractions sum to %s, not to 1", fig(sum)).
			Try("give all elements of the alloy, each as a part of 1")
	}
	return measure.GramsPerCM3(sum / volume), nil
}

// elements are the symbols that [DensityOf] knows.
var elements = [...]string{"Ag", "Al", "Au", "Cu", "Fe", "Ge", "Ni", "Pb", "Pd", "Pt", "Si", "Sn", "Zn"}

// elementDensity gives the density of a pure metal in g/cm3. Sources: Ag, Cu, Au:
// the page "Approximate specific gravities of alloys"; Ni, Pt: trade tables of
// specific gravity; the others from memory, as handbooks have them at 20 C.
func elementDensity(symbol string) (measure.GramsPerCM3, bool) {
	switch symbol {
	case "Ag":
		return 10.49, true
	case "Al":
		return 2.70, true
	case "Au":
		return 19.32, true
	case "Cu":
		return 8.96, true
	case "Fe":
		return 7.87, true
	case "Ge":
		return 5.32, true
	case "Ni":
		return 8.90, true
	case "Pb":
		return 11.34, true
	case "Pd":
		return 12.02, true
	case "Pt":
		return 21.45, true
	case "Si":
		return 2.33, true
	case "Sn":
		return 7.29, true
	case "Zn":
		return 7.13, true
	}
	return 0, false
}
