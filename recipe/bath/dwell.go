package bath

import (
	"math"

	"hepar/recipe/measure"
)

// GasConstant is R in J/(mol K) (CODATA 2018, exact).
const GasConstant = 8.31446261815324

// Rate holds the two constants of the dip-time law with their spreads.
type Rate struct {
	EaKJ, EaSpreadKJ   float64 // activation energy, kJ/mol
	Order, OrderSpread float64 // order in strength, no unit
	Source             string
}

// AssumedRate is used until the journal teaches better: no activation energy for
// silver or copper in polysulfide was found in print, so both figures are
// assumed.
func AssumedRate() Rate {
	return Rate{EaKJ: 45, EaSpreadKJ: 12, Order: 0.8, OrderSpread: 0.2, Source: "assumed; no published value for silver in polysulfide"}
}

// DipTime gives the time that makes the same film at another temperature and
// strength: t = t0 (C/C0)^-a exp(Ea/R (1/T - 1/T0)). The time t0 belongs to the
// temperature at0 and a strength of 1; strength is C/C0, above 0. It is an
// estimate and only as good as the rate given.
func DipTime(t0 measure.Seconds, at0, at measure.Celsius, strength float64, r Rate) measure.Seconds {
	if strength <= 0 || at.Kelvin() <= 0 || at0.Kelvin() <= 0 {
		return 0
	}
	arrhenius := math.Exp(r.EaKJ * 1000 / GasConstant * (1/at.Kelvin() - 1/at0.Kelvin()))
	return t0 * measure.Seconds(math.Pow(strength, -r.Order)*arrhenius)
}
