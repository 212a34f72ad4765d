package measure

import (
	"math/big"
	"slices"
	"strings"

	"hepar/recipe/fault"
)

// maxLength is the longest text read as a quantity, in characters. The longest
// sensible one ("1 1/4 imperial fluid ounces per imperial gallon") is well below.
const maxLength = 64

// Parse reads a quantity of any dimension: "7.5 g/L", "1 1/4 in", "75 °C",
// "1 min 30 s", "3 oz/gal", "½ cup". Spaces between number and unit are optional.
// The number is a plain decimal with a point, or a fraction. A quantity without
// a unit, a decimal comma, an exponent, a range and a negative figure (other than
// a temperature) are usage errors that say what to write instead.
//
// Parse does not refuse zero; the caller does. Where a word has a namesake the
// quantity carries a [Quantity.Note] for the caller to print.
func Parse(text string) (Quantity, error) { return parse(text, 0) }

// parse reads a quantity. want is the dimension that the caller is after, or 0;
// it only sharpens the message, the caller checks the dimension.
func parse(text string, want Dimension) (Quantity, error) {
	if err := tooLong(text); err != nil {
		return Quantity{}, err
	}
	plain := tidy(text)
	if err := wrongText(plain, text, want); err != nil {
		return Quantity{}, err
	}
	number, rest, err := readNumber(plain, text)
	if err != nil {
		return Quantity{}, err
	}
	if rest == "" {
		return Quantity{}, fault.Usagef("%s has no unit", quote(text)).Try("write the unit after the number, such as %s", want.example())
	}
	if seconds, ok, err := compoundTime(number, rest, text); ok || err != nil {
		return Quantity{Number: seconds, Unit: Unit{Symbol: "s", Dimension: Time, num: 1, den: 1}}, err
	}
	if digitAfterUnit(rest) {
		if word, _ := letters(rest); want == Time && word == "m" {
			return Quantity{}, fault.Usagef("m in %s is the meter", quote(text)).Try("write min for minutes, as in 1 min 30 s")
		}
		return Quantity{}, fault.Usagef("%s contains more than one quantity", quote(text)).
			Try("write one number with one unit; only times are added up, as in 1 min 30 s")
	}
	if want == Volume && ounceWord(rest) {
		return Quantity{}, fault.Usagef("%s could be a weight or one of two fluid ounces", quote(text)).
			Try("write US fl oz (29.57 mL) or imp fl oz (28.41 mL)")
	}
	unit, err := find(rest)
	if err != nil {
		return Quantity{}, err
	}
	if number < 0 && unit.Dimension != Temperature {
		return Quantity{}, fault.Usagef("%s is negative", quote(text)).Try("leave out the minus sign; only a temperature can be below zero")
	}
	if err := inRange(number, text); err != nil {
		return Quantity{}, err
	}
	q := Quantity{Number: number + 0, Unit: unit}
	if r, err := q.rat(); err == nil && unit.Dimension == Temperature && r.Cmp(big.NewRat(-27315, 100)) < 0 { // exact, SI brochure
		return Quantity{}, fault.Usagef("%s is below absolute zero", quote(text)).
			Try("check the figure and the unit: absolute zero is -273.15 C, -459.67 F or 0 K")
	}
	return q, nil
}

// parseAs reads a quantity of one dimension and returns its value in the unit of that.
func parseAs(text string, want Dimension) (float64, error) {
	q, err := parse(text, want)
	if err != nil {
		return 0, err
	}
	if q.Unit.Dimension != want {
		return 0, wrongKind(text, q.Unit.Dimension, want)
	}
	return q.base()
}

// digitAfterUnit finds a second number after the unit, as in "1 lb 3 oz".
func digitAfterUnit(unit string) bool {
	_, after, _ := strings.Cut(unit, " ")
	return !strings.Contains(unit, "/1") && slices.ContainsFunc(strings.Fields(after), func(w string) bool { return digit(w[0]) })
}
