package rinse

import (
	"math"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// CounterFlow returns the water that a row of n rinses needs per liquid carried
// over, Q/D, when the water runs against the work and each rinse is fully mixed:
// the r that solves Cn/Cp = (r - 1) / (r^(n+1) - 1). The ratio Cp/Cn is from 1 to
// 1e12, n from 1 to 20; with n = 1 it is that of one running rinse, ratio - 1.
// The n-th root of the ratio is the usual shortcut and a little too large. Source:
// the mass balance of the stages. Errors are of kind Usage.
func CounterFlow(ratio float64, n int) (float64, error) {
	if !(ratio >= 1 && ratio <= 1e12) || n < 1 || n > 20 {
		return 0, fault.Usagef("a dilution of %g:1 in %d rinses", ratio, n).
			Try("give a dilution from 1 to a million million and 1 to 20 rinses")
	}
	// (r^(n+1) - 1)/(r - 1) = 1 + r + ... + r^n, which rises and bends upward, so
	// that Newton's way down from a point above the root never passes it.
	r := math.Pow(ratio, 1/float64(n))
	for range 200 {
		value, slope := 1.0, 0.0
		for range n {
			slope = slope*r + value
			value = value*r + 1
		}
		next := max(0, r-(value-ratio)/slope)
		if !(next < r) {
			break
		}
		r = next
	}
	return r, nil
}

// Running returns the flow of one running rinse, in L/min, that keeps what clings
// to the pieces at or under a limit: D (Cp/Cn - 1), D being the liquid carried
// over in a minute. Errors are of kind Usage.
func Running(bath, limit measure.GramsPerLiter, carriedPerMinute measure.Liters) (litersPerMinute float64, err error) {
	return Against(bath, limit, carriedPerMinute, 1)
}

// Against is [Running] for a row of n rinses with the water running against the
// work, see [CounterFlow].
func Against(bath, limit measure.GramsPerLiter, carriedPerMinute measure.Liters, n int) (litersPerMinute float64, err error) {
	if !(bath >= 0 && limit > 0 && carriedPerMinute >= 0 && carriedPerMinute <= 1e6) {
		return 0, fault.Usagef("%g L/min at %g g/L cannot be rinsed to %g g/L", float64(carriedPerMinute), float64(bath), float64(limit)).
			Try("give a limit above zero and amounts that are not negative")
	}
	r, err := CounterFlow(max(1, float64(bath/limit)), n)
	return r * float64(carriedPerMinute), err
}
