package measure

import (
	"strconv"
	"strings"

	"hepar/recipe/fault"
)

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
		return cure(fault.Usagef("%s is not from %d to %d", quote(text), lo, hi))
	}
	return n, nil
}
