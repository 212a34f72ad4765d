package kinetics

import (
	"math"

	"hepar/recipe/measure"
)

const sulfur = 32.06 // g/mol, IUPAC 2021

// Film is what a finish is made of, as far as its sulfur goes.
type Film struct {
	Name    string
	Molar   float64             // g/mol, with one sulfur in each
	Density measure.GramsPerCM3 // taken as dense; from memory
	NM      float64             // thickness
}

// Sulfur returns the sulfur that the film holds on an area in dm2, in g.
func (f Film) Sulfur(areaDM2 float64) measure.Grams {
	const cm2, cm = 100, 1e-7
	return measure.Grams(areaDM2 * cm2 * f.NM * cm * float64(f.Density) * sulfur / f.Molar)
}

// Strength returns the share of a bath's strength that the film on an area in dm2
// takes, of a bath with so much sulfide sulfur in g; 0 where it has none.
func (f Film) Strength(areaDM2, inBath float64) float64 {
	if inBath == 0 {
		return 0
	}
	return min(1, float64(f.Sulfur(areaDM2))/inBath)
}

// The constants of fading. All computed from constants from memory, or assumed.
const (
	// LiverFade is that of liver of sulfur, in g/(m2 h), good to a factor of 2.5.
	LiverFade = 2.6
	// Stirred is by how much pieces that are moved in it speed it up: assumed, two to
	// three times.
	Stirred = 2.5
	// hotLoss is what a bath at 75 C loses by disproportionation, a part an hour, good
	// to a factor of 3; 104 kJ/mol after Licht and Davis, J. Phys. Chem. B 101 (1997).
	hotLoss, hotEaKJ, hotAt = 0.005, 104, 75
)

// Fade returns the share of a fresh bath's strength that is lost each second: of a bath
// with so many g of reagent when fresh, an open surface in m2, at a temperature, while
// pieces are moved in it or not. perHour is what a bath left alone loses of the reagent,
// in g/(m2 h), such as [LiverFade]; 0 for a bath that does not fade.
//
// Oxygen through the open surface limits it, so the loss is nearly of zero order: so much
// an hour from each m2, whatever the strength and nearly whatever the temperature. Hot
// baths lose a little more by themselves.
func Fade(perHour, grams, surfaceM2 float64, at measure.Celsius, moved bool) float64 {
	if perHour == 0 {
		return 0
	}
	air := perHour * surfaceM2 / grams
	if moved {
		air *= Stirred
	}
	hot := hotLoss * math.Exp(hotEaKJ*1000/GasConstant*(1/measure.Celsius(hotAt).Kelvin()-1/at.Kelvin()))
	return (air + hot) / 3600
}
