package reagent

import (
	"math"

	"hepar/recipe/measure"
)

// The range of the water functions, in degrees C at one atmosphere.
const (
	WaterLowest  measure.Celsius = 0
	WaterHighest measure.Celsius = 100
)

// liquid brings a temperature into the range of the water functions. The heat
// model steps over many temperatures and must not stumble; whatever a person
// types in is checked long before. What is no number counts as the lowest.
func liquid(t measure.Celsius) measure.Celsius {
	if !(t > WaterLowest) {
		return WaterLowest
	}
	return min(t, WaterHighest)
}

// WaterDensity returns the density of air-free water in g/cm3, which is kg/L,
// from 0 to 100 C at one atmosphere; outside it returns the value at the nearer
// end. Source: the formula of Kell, J. Chem. Eng. Data 20, 97 (1975), in the
// coefficients commonly quoted. It agrees with OpenStax Chemistry 2e, Appendix
// E, within 0.000004 up to 30 C and within 0.00005 above.
func WaterDensity(t measure.Celsius) measure.GramsPerCM3 {
	x := float64(liquid(t))
	top := 999.83952 + x*(16.945176+x*(-7.9870401e-3+x*(-46.170461e-6+x*(105.56302e-9-280.54253e-12*x))))
	return measure.GramsPerCM3(top / (1 + 16.879850e-3*x) / 1000)
}

// WaterSpecificHeat returns the specific heat of water in J/(g K) from 0 to 100
// C at one atmosphere; outside it returns the value at the nearer end. It
// interpolates linearly in values of IAPWS SR6-08(2011), which costs less than
// 0.03 %; older handbook tables lie up to 0.07 % lower.
func WaterSpecificHeat(t measure.Celsius) float64 {
	c, _ := within([]point{
		{0, 4.21932}, {4, 4.20737}, {10, 4.19514}, {15, 4.18855}, {20, 4.18419}, {25, 4.18145},
		{30, 4.17990}, {40, 4.17936}, {50, 4.18123}, {60, 4.18490}, {70, 4.19012}, {80, 4.19686},
		{90, 4.20523}, {100, 4.21557},
	}, liquid(t))
	return c
}

// WaterVapourPressure returns the vapour pressure of water in kPa, and by how much it
// rises in kPa/K, from 0 to 100 C; outside it returns those of the nearer end. Source: OpenStax
// Chemistry 2e, Appendix E, exact at its rows; between them ln p is linear in
// 1/T, which costs less than 0.1 %.
func WaterVapourPressure(t measure.Celsius) (kPa, slope float64) {
	t = liquid(t)
	rows := vapourRows
	i := 1
	for i < len(rows)-1 && t > rows[i].at {
		i++
	}
	low, high := rows[i-1], rows[i]
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
