package gas

import (
	"math"
	"strconv"

	"hepar/recipe/measure"
)

// Molar masses in g/mol, from the IUPAC 2021 atomic weights.
const (
	H2SMass        = 34.076
	NH3Mass        = 17.031
	NO2Mass        = 46.005
	Cl2Mass        = 70.90
	SO2Mass        = 64.058
	ChloramineMass = 51.473 // NH2Cl
)

// LitersPerMol25C is the molar volume of air in L/mol at 25 C and one atmosphere, rounded
// as the lists of limits convert with it: footnote to 29 CFR 1910.1000 Table Z-1.
const LitersPerMol25C = 24.45

// MgPerM3 turns ppm of a gas into mg/m3 at 25 C and one atmosphere; molar in g/mol.
// Source: footnote to 29 CFR 1910.1000 Table Z-1.
func MgPerM3(ppm, molar float64) float64 {
	return within(ppm, 0, 1e6) * within(molar, 0, 1e4) / LitersPerMol25C
}

// PPM turns mg/m3 of a gas into ppm at 25 C and one atmosphere, the reverse of
// [MgPerM3]. At most 1e6, pure gas. A molar mass that is not above zero gives 0.
func PPM(mgPerM3, molar float64) float64 {
	if !(molar > 0) {
		return 0
	}
	return min(within(mgPerM3, 0, 1e12)*LitersPerMol25C/molar, 1e6)
}

// MixingFactor is K, 3, no unit: how much worse a real room is swept than one in which
// the air mixes at once. Values from 1 to 10 are in use; 3 is the usual choice, 10 is
// for dead corners. From memory. It divides the flow of air wherever one is used.
const MixingFactor = 3.0

// NearM3 is the nearest air round a spill or a bath in m3: 1, about what lies within
// an arm's reach. Assumed.
const NearM3 = 1.0

// exchange is the air that draughts and movement carry out of the nearest cubic metre,
// in m3/s: half its free surface as a half ball, 3.84 m2, times 0.05 m/s. Source: the
// two-zone model of occupational hygiene (near field and far field), from memory.
const exchange = 0.5 * 3.84 * 0.05

// Mixed is the concentration in ppm when grams of a gas are spread evenly through
// cubic metres of air: m/V, an instantaneous worst case. At most 1e6.
func Mixed(g measure.Grams, molar, m3 float64) float64 {
	if !(m3 > 0) {
		return 0
	}
	return PPM(within(float64(g), 0, 1e9)*1000/m3, molar)
}

// Airflow is the flow of air in m3/h that keeps a source of G mg/s at a concentration
// in mg/m3: K G/C. Source: dilution ventilation. V dC = G dt - Q' C dt. At a concentration that
// is not above zero no flow would do, and it returns the largest figure it knows, 1e12.
func Airflow(mgPerSecond, mgPerM3, k float64) float64 {
	if !(mgPerM3 > 0) {
		return 1e12
	}
	return min(within(k, 1, 10)*within(mgPerSecond, 0, 1e12)*3600/mgPerM3, 1e12)
}

// ClearMinutes is the time in minutes until the air of a room has fallen from one
// concentration to another, in any one unit, by so many air changes an hour:
// K (V/Q) ln(from/to). It ends when no more comes off, which only a meter shows.
// Source: the room purge equation. At most 1e6 minutes; 0 where from is not above to.
func ClearMinutes(from, to, changesPerHour, k float64) float64 {
	if !(from > to) {
		return 0
	}
	if !(to > 0) || !(changesPerHour > 0) {
		return 1e6
	}
	ratio := within(from/to, 1, 1e300)
	return min(within(k, 1, 10)*60/within(changesPerHour, 1e-6, 1e6)*math.Log(ratio), 1e6)
}

// figures rounds to three figures: an estimate has no more. Less than 1e-30 of anything is
// nothing.
func figures(x float64) float64 {
	if !(x > 1e-30) || math.IsInf(x, 0) {
		return 0
	}
	rounded, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'e', 2, 64), 64)
	return rounded
}
