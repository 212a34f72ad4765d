package measure

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"hepar/recipe/fault"
)

// quote puts a text into a message: cut short, and with nothing in it that could
// act on a terminal.
func quote(text string) string { return `"` + printable(text) + `"` }

func printable(text string) string {
	const room = 40
	text = Clean(text)
	if utf8.RuneCountInString(text) <= room {
		return text
	}
	return string([]rune(text)[:room]) + "..."
}

// long tells whether a text is too long to be a quantity.
func long(text string) bool {
	return len(text) > maxLength && (len(text) > utf8.UTFMax*maxLength || utf8.RuneCountInString(text) > maxLength)
}

func tooLong(text string) *fault.Error {
	return fault.Usagef("a quantity of %d characters is too long", utf8.RuneCountInString(text)).Try("write a number and a unit, such as 7.5 g/L")
}

func noUnit(text string, want Dimension) *fault.Error {
	return fault.Usagef("%s has no unit", quote(text)).Try("write the unit after the number, such as %s", want.example())
}

func noNumber(text string) *fault.Error {
	return fault.Usagef("%s does not start with a number", quote(text)).Try("write a number and a unit, such as 7.5 g/L")
}

func unknownUnit(unit string) *fault.Error {
	e := fault.Usagef("the unit %s is not known", quote(unit))
	if near := otherCase(unit); near != "" {
		return e.Try("capitals count here: write %s if that is meant", near)
	}
	return e.Try("use g kg oz ozt lb, mL L US gal, mm cm in, cm2 in2, C F, s min h, g/L mL/L oz/gal %% w/v")
}

// otherCase looks for a unit that differs by capitals only.
func otherCase(unit string) string {
	parts := strings.Split(unit, "/")
	for i, part := range parts {
		u, ok := simple(part)
		at := slices.IndexFunc(table, func(e entry) bool { return strings.EqualFold(e.unit.Symbol, part) })
		switch {
		case ok:
			parts[i] = u.Symbol
		case at >= 0:
			parts[i] = table[at].unit.Symbol
		default:
			return ""
		}
	}
	return strings.Join(parts, "/")
}

func wrongKind(text string, is, want Dimension) *fault.Error {
	e := fault.Usagef("%s is %s, but %s is expected", quote(text), is, want)
	switch {
	case want == Mass && is == Volume:
		return e.Try("weigh it; a spoon or a cup of a solid is no mass unless its bulk density is known")
	case want == Time && is == Length:
		return e.Try("write min for minutes; m is the meter (1 min 30 s)")
	}
	return e.Try("write it like %s", want.example())
}

// wrongText refuses what cannot be a quantity before any number is read.
func wrongText(plain, text string, want Dimension) error {
	if plain == "" {
		return fault.Usagef("the quantity is empty").Try("write a number and a unit, such as %s", want.example())
	}
	if !utf8.ValidString(text) {
		return fault.Usagef("%s is not readable text", quote(text)).Try("type it again with plain letters and digits")
	}
	for _, r := range plain {
		if unicode.IsControl(r) || unicode.Is(unicode.Cf, r) {
			return fault.Usagef("%s contains an invisible character", quote(text)).Try("type it again with plain letters and digits")
		}
	}
	lower := strings.ToLower(plain)
	switch c := plain[0]; {
	case c == '+':
		return fault.Usagef("%s starts with a plus sign", quote(text)).Try("leave the plus sign out")
	case c == '~' || c == '<' || c == '>' || c == '=' || strings.HasPrefix(lower, "about ") || strings.HasPrefix(lower, "ca ") ||
		strings.HasPrefix(lower, "approx") || strings.HasPrefix(lower, "circa "):
		return fault.Usagef("%s is not an exact figure", quote(text)).Try("write one figure, such as %s", want.example())
	}
	word, tail := letters(lower)
	if (word == "nan" || strings.HasPrefix(word, "inf")) || strings.HasPrefix(lower, "-inf") || strings.HasPrefix(lower, "-nan") {
		return fault.Usagef("%s is not a number", quote(text)).Try("write a number and a unit, such as %s", want.example())
	}
	if !strings.ContainsAny(plain, "0123456789½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅐⅛⅜⅝⅞⅑⅒") || word != "" && tail != "" && sizeWord(word) {
		return wordOnly(lower, text, want)
	}
	return nil
}

