package measure

import (
	"math/big"
	"slices"
	"strconv"
	"strings"

	"hepar/recipe/fault"
)

// maxLength is the longest text read as a quantity, in characters. The longest
// sensible one ("1 1/4 imperial fluid ounces per imperial gallon") is well below.
const maxLength = 64

// Parse reads a quantity of any dimension: "7.5 g/L", "1 1/4 in", "75 °C",
// "1 min 30 s", "3 oz/gal", "½ cup". Spaces between number and unit are optional.
// The number is a plain decimal, or a fraction. Its mark is a point, or a comma that cannot
// mark thousands: "9,45 L", but not "1,500 g". A quantity without a unit, an exponent, a range and a negative figure (other than
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
	number, rest, plainly := simply(text)
	if !plainly {
		plain := tidy(text)
		err := wrongText(plain, text, want)
		if err == nil {
			number, rest, err = readNumber(plain, text)
		}
		if err != nil {
			return Quantity{}, err
		}
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

// simply reads the usual way to write a quantity, a plain decimal and a unit of the table, without
// the patterns that make other ways plain and say what is wrong with them.
func simply(text string) (number float64, unit string, ok bool) {
	text = strings.Trim(text, " ")
	unit = strings.TrimLeft(text, "0123456789")
	if point := strings.TrimPrefix(unit, "."); point != unit {
		unit = strings.TrimLeft(point, "0123456789")
	}
	figure := strings.TrimSuffix(text, unit)
	number, err := strconv.ParseFloat(figure, 64)
	unit = strings.TrimPrefix(unit, " ")
	_, unknown := find(unit)
	return number, unit, err == nil && unknown == nil && !strings.HasSuffix(figure, ".")
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

func typed[T ~float64](text string, want Dimension) (T, error) {
	x, err := parseAs(text, want)
	return T(x), err
}

// ParseMass reads a mass such as "14.5 g", "0.5 oz" (avoirdupois) or "1 ozt" in
// grams. It refuses volumes.
func ParseMass(text string) (Grams, error) { return typed[Grams](text, Mass) }

// ParseVolume reads a volume such as "850 mL", "1.5 L" or "1 imp gal" in liters.
// A bare "oz" is refused with the choices named.
func ParseVolume(text string) (Liters, error) { return typed[Liters](text, Volume) }

// ParseLength reads a length such as "32 mm" or "1 1/4 in" in millimeters.
func ParseLength(text string) (Millimeters, error) { return typed[Millimeters](text, Length) }

// ParseArea reads an area such as "27 cm2" or "4 in2" in square centimeters.
func ParseArea(text string) (SquareCM, error) { return typed[SquareCM](text, Area) }

// ParseTemperature reads a temperature such as "75 C", "167 F" or "348 K" in
// degrees Celsius. Below absolute zero (-273.15 C) is an error.
func ParseTemperature(text string) (Celsius, error) { return typed[Celsius](text, Temperature) }

// ParseDuration reads a time such as "10 s", "1 min 30 s", "90s" or "4 h" in seconds.
func ParseDuration(text string) (Seconds, error) { return typed[Seconds](text, Time) }

// ParseWatts reads a power such as "300 W" or "1.2 kW" in watts.
func ParseWatts(text string) (float64, error) { return parseAs(text, Power) }

// ParseLoad reads a bath load such as "2 dm2/L" or "0.8 ft2/US gal" in dm2/L.
func ParseLoad(text string) (SquareDMPerLiter, error) { return typed[SquareDMPerLiter](text, Load) }

// ParseSpread reads a spread such as "80 mL/m2" or "2 US gal/1000 ft2" in mL/m2.
func ParseSpread(text string) (MillilitersPerSquareM, error) {
	return typed[MillilitersPerSquareM](text, Spread)
}

// ParseRatio reads a plain ratio as a number: "0.1", "10 %", "1:10" and "1/10" are
// all 0.1. 1:10 is one part over ten parts, not one part in eleven.
func ParseRatio(text string) (float64, error) {
	if err := tooLong(text); err != nil {
		return 0, err
	}
	if _, _, plainly := simply(text); plainly {
		return parseAs(text, Ratio)
	}
	plain := tidy(text)
	if err := wrongText(plain, text, Ratio); err != nil {
		return 0, err
	}
	over, under, parts := strings.Cut(plain, ":")
	x, rest, err := readNumber(strings.TrimSpace(over), text)
	if parts {
		y, more, badly := readNumber(strings.TrimSpace(under), text)
		if err != nil || badly != nil || rest+more != "" || x < 0 || y <= 0 {
			return 0, fault.Usagef("%s is not a ratio of two numbers", quote(text)).Try("write it like 1:10")
		}
		x /= y
	}
	switch {
	case err != nil:
		return 0, err
	case rest != "":
		return parseAs(text, Ratio)
	case x < 0:
		return 0, fault.Usagef("%s is negative", quote(text)).Try("leave out the minus sign")
	}
	return x, inRange(x, text)
}

// ParseCount reads a whole number from lo to hi, such as a number of pieces.
func ParseCount(text string, lo, hi int) (int, error) {
	plain := strings.TrimSpace(text)
	cure := func(e *fault.Error) (int, error) {
		return 0, e.Try("write a whole number from %d to %d in plain digits", lo, hi)
	}
	if len(plain) > maxLength {
		return cure(fault.Usagef("a number of %d characters is too long", len(plain)))
	}
	if bare := strings.TrimPrefix(plain, "-"); bare == "" || strings.Trim(bare, "0123456789") != "" {
		return cure(fault.Usagef("%s is not a whole number", quote(text)))
	}
	n, err := strconv.Atoi(plain)
	if err != nil || n < lo || n > hi {
		return cure(fault.Usagef("%s must be from %d to %d", quote(text), lo, hi))
	}
	return n, nil
}

// Number returns a parser of a plain number in a unit, which may be left out.
func Number(unit string, least, most float64, cure string) func(string) (float64, error) {
	return func(text string) (float64, error) {
		plain := strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(text), unit))
		x, err := strconv.ParseFloat(pointed(plain), 64)
		if err != nil || !(x >= least && x <= most) {
			in := ""
			if unit != "" {
				in = " " + unit
			}
			err = fault.Usagef("%s is not a number from %v to %v%s", quote(text), least, most, in).Try("%s", cure)
		}
		return x, err
	}
}

