package heat

import (
	"math"

	"hepar/recipe/measure"
	"hepar/recipe/reagent"
)

// Capacity is the heat, in J/K, that warms a bath of water by one degree. The salts of a
// dilute bath are left out: they take less than they displace.
func Capacity(volume measure.Liters, at measure.Celsius) float64 {
	return float64(volume) * 1000 * float64(reagent.WaterDensity(at)) * reagent.WaterSpecificHeat(at)
}

// Join returns the temperature that a bath and something else come to, each with its
// heat capacity in J/K. Source: the energy balance.
func Join(bath measure.Celsius, capacity float64, other measure.Celsius, otherCapacity float64) measure.Celsius {
	t := (capacity*float64(bath) + otherCapacity*float64(other)) / (capacity + otherCapacity)
	return measure.Celsius(clamp(t, float64(min(bath, other)), float64(max(bath, other)))) // not past either by rounding
}

// cutK is the most that the bath moves in one cut of a step, in K. With 2 K a
// fall from 95 C toward the room is right to two hundredths of a degree.
const cutK = 2

// mostCuts ends a step that does not come to an end by itself.
const mostCuts = 1000

// After returns the temperature of a bath of a [Capacity] above 0 after dt, from 0 s to a
// year, with a steady heater in W (0 for none), and the water that evaporates on the way,
// in L at the temperature of the room. The capacity stays what it was: cut a long run in
// an open bath at each topping up.
//
// It is stable for any dt: each cut of at most two degrees is an exponential step, exact
// for a loss that is linear in the temperature. The bath never leaves 0 to 100 C, and
// without a heater never passes the room, although an open one in dry air does settle
// some degrees below it.
func (p *Place) After(bath measure.Celsius, capacity, heaterW float64, dt measure.Seconds) (measure.Celsius, measure.Liters) {
	t, left, grams := liquid(bath), float64(dt), 0.0
	low, high := max(0, min(t, p.ambient)), 100.0
	if heaterW == 0 {
		high = min(high, max(t, p.ambient))
	}
	steam := func(loss Loss, t float64) float64 { return loss.EvaporationW / LatentHeat(measure.Celsius(t)) } // g/s
	loss, slope := p.at(t)
	for range mostCuts {
		if left <= 0 {
			break
		}
		rate := (heaterW - loss.TotalW) / capacity // K/s
		h := min(left, cutK/math.Abs(rate))
		next := clamp(t+rate*h*share(slope*h/capacity), low, high)
		if next == t { // held, or at an end of the range
			return measure.Celsius(t), measure.Liters((grams + left*steam(loss, t)) * p.perGram)
		}
		later, laterSlope := p.at(next)
		grams += h / 2 * (steam(loss, t) + steam(later, next))
		left, t, loss, slope = left-h, next, later, laterSlope
	}
	return measure.Celsius(t), measure.Liters(grams * p.perGram)
}

// share is (1 - exp(-x)) / x, the part of a straight step that a relaxing one makes.
func share(x float64) float64 {
	if math.Abs(x) < 1e-9 {
		return 1
	}
	return -math.Expm1(-x) / x
}

// WaitTo returns the time in which a bath left alone, or with a steady heater, comes to
// the target, from 0 to 100 C. It is false where it never does.
func WaitTo(target, bath measure.Celsius, capacity float64, tub Tub, air Air, heaterW float64) (measure.Seconds, bool) {
	p := Stand(tub, air)
	from, to := liquid(bath), float64(target)
	if from == to {
		return 0, true
	}
	if to < from && to < p.ambient || to > from && heaterW == 0 && to > p.ambient {
		return 0, false
	}
	// The rate falls as the bath warms: its sign at the target rules all the way there.
	cuts := math.Ceil(math.Abs(to-from) / 0.25)
	seconds, t, rate := 0.0, from, p.rate(from, capacity, heaterW)
	for i := 1.0; i <= cuts; i++ {
		next := from + (to-from)*i/cuts
		nextRate := p.rate(next, capacity, heaterW)
		if nextRate*(to-from) <= 0 || rate*(to-from) <= 0 {
			return 0, false
		}
		seconds += (next - t) / logMean(rate, nextRate)
		t, rate = next, nextRate
	}
	return measure.Seconds(seconds), true
}

func (p *Place) rate(t, capacity, heaterW float64) float64 {
	loss, _ := p.at(t)
	return (heaterW - loss.TotalW) / capacity
}

// logMean is the mean with which a linear rate is exact; both are of one sign and not zero.
func logMean(a, b float64) float64 {
	if x := b/a - 1; math.Abs(x) > 1e-6 {
		return a * x / math.Log1p(x)
	}
	return (a + b) / 2
}
