package gas

import (
	"math"

	"hepar/recipe/measure"
)

// Factor is how far an estimate may be out, either way: 5, no unit. Assumed, from the
// spread of the mass transfer of still and stirred baths (see [Transfer]).
const Factor = 5.0

// Trust returns what stands beside every estimate that is printed: how far it may be
// out, as a factor without unit, and that only a meter tells.
func Trust(factor float64) string {
	return "right within a factor of " + measure.Figures(factor, 2) + " at best: verify with a meter; smell is no detector"
}

// gasConstant is R in J/(mol K). Source: CODATA 2018, exact.
const gasConstant = 8.314462618

// standardPressure is one atmosphere in Pa, exact.
const standardPressure = 101325.0

// inWater brings a temperature into the range of liquid water, 0 to 100 C.
func inWater(t measure.Celsius) measure.Celsius { return measure.Celsius(within(float64(t), 0, 100)) }

// within brings x between low and high; what is no number counts as low.
func within(x, low, high float64) float64 {
	if !(x > low) {
		return low
	}
	return min(x, high)
}

// PK1 is the first acid constant of hydrogen sulfide as pK at infinite dilution:
// -98.080 + 5765.4/T + 15.0455 ln T, T in K. Valid from 5 to 25 C; above that it is
// carried on, and agrees within 0.01 with a second equation up to 60 C (Suleimenov and
// Seward 1997, from memory). The spread between published constants is 0.1. Outside
// 0 to 100 C it returns the value at the end. Source: Millero 1988.
func PK1(t measure.Celsius) float64 {
	k := inWater(t).Kelvin()
	return -98.080 + 5765.4/k + 15.0455*math.Log(k)
}

// Fraction is the part of the dissolved sulfide that is hydrogen sulfide, from 0 to 1:
// 1/(1 + 10^(pH - pK1)). The pH is that at the temperature given, from 0 to 14; beyond
// that it counts as the end. The second acid constant is left out: published values
// scatter and it does not matter below pH 14.
func Fraction(pH float64, t measure.Celsius) float64 { return share(pH, PK1(t)) }

func share(pH, pK float64) float64 { return 1 / (1 + math.Pow(10, within(pH, 0, 14)-pK)) }

// Henry is the solubility of hydrogen sulfide in water in mol/(m3 Pa):
// 1.0e-3 exp(2100 (1/T - 1/298.15)). Measurements lie between 8.6e-4 and 1.2e-3, the
// temperature figure between 2000 and 2200 K. Source: Sander 2023, compilation of
// Henry's law constants, version 5.
func Henry(t measure.Celsius) float64 {
	return 1.0e-3 * math.Exp(2100*(1/inWater(t).Kelvin()-1/298.15))
}

// AirWater is the concentration of hydrogen sulfide in air over that in the water
// below it, without unit: 1/(H R T), 0.40 at 25 C. Sources as for [Henry].
func AirWater(t measure.Celsius) float64 {
	return 1 / (Henry(t) * gasConstant * inWater(t).Kelvin())
}

// Headspace is the hydrogen sulfide in ppm that the air over a bath comes to when it
// stands still long enough, as under a lid: an upper bound. The sulfide is the total
// dissolved, in mol/L. Never more than 1e6.
func Headspace(molPerLiter, pH float64, t measure.Celsius) float64 {
	return over(molPerLiter*Fraction(pH, t), t)
}

// over is the ppm over water that holds so much of the gas itself, in mol/L.
func over(molPerLiter float64, t measure.Celsius) float64 {
	pascal := within(molPerLiter, 0, 1e6) * 1000 / Henry(t)
	return min(pascal/standardPressure*1e6, 1e6)
}

// Transfer is the speed at which dissolved hydrogen sulfide crosses the surface of a
// bath, in m/s: 1e-5, with a spread of a factor of five either way. Still water has
// 1e-6 to 1e-5, stirring raises it tenfold; it is held by the water side, so that the
// air over the bath does not matter. From memory; field values of sewers, 0.1 to 8 per
// hour by volume, span as much (Water Science and Technology 2022, abstract).
const Transfer = 1e-5
