package reagent

import (
	"math"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// Part is something that brings its heat into a mixture: water, a vessel, metal.
type Part struct {
	MassG        measure.Grams
	SpecificHeat float64 // J/(g K); of water see WaterSpecificHeat
	Temperature  measure.Celsius
}

// heatCapacity is in J/K.
func (p Part) heatCapacity() float64 { return float64(p.MassG) * p.SpecificHeat }

func (p Part) check() error {
	if p.MassG < 0 || p.SpecificHeat <= 0 || math.IsNaN(p.heatCapacity()) || math.IsInf(p.heatCapacity(), 0) {
		return fault.Usagef("a mass of %g g with %g J/(g K) cannot be mixed", float64(p.MassG), p.SpecificHeat).
			Try("enter a mass of 0 or more and a specific heat above 0")
	}
	if k := p.Temperature.Kelvin(); !(k > 0) || math.IsInf(k, 0) {
		return fault.Usagef("%g C is below absolute zero or not a number", float64(p.Temperature)).Try("enter a temperature above -273.15 C")
	}
	return nil
}

// Mix returns the temperature that parts come to when they share their heat and
// lose none: T = sum(m c T) / sum(m c). Nothing may boil or freeze on the way.
// Source: the energy balance; checked against OpenStax Chemistry 2e, 5.3, and
// University Physics vol. 2, 1.7. It is an error of kind Usage when there is
// nothing to mix, or a part that cannot be.
func Mix(parts ...Part) (measure.Celsius, error) {
	var heat, capacity float64
	low, high := math.Inf(1), math.Inf(-1)
	for _, p := range parts {
		if err := p.check(); err != nil {
			return 0, err
		}
		if p.MassG == 0 {
			continue
		}
		capacity += p.heatCapacity()
		heat += p.heatCapacity() * float64(p.Temperature)
		low, high = min(low, float64(p.Temperature)), max(high, float64(p.Temperature))
	}
	t := heat / capacity
	if !(capacity > 0) || math.IsInf(capacity, 0) || math.IsNaN(t) || math.IsInf(heat, 0) {
		return 0, fault.Usagef("there is nothing to mix, or the masses are too large").Try("enter at least one part with a mass")
	}
	// Rounding must not carry the mixture beyond its hottest or coldest part.
	return measure.Celsius(max(low, min(high, t))), nil
}

// HotCold returns how much hot and cold water, in g, make a total of water at
// the wanted temperature together with other parts that come to it (a vessel,
// the metal, a rest of the bath). The specific heats of the water are those at
// its own temperature. It is an error of kind Usage when no share of the two
// reaches the temperature; the message says on which side it fails.
func HotCold(total measure.Grams, hot, cold, wanted measure.Celsius, also ...Part) (hotG, coldG measure.Grams, err error) {
	if err := amount("mass of the water", float64(total)); err != nil {
		return 0, 0, err
	}
	if !(wanted >= WaterLowest && wanted <= WaterHighest) {
		return 0, 0, fault.Usagef("%g C is not a temperature of liquid water", float64(wanted)).Try("enter one between 0 and 100 C")
	}
	if !(cold >= WaterLowest && hot <= WaterHighest && cold < hot) {
		return 0, 0, fault.Usagef("water of %g C and %g C cannot be mixed to a temperature", float64(hot), float64(cold)).
			Try("enter hot water warmer than the cold, both between 0 and 100 C")
	}
	fromHot := WaterSpecificHeat(hot) * float64(hot-wanted)    // J/g given by hot water
	fromCold := WaterSpecificHeat(cold) * float64(wanted-cold) // J/g taken by cold water
	need := float64(total) * fromCold
	for _, p := range also {
		if err := p.check(); err != nil {
			return 0, 0, err
		}
		need += p.heatCapacity() * float64(wanted-p.Temperature)
	}
	share := need / (fromHot + fromCold) / float64(total)
	const slack = 1e-9 // of the share, for rounding at the two ends
	switch {
	case math.IsNaN(share) || math.IsInf(share, 0):
		return 0, 0, fault.Usagef("the masses or specific heats of the parts are too large").Try("check their masses and specific heats")
	case share > 1+slack:
		return 0, 0, fault.Usagef("water of %g C is not hot enough for %g C", float64(hot), float64(wanted)).
			Try("use hotter water, or heat the bath and the vessel")
	case share < -slack:
		return 0, 0, fault.Usagef("water of %g C is not cold enough for %g C", float64(cold), float64(wanted)).
			Try("use colder water, or let the vessel and the metal cool")
	}
	share = max(0, min(1, share))
	hotG = measure.Grams(share) * total
	return hotG, total - hotG, nil
}
