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

// Place is a tub in a room, computed once for a run of many steps, with what the
// bath lost at the last two temperatures: where one step ends the next begins. It
// is not for several goroutines at once.
type Place struct {
	surroundings
	perGram  float64 // L of water of the room for each g
	known    [2]point
	replaced int // of known, the next to be replaced
}

// point is what a bath loses at a temperature.
type point struct {
	t, slope float64
	loss     Loss
}

// Stand makes a place ready.
func Stand(tub Tub, air Air) *Place {
	return &Place{surroundings: around(tub, air), perGram: 1 / 1000.0 / float64(reagent.WaterDensity(air.Ambient)),
		known: [2]point{{t: math.NaN()}, {t: math.NaN()}}}
}

// After returns the temperature of a bath of a [Capacity] above 0 after dt, from 0 s to a
// year, with a heater that supplies a steady heat in W (0 for none), and the water that
// evaporates on the way, in L at the temperature of the room. The capacity stays what it
// was: cut a long run in an open bath at each topping up.
//
// It is stable for any dt: the span is cut where the bath would move by more than two
// degrees, and each cut is an exponential step, exact for a loss that is linear in the
// temperature. The bath never leaves 0 to 100 C, and without a heater never passes the
// room: an open bath in dry air does settle some degrees below it, but the evaporation
// is too rough to say how many.
func (p *Place) After(bath measure.Celsius, capacity, heaterW float64, dt measure.Seconds) (measure.Celsius, measure.Liters) {
	to, grams := p.run(p.point(liquid(bath)), capacity, heaterW, float64(dt))
	p.keep(to)
	return measure.Celsius(to.t), measure.Liters(grams * p.perGram)
}

func (p *Place) point(t float64) point {
	for i := range p.known {
		if p.known[i].t == t {
			return p.known[i]
		}
	}
	x := p.surroundings.point(t)
	p.keep(x)
	return x
}

func (p *Place) keep(x point) {
	p.known[p.replaced] = x
	p.replaced = 1 - p.replaced
}

func (s *surroundings) point(t float64) point {
	loss, slope := s.at(t)
	return point{t, slope, loss}
}

// cutK is the most that the bath moves in one cut of a step, in K. With 2 K a
// fall from 95 C toward the room is right to two hundredths of a degree.
const cutK = 2

// mostCuts ends a step that does not come to an end by itself.
const mostCuts = 1000

// run returns where the bath stands after left seconds, and the water evaporated, in g.
func (s *surroundings) run(x point, capacity, heaterW, left float64) (point, float64) {
	low, high := max(0, min(x.t, s.ambient)), 100.0
	if heaterW == 0 {
		high = min(high, max(x.t, s.ambient))
	}
	grams := 0.0
	for range mostCuts {
		if left <= 0 {
			break
		}
		rate := (heaterW - x.loss.TotalW) / capacity // K/s
		h := min(left, cutK/math.Abs(rate))
		later := x
		if next := clamp(x.t+rate*h*share(x.slope*h/capacity), low, high); next == x.t { // held, or at an end of the range
			h = left
		} else {
			later = s.point(next)
		}
		left -= h
		grams += h / 2 * (steam(&x.loss, x.t) + steam(&later.loss, later.t))
		x = later
	}
	return x, grams
}

// steam is the water that a loss takes as vapour, in g/s.
func steam(loss *Loss, t float64) float64 {
	return loss.EvaporationW / LatentHeat(measure.Celsius(t))
}

// share is (1 - exp(-x)) / x, the part of a straight step that a relaxing one makes.
func share(x float64) float64 {
	if math.Abs(x) < 0.1 { // the series, whose next term is below 1e-14, is quicker
		return 1 - x/2*(1-x/3*(1-x/4*(1-x/5*(1-x/6*(1-x/7*(1-x/8))))))
	}
	return -math.Expm1(-x) / x
}

// WaitTo returns the time in which a bath left alone, or with a steady heater, comes to
// the target, from 0 to 100 C. It is false where it never does.
func WaitTo(target, bath measure.Celsius, capacity float64, tub Tub, air Air, heaterW float64) (measure.Seconds, bool) {
	s := around(tub, air)
	from, to := liquid(bath), float64(target)
	if from == to {
		return 0, true
	}
	if to < from && to < s.ambient || to > from && heaterW == 0 && to > s.ambient {
		return 0, false
	}
	// The rate falls as the bath warms, so that the sign at the target rules all
	// the way there.
	cuts := math.Ceil(math.Abs(to-from) / 0.25)
	seconds, t, rate := 0.0, from, s.rate(from, capacity, heaterW)
	for i := 1.0; i <= cuts; i++ {
		next := from + (to-from)*i/cuts
		nextRate := s.rate(next, capacity, heaterW)
		if nextRate*(to-from) <= 0 || rate*(to-from) <= 0 {
			return 0, false
		}
		seconds += (next - t) / logMean(rate, nextRate)
		t, rate = next, nextRate
	}
	return measure.Seconds(seconds), true
}

func (s *surroundings) rate(t, capacity, heaterW float64) float64 {
	loss, _ := s.at(t)
	return (heaterW - loss.TotalW) / capacity
}

// logMean is the mean with which a rate linear in the temperature is exact; both
// have the same sign and are not zero.
func logMean(a, b float64) float64 {
	if x := b/a - 1; math.Abs(x) > 1e-6 {
		return a * x / math.Log1p(x)
	}
	return (a + b) / 2
}
