package reagent

import (
	"math"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// positive says whether a figure can be an amount: more than nothing, and finite.
func positive(x float64) bool { return x > 0 && !math.IsInf(x, 0) }

func amount(what string, x float64) error {
	if positive(x) {
		return nil
	}
	return fault.Usagef("the %s must be more than 0, not %g", what, x).Try("give the %s as a plain positive figure", what)
}

func percent(x float64) error {
	if x > 0 && x <= 100 {
		return nil
	}
	return fault.Usagef("the mass percent must be more than 0 and at most 100, not %g", x).
		Try("write the grams of substance in 100 g of solution, as on the label")
}

// finite passes a result on, or says that it is out of all measure.
func finite[T ~float64](x T) (T, error) {
	if math.IsNaN(float64(x)) || math.IsInf(float64(x), 0) || x < 0 {
		return 0, fault.Usagef("the result is out of all measure").Try("check the figures for a slip of the decimal point")
	}
	return x, nil
}

func firstError(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// Molarity returns the mol/L of a solution from the label: M = 10 w rho / Mr,
// with w in g per 100 g, rho in g/mL, Mr in g/mol. Source: the definitions;
// checked against OpenStax Chemistry 2e, Appendix F.
func Molarity(massPercent float64, density measure.GramsPerCM3, molarMass float64) (float64, error) {
	err := firstError(percent(massPercent), amount("density", float64(density)), amount("molar mass", molarMass))
	if err != nil {
		return 0, err
	}
	return finite(10 * massPercent * float64(density) / molarMass)
}

// Molarity returns the mol/L of a solution as it stands in the jar. The form
// must be a liquid of known strength and density.
func (f Form) Molarity() (float64, error) {
	if !f.Liquid || f.StrengthUnknown || f.MolarMass == 0 || f.Density == 0 {
		return 0, fault.Usagef("the form %q is not a solution of known strength and density", f.Name).
			Try("read strength and density off the label")
	}
	return Molarity(f.MassPercent, f.Density, f.MolarMass)
}

// MolesPerLiter returns the mol/L of a mass dissolved to a volume.
func MolesPerLiter(mass measure.Grams, molarMass float64, volume measure.Liters) (float64, error) {
	err := firstError(amount("mass", float64(mass)), amount("molar mass", molarMass), amount("volume", float64(volume)))
	if err != nil {
		return 0, err
	}
	return finite(float64(mass) / molarMass / float64(volume))
}

// MassForMolarity returns the grams to dissolve for a volume of a given mol/L:
// m = c V Mr.
func MassForMolarity(molarity float64, volume measure.Liters, molarMass float64) (measure.Grams, error) {
	err := firstError(amount("concentration", molarity), amount("volume", float64(volume)), amount("molar mass", molarMass))
	if err != nil {
		return 0, err
	}
	return finite(measure.Grams(molarity * float64(volume) * molarMass))
}

// Dilute returns how much of a stock to take for a volume of a weaker solution:
// V1 = c2 V2 / c1. Both concentrations are per volume and in the same unit. A
// stock weaker than what is wanted is an error. The water is what fills it up to
// the volume; for acids the acid goes into the water.
func Dilute(stock, wanted float64, volume measure.Liters) (measure.Liters, error) {
	err := firstError(amount("strength of the stock", stock), amount("strength wanted", wanted), amount("volume", float64(volume)))
	if err != nil {
		return 0, err
	}
	if wanted > stock {
		return 0, fault.Usagef("a stock of %g cannot be diluted to %g", stock, wanted).Try("take a stronger stock, or want less")
	}
	return finite(measure.Liters(wanted / stock * float64(volume)))
}

// StrengthAfter returns the concentration of a solution filled up with water:
// c2 = c1 V1 / V2.
func StrengthAfter(strength float64, from, to measure.Liters) (float64, error) {
	err := firstError(amount("strength", strength), amount("volume", float64(from)), amount("volume", float64(to)))
	if err != nil {
		return 0, err
	}
	if to < from {
		return 0, fault.Usagef("water cannot be added from %g L to %g L", float64(from), float64(to)).Try("give the larger volume last")
	}
	return finite(strength * (float64(from) / float64(to)))
}

// VolumeAt returns the volume a stock makes when it is diluted to a lower
// concentration: V2 = c1 V1 / c2.
func VolumeAt(stock float64, volume measure.Liters, wanted float64) (measure.Liters, error) {
	err := firstError(amount("strength of the stock", stock), amount("volume", float64(volume)), amount("strength wanted", wanted))
	if err != nil {
		return 0, err
	}
	if wanted > stock {
		return 0, fault.Usagef("a stock of %g cannot be diluted to %g", stock, wanted).Try("take a stronger stock, or want less")
	}
	return finite(measure.Liters(stock / wanted * float64(volume)))
}

// MassPercent returns the g of solute per 100 g of solution.
func MassPercent(solute, solvent measure.Grams) (float64, error) {
	err := firstError(amount("mass of the solute", float64(solute)), amount("mass of the solvent", float64(solvent)))
	if err != nil {
		return 0, err
	}
	// Divided first, so that two huge masses do not overflow in the sum.
	return finite(100 / (1 + float64(solvent)/float64(solute)))
}

// SoluteIn returns the grams of solute in a volume of a labelled solution:
// m = 1000 V rho w / 100, with V in L, rho in g/mL, w in g per 100 g.
func SoluteIn(volume measure.Liters, massPercent float64, density measure.GramsPerCM3) (measure.Grams, error) {
	err := firstError(amount("volume", float64(volume)), percent(massPercent), amount("density", float64(density)))
	if err != nil {
		return 0, err
	}
	return finite(measure.Grams(volume.Milliliters() * float64(density) * massPercent / 100))
}

// VolumeHolding returns the volume of a labelled solution that holds the given
// grams of solute.
func VolumeHolding(solute measure.Grams, massPercent float64, density measure.GramsPerCM3) (measure.Liters, error) {
	err := firstError(amount("mass", float64(solute)), percent(massPercent), amount("density", float64(density)))
	if err != nil {
		return 0, err
	}
	return finite(measure.Liters(float64(solute) * 100 / massPercent / float64(density) / 1000))
}
