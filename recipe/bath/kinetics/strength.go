package kinetics

import (
	"math"

	"hepar/recipe/measure"
)

// A Sulfide is a film as far as its sulfur goes.
type Sulfide struct {
	Name    string
	Molar   float64             // g/mol, with one sulfur in each
	Density measure.GramsPerCM3 // of the film, taken as dense
}

// The two films. Molar masses from the IUPAC 2021 atomic weights (Ag 107.8682,
// Cu 63.546, S 32.06); densities from memory.
var (
	SilverFilm = Sulfide{Name: "Ag2S", Molar: 2*107.8682 + sulfur, Density: 7.23}
	CopperFilm = Sulfide{Name: "Cu2S", Molar: 2*63.546 + sulfur, Density: 5.6}
)

// BlackFilmNM is the film that a full black is taken to need, in nm. Assumed: the
// trade states none; colours end near 100 nm and a black is several times that.
const BlackFilmNM = 500

const sulfur = 32.06 // g/mol

// SulfurBound is the sulfur, in g, that a film holds on an area in dm2 at a
// thickness in nm, each from 0 up; what is below counts as 0.
func (s Sulfide) SulfurBound(areaDM2, filmNM float64) measure.Grams {
	if s.Molar <= 0 {
		return 0
	}
	const cm2, cm = 100, 1e-7
	volume := clamp(areaDM2, 0, 1e9) * cm2 * clamp(filmNM, 0, 1e9) * cm
	return measure.Grams(volume * clamp(float64(s.Density), 0, 30) * sulfur / s.Molar)
}

// Aged is the strength left after an age: strength x 2^(-age/halfLife). Air is
// what ages a bath, by an amount that differs from tub to tub: the half-life of a
// recipe is common practice, no published source. With a half-life of 0 (not
// known) nothing is taken off, and the caller has to say so.
func Aged(strength float64, age, halfLife measure.Seconds) float64 {
	strength = clamp(strength, 0, math.MaxFloat64)
	if !(halfLife > 0) || !(age > 0) {
		return strength
	}
	return strength * math.Exp2(-float64(min(age, math.MaxFloat64)/halfLife))
}
