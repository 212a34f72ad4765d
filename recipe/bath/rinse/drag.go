// Package rinse is what clings to the pieces and where it goes: drag-out, the
// tubs of a rinse, and acid that comes along into a sulfide bath.
//
// [Carried] is the liquid on the pieces, by area and by how well they drain ([Habit]).
// [Row.Dip] takes each load through a [Row] of static tubs. [CounterFlow] is the water of
// a running rinse, in one tub or against the work. [GasFreed] is for the safety review:
// what a bad rinse brings into the bath.
//
// What it promises: figures are finite and not negative, and every tub is taken
// as fully mixed, which is the best that a rinse can do. Real ones are worse:
// move the pieces. The drag-out figures are from memory and differ by a factor of
// ten between a flat disc and a cup; weigh a wet load and a dry one for your own.
package rinse

import (
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/reagent"
)

// The liquid that clings to a surface, in mL/m2, by shape and drain. All are the
// classic table of the plating handbooks, from memory, in US gal per 1000 ft2
// there (1 of these is 40.75 mL/m2).
const (
	Well     measure.MillilitersPerSquareM = 16.3 // hung upright, well drained: 0.4
	Poor     measure.MillilitersPerSquareM = 81.5 // hung upright, poorly drained: 2
	VeryPoor measure.MillilitersPerSquareM = 163  // hung upright, very poorly drained: 4

	FlatWell     measure.MillilitersPerSquareM = 32.6  // lying flat, well drained: 0.8
	FlatVeryPoor measure.MillilitersPerSquareM = 407.5 // lying flat, very poorly drained: 10
	Cups         measure.MillilitersPerSquareM = 978   // shapes that hold liquid: 8 to 24, the upper end
)

// Source is where the drag-out figures come from.
const Source = "plating handbook table, from memory"

// habits are the words for the drag-out figures, best first.
var habits = [...]struct {
	Word  string
	Drain measure.MillilitersPerSquareM
}{{"well", Well}, {"flat-well", FlatWell}, {"poor", Poor}, {"very-poor", VeryPoor}, {"flat-very-poor", FlatVeryPoor}, {"cups", Cups}}

// Habit returns the drag-out for a word such as "well" or "very-poor". It is an
// error of kind Usage when there is no such word.
func Habit(word string) (measure.MillilitersPerSquareM, error) {
	for _, h := range habits {
		if h.Word == word {
			return h.Drain, nil
		}
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
// holds, see [reagent.Form.GasFreed]. It is an error of kind Usage when the substance
// is not known as an acid or its strength not known.
func GasFreed(acid reagent.Substance, form reagent.Form, mass measure.Grams) (measure.Grams, error) {
	switch molar := reagent.MolarMass(form.Formula); {
	case acid.AcidEquivalents <= 0:
		return 0, fault.Usagef("no equivalents are known of %s as an acid", acid.ID).Try("choose an acid of the table")
	case molar == 0 || form.MassPercent <= 0:
		return 0, fault.Usagef("the strength of %s (%s) is not known", acid.ID, form.Name).Try("read it from the label and give it in percent by mass")
	case !(mass >= 0 && mass <= 1e9):
		return 0, fault.Usagef("a mass of %g g of acid", float64(mass)).Try("give a mass of 0 g or more")
	default:
		equivalents := float64(mass) * form.MassPercent / 100 / molar * float64(acid.AcidEquivalents)
		return measure.Grams(equivalents * h2sMolar), nil
	}
}
