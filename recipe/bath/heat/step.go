package heat

import (
	"math"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/reagent"
)

// Capacity is the heat, in J/K, that warms a bath of water by one degree, with
// whatever shares its temperature (the vessel). The salts of a dilute bath are
// left out: they take less than they displace.
func Capacity(volume measure.Liters, at measure.Celsius, also ...reagent.Part) float64 {
	sum := clamp(float64(volume), 0, 1e6) * 1000 * float64(reagent.WaterDensity(at)) * reagent.WaterSpecificHeat(at)
	for _, p := range also {
		sum += clamp(float64(p.MassG), 0, 1e9) * clamp(p.SpecificHeat, 0, 100)
	}
	return sum
}

// Place is a tub in a room, computed once for a run of many steps, with what the
// bath lost at the last two temperatures: where one step ends the next begins. It
// is not for several goroutines at once.
type Place struct {
	surroundings
	room     measure.Celsius
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
	return &Place{surroundings: around(tub, air), room: air.Ambient, perGram: 1 / 1000.0 / float64(reagent.WaterDensity(air.Ambient)),
		known: [2]point{{t: math.NaN()}, {t: math.NaN()}}}
}

// After returns the temperature of a bath after dt, from 0 s to a year, with a heater
// that supplies a steady heat in W (0 for none), and the water that evaporates on the
// way, in L at the temperature of the room. capacityJPerK is that of [Capacity]; below
// 1 J/K it counts as 1. The capacity stays what it was: cut a long run in an open bath
// at each topping up.
//
// It is stable for any dt: the span is cut where the bath would move by more than two
// degrees, and each cut is an exponential step, exact for a loss that is linear in the
// temperature. The bath never leaves 0 to 100 C, and without a heater never passes the
// room: an open bath in dry air does settle some degrees below it, but the evaporation
// is too rough to say how many.
func (p *Place) After(bath measure.Celsius, capacityJPerK float64, heaterW float64, dt measure.Seconds) (measure.Celsius, measure.Liters) {
	from := p.point(float64(liquid(bath, p.room)))
	to, grams := p.run(from, capacityJPerK, heaterW, span(dt))
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
	capacity = clamp(capacity, 1, 1e12)
	heaterW = clamp(heaterW, 0, 1e9)
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
		h := left
		if most := cutK / math.Abs(rate); h > most {
			h = most
		}
		later := x
		if next := clamp(x.t+rate*h*share(x.slope*h/capacity), low, high); next == x.t { // held, or at an end of the range: so it stays
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

// CoolingRatePerMinute is how fast the bath cools at this moment, in K/min;
// below zero where it warms.
func CoolingRatePerMinute(bath measure.Celsius, capacityJPerK float64, tub Tub, air Air, heaterW float64) float64 {
	net := Losses(bath, tub, air).TotalW - clamp(heaterW, 0, 1e9)
	return net / clamp(capacityJPerK, 1, 1e12) * 60
}

// WaitTo returns the time in which a bath left alone, or with a steady heater,
// comes to the target. It is an error of kind Failure when it never does, and of
// kind Usage when the target is not between 0 and 100 C.
func WaitTo(target, bath measure.Celsius, capacityJPerK float64, tub Tub, air Air, heaterW float64) (measure.Seconds, error) {
	if !(target >= reagent.WaterLowest && target <= reagent.WaterHighest) {
		return 0, fault.Usagef("%g C is no temperature for a bath of water", float64(target)).Try("give one between 0 and 100 C")
	}
	never := func() error {
		return fault.Failuref("the bath of %s never comes to %s by itself", measure.Metric.Temperature(bath), measure.Metric.Temperature(target)).
			Try("heat it, put on a lid, or pour in hotter or colder water")
	}
	s := around(tub, air)
	capacity, heaterW := clamp(capacityJPerK, 1, 1e12), clamp(heaterW, 0, 1e9)
	from, to := float64(liquid(bath, air.Ambient)), float64(target)
	if from == to {
		return 0, nil
	}
	if to < from && to < s.ambient || to > from && heaterW == 0 && to > s.ambient {
		return 0, never()
	}
	// The rate falls as the bath warms, so that the sign at the target rules all
	// the way there.
	cuts := math.Ceil(math.Abs(to-from) / 0.25)
	seconds, t, rate := 0.0, from, s.rate(from, capacity, heaterW)
	for i := 1.0; i <= cuts; i++ {
		next := from + (to-from)*i/cuts
		nextRate := s.rate(next, capacity, heaterW)
		if nextRate*(to-from) <= 0 || rate*(to-from) <= 0 {
			return 0, never()
		}
		seconds += (next - t) / logMean(rate, nextRate)
		t, rate = next, nextRate
	}
	if !(seconds <= longest) {
		return 0, never()
	}
	return measure.Seconds(seconds), nil
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
