package reagent

import (
	"math"
	"slices"

	"hepar/recipe/measure"
)

// The range of the water functions, in degrees C at one atmosphere.
const (
	WaterLowest  measure.Celsius = 0
	WaterHighest measure.Celsius = 100
)

// liquid brings a temperature into the range of the water functions, over which the heat model
// steps. What is no number counts as the lowest.
func liquid(t measure.Celsius) measure.Celsius {
	if !(t > WaterLowest) {
		return WaterLowest
	}
	return min(t, WaterHighest)
}

// WaterDensity returns the density of air-free water in g/cm3 (kg/L) from 0 to 100 C at one
// atmosphere; outside it returns the value at the nearer end. Source: Kell, J. Chem. Eng. Data
// 20, 97 (1975), in the coefficients commonly quoted. It agrees with OpenStax Chemistry 2e,
// Appendix E, within 0.000004 up to 30 C and within 0.00005 above.
func WaterDensity(t measure.Celsius) measure.GramsPerCM3 {
	x := float64(liquid(t))
	top := 999.83952 + x*(16.945176+x*(-7.9870401e-3+x*(-46.170461e-6+x*(105.56302e-9-280.54253e-12*x))))
	return measure.GramsPerCM3(top / (1 + 16.879850e-3*x) / 1000)
}

// WaterSpecificHeat returns the specific heat of water in J/(g K) from 0 to 100 C at one
// atmosphere; outside it returns the value at the nearer end. Source: IAPWS SR6-08(2011),
// between the rows linear, which costs less than 0.03 %; older tables lie up to 0.07 % lower.
func WaterSpecificHeat(t measure.Celsius) float64 {
	c, _ := within([]point{
		{0, 4.21932}, {4, 4.20737}, {10, 4.19514}, {15, 4.18855}, {20, 4.18419}, {25, 4.18145},
		{30, 4.17990}, {40, 4.17936}, {50, 4.18123}, {60, 4.18490}, {70, 4.19012}, {80, 4.19686},
		{90, 4.20523}, {100, 4.21557},
	}, liquid(t))
	return c
}

// WaterVapourPressure returns the vapour pressure of water in kPa, and its rise in kPa/K, from
// 0 to 100 C; outside it those of the nearer end. Source: OpenStax Chemistry 2e, Appendix E;
// between the rows ln p is linear in 1/T, which costs less than 0.1 %.
func WaterVapourPressure(t measure.Celsius) (kPa, slope float64) {
	t = liquid(t)
	i := max(1, slices.IndexFunc(vapourRows, func(row point) bool { return t <= row.at }))
	low, high := vapourRows[i-1], vapourRows[i]
	b := math.Log(high.value/low.value) / (1/low.at.Kelvin() - 1/high.at.Kelvin()) // K
	kPa = low.value * math.Exp(b*(1/low.at.Kelvin()-1/t.Kelvin())) / 1000
	return kPa, kPa * b / (t.Kelvin() * t.Kelvin())
}

// vapourRows are in Pa.
var vapourRows = []point{
	{0, 613.2812}, {4, 813.2642}, {10, 1226.562}, {15, 1706.522}, {20, 2333.135}, {25, 3173.064},
	{30, 4239.64}, {35, 5626.188}, {40, 7372.707}, {45, 9585.852}, {50, 12332.29}, {55, 15732},
	{60, 19918.31}, {65, 24997.88}, {70, 31157.35}, {75, 38543.39}, {80, 47342.64}, {85, 57808.42},
	{90, 70100.71}, {95, 84512.82}, {100, 101324.7},
}

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

// Mix returns the temperature that parts come to when they share their heat and lose none: T =
// sum(m c T) / sum(m c). Nothing may boil or freeze; one part has a mass above 0. Source: the
// energy balance; checked against OpenStax Chemistry 2e, 5.3, and University Physics vol. 2,
// 1.7.
func Mix(parts ...Part) measure.Celsius {
	var heat, capacity float64
	for _, p := range parts {
		capacity += p.heatCapacity()
		heat += p.heatCapacity() * float64(p.Temperature)
	}
	return measure.Celsius(heat / capacity)
}

// HotCold returns the hot and cold water, in g, that make a total at the wanted temperature
// together with other parts that come to it (a vessel, the metal, a rest of the bath). The
// specific heats are those at each own temperature. ok is false where no share of the two
// reaches the temperature: then it is all of the one that comes nearer.
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

type point struct {
	at    measure.Celsius
	value float64
}

// SolubilityGPer100g returns the grams of the anhydrous substance that 100 g of water take up,
// linear between the rows, and false where no row covers the temperature. Source: tables of
// general handbooks; the sodium bicarbonate rows agree with OpenStax Chemistry 2e, 4.5 (69 g/L
// at 0 C, 164 g/L at 60 C).
//
// Sodium carbonate changes its hydrate near 32 C: between 20 and 40 C the figure is too low,
// by up to about a quarter (from memory), which errs towards more water.
func SolubilityGPer100g(id string, t measure.Celsius) (float64, bool) {
	return within(solubility[id], t)
}

var solubility = map[string][]point{
	"sodium-bicarbonate":  {{0, 6.9}, {20, 9.6}, {40, 12.7}, {60, 16.4}},
	"sodium-carbonate":    {{0, 7}, {20, 21.5}, {40, 48.5}, {60, 46.4}, {80, 45.8}, {100, 45.5}},
	"copper-sulfate":      {{0, 14.3}, {20, 20.7}, {40, 28.5}, {60, 40}, {80, 55}, {100, 75.4}},
	"ammonium-chloride":   {{0, 29.4}, {20, 37.2}, {40, 45.8}, {60, 55.2}, {80, 65.6}, {100, 77.3}},
	"sodium-chloride":     {{0, 35.7}, {20, 36.0}, {40, 36.6}, {60, 37.3}, {80, 38.4}, {100, 39.8}},
	"ferric-chloride":     {{0, 74.4}, {20, 91.8}},
	"copper-chloride":     {{0, 41.4}, {20, 43.5}, {40, 45.6}, {60, 47.7}, {80, 49.8}, {100, 51.9}},
	"silver-nitrate":      {{0, 122}, {20, 222}, {40, 376}, {60, 525}, {80, 669}, {100, 952}},
	"potassium-carbonate": {{0, 51.3}, {20, 52.5}, {40, 65.2}, {60, 68.6}, {80, 72.1}, {100, 75.6}},
}

// within interpolates linearly inside the rows, which rise in temperature.
func within(rows []point, t measure.Celsius) (float64, bool) {
	for i := 1; i < len(rows); i++ {
		low, high := rows[i-1], rows[i]
		if t >= low.at && t <= high.at {
			share := float64((t - low.at) / (high.at - low.at))
			return low.value + share*(high.value-low.value), true
		}
	}
	return 0, false
}
