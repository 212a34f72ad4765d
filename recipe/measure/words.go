package measure

import (
	"regexp"
	"slices"
	"strings"
	"sync"
	"unicode/utf8"

	"hepar/recipe/fault"
)

// quote puts a text into a message: cut short, with nothing in it that acts on a terminal.
func quote(text string) string { return `"` + printable(text) + `"` }

func printable(text string) string {
	const room = 40
	text = Clean(text)
	if runes := []rune(text); len(runes) > room {
		return string(runes[:room]) + "..."
	}
	return text
}

func tooLong(text string) error {
	n := utf8.RuneCountInString(text)
	if n <= maxLength {
		return nil
	}
	return fault.Usagef("a quantity of %d characters is too long", n).Try("write a number and a unit, such as 7.5 g/L")
}

func notFound(part, unit string) error {
	if err := ambiguous(part); err != nil {
		return err
	}
	e := fault.Usagef("the unit %s is not known", quote(unit))
	if near := otherCase(unit); near != "" {
		return e.Try("capitals count here: write %s if that is meant", near)
	}
	return e.Try("use g kg oz ozt lb, mL L US gal, mm cm in, cm2 in2, C F, s min h, g/L mL/L oz/gal %% w/v")
}

func otherCase(unit string) string {
	parts := strings.Split(unit, "/")
	for i, part := range parts {
		at := slices.IndexFunc(table, func(e entry) bool { return strings.EqualFold(e.unit.Symbol, part) })
		if at < 0 {
			return ""
		}
		parts[i] = table[at].unit.Symbol
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

// sizes are words for an amount, in the singular.
const sizes = `(?:pea|peppercorn|thumbnail|fingernail|chip|lump|rock|pinch|pinche|dash|dashe|handful|walnut|bean|almond|hazelnut|chunk|piece|` +
	`crumb|bit|some|nut|spoon|spoonful|splash|splashe|grape|marble)s?(?:[^a-z]|$)`

var sizeWord = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`(?i)(?:^| )` + sizes) })

// unread are texts that hold no figure, or none that can be taken.
var unread = sync.OnceValue(func() []refusal {
	const such, none = "write a number and a unit, such as %s", `[^0-9]*`
	return []refusal{
		{regexp.MustCompile(`[\p{Cc}\p{Cf}]`), "contains an invisible character", "type it again with plain letters and digits"},
		{regexp.MustCompile(`^\+`), "starts with a plus sign", "leave the plus sign out"},
		{regexp.MustCompile(`(?i)^([~<>=]|approx|(about|ca|circa) )`), "is not an exact figure", "write one figure, such as %s"},
		{regexp.MustCompile(`(?i)^-?(inf|nan([^a-z]|$))`), "is not a number", such},
		{regexp.MustCompile(`(?i)^(` + none + `[^a-z])?` + sizes), "is a size in words, not a measure", "weigh it and write grams, such as 1.2 g"},
		{regexp.MustCompile(`(?i)^` + none + `\b(hot|warm|cold|cool|lukewarm|tepid|steaming|boil(ing)?|simmer(ing)?|iced?|tap|room|ambient)\b` + none + `$`),
			"is a temperature in words, not a measure", "measure it with a thermometer and write degrees, such as 60 C"},
		{regexp.MustCompile(`^` + none + `$`), "has no number", such},
	}
})

func wrongText(plain, text string, want Dimension) error {
	if plain == "" {
		return fault.Usagef("the quantity is empty").Try("write a number and a unit, such as %s", want.example())
	}
	if !utf8.ValidString(text) {
		return fault.Usagef("%s is not readable text", quote(text)).Try("type it again with plain letters and digits")
	}
	list := unread()
	if digit(plain[0]) {
		list = list[:1] // the others begin with something else
	}
	return refuse(list, plain, text, want.example())
}

func ounceWord(unit string) bool {
	return slices.Contains([]string{"oz", "ozs", "ounce", "ounces", "us oz", "imp oz", "oz us", "uk oz"}, strings.ToLower(unit))
}

// doubtful are units that mean two things, or nothing exact.
var doubtful = []struct{ units, what, cure string }{
	{"t", "the unit %s could be a spoon or a tonne", "write tbsp, tsp or kg"},
	{"c", "the unit %s could be a cup or a temperature", "write US cup (237 mL), metric cup (250 mL) or C"},
	{"dram, drams, drachm, drachms, dr, drs", "the unit %s means three things",
		"write 3.888 g (apothecary dram), 1.772 g (avoirdupois) or 3.70 mL (US fluid dram)"},
	{"fluid dram, fl dr, fluid drachm, fluid drams, fluid drachms", "the unit %s means two things",
		"write 3.70 mL (US fluid dram) or 3.55 mL (imperial fluid drachm)"},
	{"mil, mils", "the unit %s means three things", "write thou (0.001 in), mL or mm"},
	{"ppm, parts per million, parts/million", "the unit %s means different things in a bath",
		"write mg/L (mass per volume), ppm w/w (by mass) or ppm v/v (by volume)"},
	{"us oz, imp oz, uk oz, imperial oz, oz us, liquid oz, liquid ounce", "the unit %s could be a weight or a liquid measure",
		"write oz (28.35 g), ozt (31.10 g), US fl oz (29.57 mL) or imp fl oz (28.41 mL)"},
	{"drop, drops, gtt", "the unit %s has no fixed size", "measure it in mL with a pipette or a syringe"},
	{"ton, tons, tonne, tonnes", "the unit %s is too large for a bath", "write kg"},
	{"n, normal", "normality, %s, depends on the reaction", "write mol/L"},
}

func ambiguous(unit string) error {
	lower := strings.ToLower(unit)
	for _, d := range doubtful {
		if slices.Contains(strings.Split(d.units, ", "), lower) {
			return fault.Usagef(d.what, quote(unit)).Try("%s", d.cure)
		}
	}
	if sizeWord().MatchString(unit) {
		return fault.Usagef("%s is a size in words, not a unit", quote(unit)).Try("weigh it and write grams, such as 1.2 g")
	}
	return nil
}
