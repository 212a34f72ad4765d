package shop

import (
	"strings"
	"unicode"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/strict"
)

// celsius reads a temperature between two limits.
func celsius(low, high float64) func(string) (measure.Celsius, error) {
	return func(text string) (measure.Celsius, error) {
		v, err := measure.ParseTemperature(text)
		if err != nil {
			return 0, err
		}
		return v, strict.Within(v, low, high, false, "C")
	}
}

// percent reads a figure with a percent sign, from 0 (with above: over it) to most.
// A bare number is refused: 0.5 could be a half or half a percent.
func percent(most float64, above bool) func(string) (float64, error) {
	return func(text string) (float64, error) {
		if !strings.Contains(text, "%") {
			return 0, fault.Usagef("%s has no percent sign", strict.Excerpt(text)).Try(`write it like "10 %%"`)
		}
		part, err := measure.ParseRatio(text)
		if err != nil {
			return 0, err
		}
		v := part * 100
		return v, strict.Within(v, 0, most, above, "%")
	}
}

// volume reads a volume and refuses a measure of two sizes.
func volume(text string) (measure.Liters, error) {
	if q, err := measure.Parse(text); err == nil && q.Unit.Ambiguous() {
		return 0, fault.Usagef("%s may be of two sizes", strict.Excerpt(text)).Try("write mL, L or m3; or say which, such as US gal or imp gal")
	}
	return measure.ParseVolume(text)
}

// mostMinutes bounds the work on one piece, in min: a day, as package yield takes.
const mostMinutes = 24 * 60

// minutes reads a time in minutes; none at all is allowed.
func minutes(text string) (float64, error) {
	v, err := measure.ParseDuration(text)
	if err != nil {
		return 0, err
	}
	if v.Minutes() > mostMinutes {
		return 0, fault.Usagef("more than a day").Try("give at most 24 h; look at the unit too")
	}
	return v.Minutes(), nil
}

// mostMoney bounds a price.
const mostMoney = 1e6

// money reads "38 EUR per h" or "38 EUR/h": a plain number, a word for the money or
// none, and what it is for.
func money(text, per string) (amount float64, currency string, err error) {
	bad := func(what string) (float64, string, error) {
		return 0, "", fault.Usagef("%s %s", strict.Excerpt(text), what).Try("write it like \"38 per %s\" or \"38 EUR per %s\"", per, per)
	}
	rest := strings.TrimSpace(text)
	i := 0
	for i < len(rest) && (rest[i] >= '0' && rest[i] <= '9' || rest[i] == '.') {
		i++
	}
	number, rest := rest[:i], strings.TrimSpace(rest[i:])
	switch {
	case strings.HasPrefix(rest, "-"):
		return bad("is negative")
	case number == "":
		return bad("does not start with a number")
	case strings.HasPrefix(rest, ","):
		return bad("has a comma in its number")
	}
	head, unit, ok := strings.Cut(rest, "/")
	if !ok {
		var found bool
		if head, unit, found = strings.Cut(" "+rest+" ", " per "); !found {
			return bad("does not say for how much")
		}
	}
	if unit = strings.TrimSpace(unit); unit != per && !(per == "h" && unit == "hour") {
		return bad("is not per " + per)
	}
	amount, err = measure.ParseRatio(number)
	if err != nil {
		return bad("has no number that can be read")
	}
	if amount > mostMoney {
		return bad("is too much to be meant")
	}
	currency = strings.TrimSpace(head)
	if len(currency) > 12 || strings.ContainsFunc(currency, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.Is(unicode.Sc, r) }) {
		return bad("has no single word for the money")
	}
	return amount, currency, nil
}