// wordOnly answers a text that is a word and no figure.
func wordOnly(lower, text string, want Dimension) error {
	for _, w := range strings.FieldsFunc(lower, func(r rune) bool { return !unicode.IsLetter(r) }) {
		if sizeWord(w) {
			return fault.Usagef("%s is a size in words, not a measure", quote(text)).Try("weigh it and write grams, such as 1.2 g")
		}
		if heatWord(w) {
			return fault.Usagef("%s is a temperature in words, not a measure", quote(text)).Try("measure it with a thermometer and write degrees, such as 60 C")
		}
	}
	return fault.Usagef("%s has no number", quote(text)).Try("write a number and a unit, such as %s", want.example())
}

func sizeWord(w string) bool {
	const words = " pea peppercorn thumbnail fingernail chip lump rock pinch dash handful walnut bean almond hazelnut chunk piece crumb bit some nut" +
		" spoon spoonful splash grape marble pinche dashe splashe pea-sized pea-size "
	return strings.Contains(words, " "+strings.TrimSuffix(w, "s")+" ")
}

func heatWord(w string) bool {
	const words = " hot warm cold cool lukewarm tepid steaming boiling boil simmer simmering iced ice tap room ambient "
	return strings.Contains(words, " "+w+" ")
}

func ounceWord(unit string) bool {
	return slices.Contains([]string{"oz", "ozs", "ounce", "ounces", "us oz", "imp oz", "oz us", "uk oz"}, strings.ToLower(unit))
}

// ambiguous refuses a unit that means two things, and names them.
func ambiguous(unit string) error {
	switch unit {
	case "T", "t":
		return fault.Usagef("the unit %s could be a spoon or a tonne", quote(unit)).Try("write tbsp, tsp or kg")
	case "c":
		return fault.Usagef("the unit %s could be a cup or a temperature", quote(unit)).Try("write US cup (237 mL), metric cup (250 mL) or C")
	}
	switch lower := strings.ToLower(unit); lower {
	case "dram", "drams", "drachm", "drachms", "dr", "drs":
		return fault.Usagef("the unit %s means three things", quote(unit)).
			Try("write 3.888 g (apothecary dram), 1.772 g (avoirdupois) or 3.70 mL (US fluid dram)")
	case "fluid dram", "fl dr", "fluid drachm", "fluid drams", "fluid drachms":
		return fault.Usagef("the unit %s means two things", quote(unit)).Try("write 3.70 mL (US fluid dram) or 3.55 mL (imperial fluid drachm)")
	case "mil", "mils":
		return fault.Usagef("the unit %s means three things", quote(unit)).Try("write thou (0.001 in), mL or mm")
	case "ppm", "parts per million":
		return fault.Usagef("the unit %s means different things in a bath", quote(unit)).
			Try("write mg/L (mass per volume), ppm w/w (by mass) or ppm v/v (by volume)")
	case "us oz", "imp oz", "uk oz", "imperial oz", "oz us", "liquid oz", "liquid ounce":
		return fault.Usagef("the unit %s could be a weight or a liquid measure", quote(unit)).
			Try("write oz (28.35 g), ozt (31.10 g), US fl oz (29.57 mL) or imp fl oz (28.41 mL)")
	case "drop", "drops", "gtt":
		return fault.Usagef("the unit %s has no fixed size", quote(unit)).Try("measure it in mL with a pipette or a syringe")
	case "ton", "tons", "tonne", "tonnes":
		return fault.Usagef("the unit %s is too large for a bath", quote(unit)).Try("write kg")
	case "n", "normal":
		return fault.Usagef("normality, %s, depends on the reaction", quote(unit)).Try("write mol/L")
	}
	for _, w := range strings.Fields(strings.ToLower(unit)) {
		if sizeWord(w) {
			return fault.Usagef("%s is a size in words, not a unit", quote(unit)).Try("weigh it and write grams, such as 1.2 g")
		}
	}
	return nil
}
