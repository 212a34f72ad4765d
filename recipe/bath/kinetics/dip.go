package kinetics

import (
	"math"

	"hepar/recipe/measure"
)

// GasConstant is R in J/(mol K) (CODATA 2018, exact).
const GasConstant = 8.31446261815324

// Longest bounds a dip time, in s: a day. A time that comes out at it says that
// this bath will not do it.
const Longest measure.Seconds = 24 * 3600

// Rate holds the two constants of the dip-time law with their spreads. A spread
// is one standard deviation: two in three of such guesses should lie inside.
type Rate struct {
	EaKJ, EaSpreadKJ   float64 // activation energy, kJ/mol, 0 to 500
	Order, OrderSpread float64 // order in the strength, no unit, 0 to 10
	Source             string
}

// Assumed is used until the journal teaches better. Both figures are assumed:
// for silver or copper in polysulfide nothing was found in print. 30 to 60
// kJ/mol and an order of a half to one bracket what growth of tarnish films and
// oxidation of sulfide show (57 kJ/mol for the latter: Millero and others, 1987,
// from memory).
func Assumed() Rate {
	return Rate{EaKJ: 45, EaSpreadKJ: 12, Order: 0.8, OrderSpread: 0.2, Source: "assumed; no published value for silver in polysulfide"}
}

// DipTime returns the time that makes the same film at another temperature and
// strength: t = t0 (C/C0)^-a exp(Ea/R (1/T - 1/T0)). The time t0 belongs to the
// temperature at0 and a strength of 1. The result is from 0 to [Longest]; a bath
// without strength gets Longest. Constants of a rate outside their range count
// as the nearer end.
func DipTime(t0 measure.Seconds, at0, at measure.Celsius, strength float64, r Rate) measure.Seconds {
	return r.From(t0, at0).Time(at, strength)
}

// Law is the dip-time law with its constants put in, for many loads.
type Law struct {
	t0, k0                    float64 // s, K
	energy, order             float64 // K, 1
	energySpread, orderSpread float64
}

// From makes the law for a time t0 that belongs to the temperature at0 and a
// strength of 1.
func (r Rate) From(t0 measure.Seconds, at0 measure.Celsius) Law {
	return Law{t0: float64(t0), k0: at0.Kelvin(), energy: r.energy(), order: r.order(),
		energySpread: clamp(r.EaSpreadKJ, 0, mostEaKJ) * 1000 / GasConstant, orderSpread: clamp(r.OrderSpread, 0, mostOrder)}
}

// Time is [DipTime] by this law.
func (l Law) Time(at measure.Celsius, strength float64) measure.Seconds {
	inverse, logStrength, ok := l.distance(at, strength)
	if !(l.t0 > 0) {
		return 0
	}
	if !ok {
		return Longest
	}
	return limit(l.t0 * math.Exp(l.energy*inverse-l.order*logStrength))
}

// Band is [Band] by this law.
func (l Law) Band(at measure.Celsius, strength float64) (low, high measure.Seconds) {
	inverse, logStrength, ok := l.distance(at, strength)
	if !(l.t0 > 0) {
		return 0, 0
	}
	if !ok {
		return Longest, Longest
	}
	middle, factor := l.t0*math.Exp(l.energy*inverse-l.order*logStrength), l.factor(inverse, logStrength)
	return limit(middle / factor), limit(middle * factor)
}

// Around is [Law.Band] where the time is known already, from [Law.Time].
func (l Law) Around(time measure.Seconds, at measure.Celsius, strength float64) (low, high measure.Seconds) {
	inverse, logStrength, ok := l.distance(at, strength)
	if !ok || !(time > 0 && time < Longest) {
		return l.Band(at, strength)
	}
	factor := l.factor(inverse, logStrength)
	return time / measure.Seconds(factor), limit(float64(time) * factor)
}

// factor is what the spread of both constants makes of a time.
func (l Law) factor(inverse, logStrength float64) float64 {
	e, o := l.energySpread*inverse, l.orderSpread*logStrength
	return math.Exp(math.Sqrt(e*e + o*o))
}

// distance is how far a bath is from that of the recipe: 1/T - 1/T0 in 1/K and
// ln C/C0.
func (l Law) distance(at measure.Celsius, strength float64) (inverse, logStrength float64, ok bool) {
	k := at.Kelvin()
	if !(l.k0 > 0 && k > 0 && strength > 0) || math.IsInf(l.k0, 0) || math.IsInf(k, 0) || math.IsInf(strength, 0) {
		return 0, 0, false
	}
	return 1/k - 1/l.k0, math.Log(strength), true
}

const (
	mostEaKJ  = 500 // kJ/mol
	mostOrder = 10
)

// energy is Ea/R in K.
func (r Rate) energy() float64 { return clamp(r.EaKJ, 0, mostEaKJ) * 1000 / GasConstant }

func (r Rate) order() float64 { return clamp(r.Order, 0, mostOrder) }

func limit(t float64) measure.Seconds { return measure.Seconds(clamp(t, 0, float64(Longest))) }

// clamp brings x between low and high; what is no number counts as low.
func clamp(x, low, high float64) float64 {
	if !(x > low) {
		return low
	}
	return min(x, high)
}
