package rinse

import (
	"hepar/recipe/fault"
	"hepar/recipe/measure"
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

// Habits lists the words that [Habit] knows, from the least drag-out to the most.
func Habits() []string {
	words := make([]string, len(habits))
	for i, h := range habits {
		words[i] = h.Word
	}
	return words
}

// Habit returns the drag-out for a word such as "well" or "very-poor". It is an
// error of kind Usage when the word is not one of [Habits].
func Habit(word string) (measure.MillilitersPerSquareM, error) {
	for _, h := range habits {
		if h.Word == word {
			return h.Drain, nil
		}
	}
	return 0, fault.Usagef("no drain habit is called %q", measure.Clean(word)).
		Try("write well, flat-well, poor, very-poor, flat-very-poor or cups, or a figure such as 80 mL/m2")
}

// Carried is the liquid that pieces of an area in dm2 take along, in L. What is
// below zero counts as nothing.
func Carried(areaDM2 float64, drain measure.MillilitersPerSquareM) measure.Liters {
	return measure.Liters(clamp(areaDM2, 0, 1e9) / 100 * clamp(float64(drain), 0, 1e5) / 1000)
}

// clamp brings x between low and high; what is no number counts as low.
func clamp(x, low, high float64) float64 {
	if !(x > low) {
		return low
	}
	return min(x, high)
}
