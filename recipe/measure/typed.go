package measure

import (
	"strconv"
	"strings"

	"hepar/recipe/fault"
)

// ParseMass reads a mass such as "14.5 g", "0.5 oz" (avoirdupois) or "1 ozt" in
// grams. It refuses volumes; for a spoon of a solid see [ParseSolidAmount].
func ParseMass(text string) (Grams, error) {
	x, err := parseAs(text, Mass)
	return Grams(x), err
}

// ParseVolume reads a volume such as "850 mL", "1.5 L" or "1 imp gal" in liters.
// A bare "oz" is refused with the choices named.
func ParseVolume(text string) (Liters, error) {
	x, err := parseAs(text, Volume)
	return Liters(x), err
}

// ParseLength reads a length such as "32 mm" or "1 1/4 in" in millimeters.
func ParseLength(text string) (Millimeters, error) {
	x, err := parseAs(text, Length)
	return Millimeters(x), err
}

// ParseArea reads an area such as "27 cm2" or "4 in2" in square centimeters.
func ParseArea(text string) (SquareCM, error) {
	x, err := parseAs(text, Area)
	return SquareCM(x), err
}

// ParseTemperature reads a temperature such as "75 C", "167 F" or "348 K" in
// degrees Celsius. Below absolute zero (-273.15 C) is an error.
func ParseTemperature(text string) (Celsius, error) {
	x, err := parseAs(text, Temperature)
	return Celsius(x), err
}

// ParseDuration reads a time such as "10 s", "1 min 30 s", "90s" or "4 h" in seconds.
func ParseDuration(text string) (Seconds, error) {
	x, err := parseAs(text, Time)
	return Seconds(x), err
}

// ParseWatts reads a power such as "300 W" or "1.2 kW" in watts.
func ParseWatts(text string) (float64, error) { return parseAs(text, Power) }

// ParseLoad reads a bath load such as "2 dm2/L" or "0.8 ft2/US gal" in dm2/L.
func ParseLoad(text string) (SquareDMPerLiter, error) {
	x, err := parseAs(text, Load)
	return SquareDMPerLiter(x), err
}

// ParseSpread reads a spread such as "80 mL/m2" or "2 US gal/1000 ft2" in mL/m2.
func ParseSpread(text string) (MillilitersPerSquareM, error) {
	x, err := parseAs(text, Spread)
	return MillilitersPerSquareM(x), err
}

// ParseDensity reads a density such as "10.49 g/cm3" or "1.2 kg/L" in g/cm3.
func ParseDensity(text string) (GramsPerCM3, error) {
	x, err := parseAs(text, MassPerVolume)
	return GramsPerCM3(x / 1000), err
}

// ParseSolidAmount reads an amount of a solid in grams: a mass as it stands, or a
// volume (a spoon, a cup, mL) times the bulk density of the solid as it lies in
// the spoon. With bulk 0 (not known) a volume is refused.
func ParseSolidAmount(text string, bulk GramsPerCM3) (Grams, error) {
	q, err := parse(text, Mass)
	if err != nil {
		return 0, err
	}
	if q.Unit.Dimension != Volume {
		return ParseMass(text)
	}
	if !(bulk > 0) || bulk > heaviest {
		return 0, fault.Usagef("%s of a solid has no fixed mass", quote(text)).Try("weigh it and write grams, or enter the bulk density of the solid")
	}
	liters, err := q.base()
	return Grams(liters * 1000 * float64(bulk)), err
}

// heaviest bounds a density in g/cm3: osmium, the densest metal, has 22.6
// (from memory).
const heaviest = 23

// ParseRatio reads a plain ratio as a number: "0.1", "10 %", "1:10" and "1/10" are
// all 0.1. 1:10 is one part over ten parts, not one part in eleven.
func ParseRatio(text string) (float64, error) {
	if long(text) {
		return 0, tooLong(text)
	}
	plain := tidy(text)
	if err := wrongText(plain, text, Ratio); err != nil {
		return 0, err
	}
	if over, under, ok := strings.Cut(plain, ":"); ok {
		a, arest, aerr := readNumber(strings.TrimSpace(over), text)
		b, brest, berr := readNumber(strings.TrimSpace(under), text)
		if aerr != nil || berr != nil || arest != "" || brest != "" || a < 0 || b <= 0 {
			return 0, fault.Usagef("%s is not a ratio of two numbers", quote(text)).Try("write it like 1:10")
		}
		return a / b, inRange(a/b, text)
	}
	x, rest, err := readNumber(plain, text)
	if err != nil {
		return 0, err
	}
	if rest != "" {
		return parseAs(text, Ratio)
	}
	if x < 0 {
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
	if long(plain) {
		return cure(fault.Usagef("a number of %d characters is too long", len(plain)))
	}
	if _, rest, ok := digits(strings.TrimPrefix(plain, "-")); !ok || rest != "" {
		return cure(fault.Usagef("%s is not a whole number", quote(text)))
	}
	n, err := strconv.Atoi(plain)
	if err != nil || n < lo || n > hi {
		return cure(fault.Usagef("%s is not from %d to %d", quote(text), lo, hi))
	}
	return n, nil
}

// Positive passes on a quantity that is more than zero and refuses zero. It wraps
// a typed parser: measure.Positive(measure.ParseMass(text)).
func Positive[T ~float64](x T, err error) (T, error) {
	if err != nil {
		return 0, err
	}
	if !(x > 0) {
		return 0, fault.Usagef("the quantity is not more than zero").Try("write a figure above zero")
	}
	return x, nil
}
