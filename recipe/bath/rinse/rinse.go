// Package rinse is what clings to the pieces and where it goes: [Carried] by area and [Habit],
// through a [Row] of static tubs or a running rinse ([CounterFlow]); [GasFreed] is for the
// safety review, what a bad rinse brings into the bath.
//
// What it promises: figures are finite and not negative, and every tub is taken
// as fully mixed, which is the best that a rinse can do. Real ones are worse:
// move the pieces. The drag-out figures are from memory and differ by a factor of
// ten between a flat disc and a cup; weigh a wet load and a dry one for your own.
package rinse

import (
	"math"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/reagent"
)

// Source is where the drag-out figures come from.
const Source = "plating handbook table, from memory"

// Poor is the habit that counts where none is given, in mL/m2.
const Poor measure.MillilitersPerSquareM = 81.5

// habits are the liquid that clings to a surface, in mL/m2, by shape and drain. All are the
// classic table of the plating handbooks, from memory, in US gal per 1000 ft2 there (1 of
// these is 40.75 mL/m2).
var habits = map[string]measure.MillilitersPerSquareM{
	"well": 16.3, "poor": Poor, "very-poor": 163, // hung upright: 0.4, 2, 4
	"flat-well": 32.6, "flat-very-poor": 407.5, // lying flat: 0.8, 10
	"cups": 978, // shapes that hold liquid: 8 to 24, the upper end
}

// Habit returns the drag-out for a word such as "well" or "very-poor". It is an
// error of kind Usage when there is no such word.
func Habit(word string) (measure.MillilitersPerSquareM, error) {
	if drain, ok := habits[word]; ok {
		return drain, nil
	}
	return 0, fault.Usagef("no drain habit is called %q", measure.Clean(word)).
		Try("write well, flat-well, poor, very-poor, flat-very-poor or cups, or a figure such as 80 mL/m2")
}

// Carried is the liquid that pieces of an area in dm2 take along, in L.
func Carried(areaDM2 float64, drain measure.MillilitersPerSquareM) measure.Liters {
	return measure.Liters(areaDM2 / 100 * float64(drain) / 1000)
}

// h2sMolar is the molar mass of H2S in g/mol (IUPAC 2021 atomic weights).
const h2sMolar = 34.076

// GasFreed is the hydrogen sulfide, in g, that a mass of acid frees at most in a
// sulfide bath that has enough to give: one mol for each acid equivalent, since
// one proton turns one HS- into H2S. It is an upper bound: carbonate and other
// alkali in the bath take up acid first, and the larger part may stay in the
// water. That is no reason to carry acid in. For the other bound, what the bath
// holds, see [reagent.Form.GasFreed]. It is false when the substance is not known as an
// acid, its strength is not known or the mass is zero.
func GasFreed(acid reagent.Substance, form reagent.Form, mass measure.Grams) (measure.Grams, bool) {
	molar := reagent.MolarMass(form.Formula)
	if acid.AcidEquivalents <= 0 || molar == 0 || form.MassPercent <= 0 || !(mass >= 0 && mass <= 1e9) {
		return 0, false
	}
	equivalents := float64(mass) * form.MassPercent / 100 / molar * float64(acid.AcidEquivalents)
	return measure.Grams(equivalents * h2sMolar), true
}

// MostTubs is the most tubs in a row that can be calculated.
const MostTubs = 8

// Row is a row of equal static tubs: the pieces go through all of them, in order,
// and the water stands until it is changed. A Row is a value: a copy is a
// row of its own. A new one is of clean water.
type Row struct {
	Volume measure.Liters    // of each tub, 0 or more
	Tubs   int               // up to [MostTubs]; those beyond it do not count
	at     [MostTubs]float64 // g/L in each tub
}

// Dip takes a load through the row and returns what clings to it behind the last
// tub, in g/L. The load comes in wet with carried liters of a liquid of bath g/L.
// In each tub it mixes fully and takes as much out as it brought:
// c = (V c + D c') / (V + D).
func (r *Row) Dip(bath measure.GramsPerLiter, carried measure.Liters) measure.GramsPerLiter {
	clings, drag := float64(bath), float64(carried)
	for i := range min(r.Tubs, MostTubs) {
		clings = (float64(r.Volume)*r.at[i] + drag*clings) / (float64(r.Volume) + drag)
		r.at[i] = clings
	}
	return measure.GramsPerLiter(clings)
}

// After is what [Row.Dip] would return, with the row left as it is.
func (r Row) After(bath measure.GramsPerLiter, carried measure.Liters) measure.GramsPerLiter {
	return r.Dip(bath, carried)
}

// Change empties the first tub and moves the others up a place, with a clean one
// at the end: the cleaner water does the work twice. Common practice, no
// published source.
func (r *Row) Change() {
	last := min(r.Tubs, MostTubs) - 1
	copy(r.at[:last], r.at[1:])
	r.at[last] = 0
}

// CounterFlow returns the water that a row of n rinses needs per liquid carried
// over, Q/D, when the water runs against the work and each rinse is fully mixed:
// the r that solves Cn/Cp = (r - 1) / (r^(n+1) - 1). The ratio Cp/Cn is from 1 to
// 1e12, n from 1 to 20; with n = 1 it is that of one running rinse, ratio - 1.
// The n-th root of the ratio is the usual shortcut and a little too large. Source:
// the mass balance of the stages.
func CounterFlow(ratio float64, n int) float64 {
	// (r^(n+1) - 1)/(r - 1) = 1 + r + ... + r^n, which rises and bends upward, so
	// that Newton's way down from a point above the root never passes it.
	r := math.Pow(ratio, 1/float64(n))
	for range 200 {
		value, slope := 1.0, 0.0
		for range n {
			slope = slope*r + value
			value = value*r + 1
		}
		next := max(0, r-(value-ratio)/slope)
		if !(next < r) {
			break
		}
		r = next
	}
	return r
}
