package reagent

import (
	"hepar/recipe/measure"
)

// point is one row of a table against temperature.
type point struct {
	at    measure.Celsius
	value float64
}

// SolubilityGPer100g returns the grams of the anhydrous substance that 100 g of
// water take up at a temperature, and false where no opened table covers it. It
// interpolates linearly between the rows and never goes beyond them. Source: the
// solubility tables of general handbooks, of which the sodium bicarbonate rows
// agree with OpenStax Chemistry 2e, 4.5 (69 g/L at 0 C, 164 g/L at 60 C).
//
// Sodium carbonate changes its hydrate near 32 C: between 20 and 40 C the figure
// is too low, by up to about a quarter (from memory), which errs towards more water.
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