// compoundTime adds up a time of several parts such as "1 h 30 min" or "1min30s".
// number and rest are what stands before and after the end of the first number. ok
// is false when this is not such a time. The parts run from long to short; all but
// the last are whole, and a part after the first is less than one of the part before.
func compoundTime(number float64, rest, text string) (seconds float64, ok bool, err error) {
	word, tail := letters(rest)
	if !startsDigit(tail) {
		return 0, false, nil
	}
	unit, known := simple(word)
	if !known || unit.Dimension != Time {
		return 0, false, nil
	}
	bad := func(what string) (float64, bool, error) {
		return 0, true, fault.Usagef("%s %s", quote(text), what).Try("write a time like 1 min 30 s or 4 h 15 min")
	}
	if number < 0 {
		return bad("is negative")
	}
	for {
		size := float64(unit.num) / float64(unit.den)
		seconds += number * size
		if tail == "" {
			return seconds, true, inRange(seconds, text)
		}
		if number != float64(int64(number)) {
			return bad("has a part of " + unit.Symbol + " before a smaller unit")
		}
		number, rest, err = readNumber(strings.TrimPrefix(tail, " "), text)
		if err != nil {
			return 0, true, err
		}
		word, tail = letters(rest)
		next, known := simple(word)
		switch {
		case rest == "":
			return bad("ends with a number that has no unit")
		case !known || next.Dimension != Time || tail != "" && !startsDigit(tail):
			return bad("has a part that is not a time")
		}
		nextSize := float64(next.num) / float64(next.den)
		if nextSize >= size {
			return bad("does not run from the longer unit to the shorter")
		}
		if number < 0 || number*nextSize >= size {
			return bad("has more " + next.Symbol + " than fit in one " + unit.Symbol)
		}
		unit = next
	}
}

func letters(s string) (head, tail string) {
	i := 0
	for i < len(s) && (s[i]|0x20 >= 'a' && s[i]|0x20 <= 'z') {
		i++
	}
	return s[:i], s[i:]
}

func startsDigit(s string) bool {
	s = strings.TrimPrefix(s, " ")
	return s != "" && digit(s[0])
}
