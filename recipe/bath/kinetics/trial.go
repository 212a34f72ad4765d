package kinetics

import (
	"math"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// TwoPoint gives the activation energy in kJ/mol from the rates at two
// temperatures, in any unit: Ea = R ln(k2/k1) / (1/T1 - 1/T2). Of two dip times
// that gave the same shade the rates are 1/t1 and 1/t2. It is an error of kind
// Usage when the temperatures are the same or a rate is not above zero. The
// result is below zero where the hotter trial was the slower one, which says that
// something else changed too.
func TwoPoint(k1 float64, t1 measure.Celsius, k2 float64, t2 measure.Celsius) (eaKJ float64, err error) {
	inverse := 1/t1.Kelvin() - 1/t2.Kelvin()
	ea := GasConstant * math.Log(k2/k1) / inverse / 1000
	if !(k1 > 0 && k2 > 0 && t1.Kelvin() > 0 && t2.Kelvin() > 0) || inverse == 0 || math.IsNaN(ea) || math.IsInf(ea, 0) {
		return 0, fault.Usagef("rates of %g at %g C and %g at %g C give no activation energy", k1, float64(t1), k2, float64(t2)).
			Try("give two temperatures that differ and two rates above zero")
	}
	return ea, nil
}

// TwoStrengths gives the order in the strength from the rates at two strengths
// and one temperature, in any unit: a = ln(k2/k1) / ln(c2/c1). Of two dip times
// that gave the same shade the rates are 1/t1 and 1/t2. It is an error of kind
// Usage when the strengths are the same or a figure is not above zero.
func TwoStrengths(k1, c1, k2, c2 float64) (order float64, err error) {
	order = math.Log(k2/k1) / math.Log(c2/c1)
	if !(k1 > 0 && k2 > 0 && c1 > 0 && c2 > 0) || c1+c2 > math.MaxFloat64 || math.IsNaN(order) || math.IsInf(order, 0) {
		return 0, fault.Usagef("rates of %g at a strength of %g and %g at %g give no order", k1, c1, k2, c2).
			Try("give two strengths that differ and two rates above zero")
	}
	return order, nil
}
