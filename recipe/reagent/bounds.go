package reagent

import (
	"math"

	"hepar/recipe/fault"
)

// amount refuses a figure that cannot be an amount: it must be finite and more than 0.
func amount(what string, x float64) error {
	if x > 0 && !math.IsInf(x, 0) {
		return nil
	}
	return fault.Usagef("the %s must be more than 0, not %g", what, x).Try("write the %s as a plain positive figure", what)
}

// finite passes a result on, or refuses one that is no amount.
func finite[T ~float64](x T) (T, error) {
	if math.IsNaN(float64(x)) || math.IsInf(float64(x), 0) || x < 0 {
		return 0, fault.Usagef("the result is beyond any real amount").Try("check the figures for a slip of the decimal point")
	}
	return x, nil
}
