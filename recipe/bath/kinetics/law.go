// Package kinetics is the law by which a sulfide bath works: how long a dip takes at another
// temperature and strength, what the film binds, and how the bath fades. Other baths have none.
//
// Make a [Law] of [Silver] or [Copper], what is assumed until the bench has taught better,
// with a time that is known to come out right.
//
// What it promises: a time is finite, never shorter at a lower temperature or strength, and
// inside its band. What it does not: that the assumed constants are those of your bath. No
// activation energy of silver or copper in polysulfide was found in print; the band says how
// little is known, and a test piece overrules it.
package kinetics

import (
	"math"

	"hepar/recipe/measure"
)

// GasConstant is R in J/(mol K) (CODATA 2018, exact).
const GasConstant = 8.31446261815324

// Longest bounds a dip time, in s: a day. A time that comes out at it will not do.
const Longest measure.Seconds = 24 * 3600

// Prior is what is assumed of a metal until the bench has taught better. Spreads are
// one standard deviation: two in three of such guesses should lie inside.
type Prior struct {
	EaKJ        float64 `json:"ea_kj_mol"` // activation energy
	EaSpread    float64 `json:"-"`
	Order       float64 `json:"order"` // in the strength
	OrderSpread float64 `json:"-"`
	Film        Film    `json:"-"` // of a full black
	Makers      float64 `json:"-"` // by what factor the times of different makers for one look differ
	Source      string  `json:"source"`
}

// The priors. All figures are assumed, from a survey of some eighty printed
// statements of practice (times with hot and cold, strong and weak baths); none is a
// measurement of this reaction. Films are dense equivalents.
var (
	Silver = Prior{EaKJ: 38, EaSpread: 14, Order: 0.85, OrderSpread: 0.2, Makers: 2,
		Film: Film{Name: "Ag2S", Molar: 2*107.8682 + sulfur, Density: 7.23, NM: 150}, Source: "assumed: fitted to statements of practice for silver"}
	Copper = Prior{EaKJ: 24, EaSpread: 12, Order: 0.9, OrderSpread: 0.2, Makers: 2,
		Film: Film{Name: "Cu2S", Molar: 2*63.546 + sulfur, Density: 5.6, NM: 250}, Source: "assumed: fitted to statements of practice for copper"}
)

// Law is the dip-time law with its constants put in:
//
//	t = t0 (C/C0)^-a exp(Ea/R (1/T - 1/T0))
//
// The zero Law is no law: see Known.
type Law struct {
	T0       measure.Seconds `json:"t0_s"`     // that is right
	At       measure.Celsius `json:"at_c"`     // at this temperature
	Strength float64         `json:"strength"` // and this strength, against the recipe's
	Low      float64         `json:"low"`      // factors between which the right time may lie there: 0.5
	High     float64         `json:"high"`     // and 2
	Prior
}

// Known says whether there is a law.
func (l Law) Known() bool { return l.T0 > 0 && l.At.Kelvin() > 0 && l.Strength > 0 }

// Time returns the dip that makes the same film at another temperature and strength,
// from 0 s to Longest; a bath without strength takes Longest.
func (l Law) Time(at measure.Celsius, strength float64) measure.Seconds {
	inverse, ln, ok := l.distance(at, strength)
	if !ok {
		return Longest
	}
	return limit(float64(l.T0) * math.Exp(l.EaKJ*1000/GasConstant*inverse-l.Order*ln))
}

// Band returns the shortest and the longest time that the doubt in the known time, in
// both constants and in the temperature, in K, leaves. Logarithms are added: the doubt in
// the known time as it is, the others as the root of the sum of their squares.
func (l Law) Band(at, kelvins measure.Celsius, strength float64) (low, high measure.Seconds) {
	if _, _, ok := l.distance(at, strength); !ok {
		return Longest, Longest
	}
	e, o, h := l.Doubt(at, kelvins, strength)
	factor, t := math.Exp(math.Hypot(math.Hypot(e, o), h)), float64(l.Time(at, strength))
	below, above := l.Low, l.High
	if !(below > 0) {
		below = 1
	}
	return limit(t * min(1, below) / factor), limit(t * max(1, above) * factor)
}

// Doubt returns what the doubt in each constant, one standard deviation, and in the
// temperature does to the logarithm of a time there.
func (l Law) Doubt(at, kelvins measure.Celsius, strength float64) (energy, order, heat float64) {
	inverse, ln, _ := l.distance(at, strength)
	return l.EaSpread * 1000 / GasConstant * inverse, l.OrderSpread * ln, l.EaKJ * 1000 / GasConstant * float64(kelvins) / math.Pow(at.Kelvin(), 2)
}

// distance is how far a bath is from the known one: 1/T - 1/T0 in 1/K and ln C/C0.
func (l Law) distance(at measure.Celsius, strength float64) (inverse, ln float64, ok bool) {
	k := at.Kelvin()
	if !l.Known() || !(k > 0 && strength > 0) || math.IsInf(k, 0) || math.IsInf(strength, 0) {
		return 0, 0, false
	}
	return 1/k - 1/l.At.Kelvin(), math.Log(strength / l.Strength), true
}

func limit(t float64) measure.Seconds {
	if !(t > 0) {
		return 0
	}
	return min(measure.Seconds(t), Longest)
}

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
	// Stirred is by how much pieces that are moved in it speed it up: assumed, 2 to 3.
	Stirred = 2.5
	// hotLoss is what a bath at 75 C loses by disproportionation, a part an hour, good
	// to a factor of 3; 104 kJ/mol after Licht and Davis, J. Phys. Chem. B 101 (1997).
	hotLoss, hotEaKJ, hotAt = 0.005, 104, 75
)

// Fade returns the share of a fresh bath's strength that is lost each second, with so many
// g of reagent when fresh and an open surface in m2, while pieces are moved in it or not.
// perHour is what a bath left alone loses of the reagent, in g/(m2 h), such as
// [LiverFade]; 0 for a bath that does not fade.
//
// Oxygen through the surface limits it, so that the loss hardly depends on the strength
// and the temperature. Hot baths lose a little more by themselves.
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
