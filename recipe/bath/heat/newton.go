package heat

import (
	"math"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// Newton gives the temperature after dt of a body that cools, or warms, toward
// the room by a fixed share of the difference: T = Ta + (T0 - Ta) exp(-k t). The
// rate k is per second and not below zero. Temperatures are from absolute zero to
// a million degrees; one outside counts as the nearer end.
func Newton(start, ambient measure.Celsius, rate float64, dt measure.Seconds) measure.Celsius {
	fade := math.Exp(-clamp(rate, 0, math.MaxFloat64) * clamp(float64(dt), 0, math.MaxFloat64))
	if math.IsNaN(fade) { // a rate of zero for ever
		fade = 1
	}
	const lowest, highest = -273.15, 1e6
	from, room := clamp(float64(start), lowest, highest), clamp(float64(ambient), lowest, highest)
	return measure.Celsius(room + (from-room)*fade)
}

// NewtonRate gives the rate k of [Newton], per second, from one reading after a
// time. It is an error of kind Usage when the reading does not lie between start
// and room, or the time is not above zero.
func NewtonRate(start, after, ambient measure.Celsius, dt measure.Seconds) (float64, error) {
	left := float64((after - ambient) / (start - ambient))
	if !(left > 0 && left < 1) || !(dt > 0) || math.IsInf(float64(dt), 0) {
		return 0, fault.Usagef("a cooling from %g to %g C in a room of %g C within %g s cannot be", float64(start), float64(after), float64(ambient), float64(dt)).
			Try("give a second reading between the first and the room, and a time above zero")
	}
	return -math.Log(left) / float64(dt), nil
}

// NewtonTime gives the time in which a body of [Newton] comes from start to
// target at a rate above zero, per second. It is an error of kind Usage when it
// never does.
func NewtonTime(start, target, ambient measure.Celsius, rate float64) (measure.Seconds, error) {
	left := float64((target - ambient) / (start - ambient))
	t := -math.Log(left) / rate
	if !(left > 0 && left <= 1) || !(rate > 0) || math.IsInf(t, 0) || math.IsNaN(t) {
		return 0, fault.Usagef("from %g C a room of %g C never leads to %g C", float64(start), float64(ambient), float64(target)).
			Try("give a target between the start and the room, and a rate above zero")
	}
	return measure.Seconds(max(0, t)), nil
}
