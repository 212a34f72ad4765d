package reagent

import "hepar/recipe/measure"

// Part is something that brings its heat into a mixture: water, a vessel, metal.
type Part struct {
	MassG        measure.Grams
	SpecificHeat float64 // J/(g K); of water see WaterSpecificHeat
	Temperature  measure.Celsius
}

// heatCapacity is in J/K.
func (p Part) heatCapacity() float64 { return float64(p.MassG) * p.SpecificHeat }

// Water returns a mass of water at a temperature from 0 to 100 C.
func Water(mass measure.Grams, at measure.Celsius) Part { return Part{mass, WaterSpecificHeat(at), at} }

// Mix returns the temperature that parts come to when they share their heat and
// lose none: T = sum(m c T) / sum(m c). Nothing may boil or freeze on the way, and one
// part at least has a mass above 0.
// Source: the energy balance; checked against OpenStax Chemistry 2e, 5.3, and
// University Physics vol. 2, 1.7.
func Mix(parts ...Part) measure.Celsius {
	var heat, capacity float64
	for _, p := range parts {
		capacity += p.heatCapacity()
		heat += p.heatCapacity() * float64(p.Temperature)
	}
	return measure.Celsius(heat / capacity)
}

// HotCold returns how much hot and cold water, in g, make a total of water at
// the wanted temperature together with other parts that come to it (a vessel,
// the metal, a rest of the bath). The specific heats of the water are those at
// its own temperature; the hot water is the warmer. ok is false where no share of the
// two reaches the temperature: then it is all of the one that comes nearer.
func HotCold(total measure.Grams, hot, cold, wanted measure.Celsius, also ...Part) (hotG, coldG measure.Grams, ok bool) {
	fromHot := WaterSpecificHeat(hot) * float64(hot-wanted)    // J/g given by hot water
	fromCold := WaterSpecificHeat(cold) * float64(wanted-cold) // J/g taken by cold water
	need := float64(total) * fromCold
	for _, p := range also {
		need += p.heatCapacity() * float64(wanted-p.Temperature)
	}
	share := need / (fromHot + fromCold) / float64(total)
	const slack = 1e-9 // of the share, for rounding at the two ends
	hotG = measure.Grams(max(0, min(1, share))) * total
	return hotG, total - hotG, share >= -slack && share <= 1+slack
}
