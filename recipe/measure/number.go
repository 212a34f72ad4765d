package measure

import (
	"regexp"
	"strconv"
	"strings"
	"sync"

	"hepar/recipe/fault"
)

// numberForm matches 1 3/8, 1-3/8, 3/8, 0.5, .5 and 5, with a minus or without.
var numberForm = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^(?:(-) ?)?(?:(?:(\d+)[ -])?(\d+)/(\d+)|(\d*\.\d+|\d+))`)
})

// commaForm matches a number with a comma in it.
var commaForm = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^(-? ?\d+),(\d+)`) })

// pointed turns a comma that can only mark decimals into a point: with three digits behind it, it
// may mark thousands, unless there is a lone 0 before it.
func pointed(plain string) string {
	m := commaForm().FindStringSubmatch(plain)
	if m == nil || len(m[2]) == 3 && strings.Trim(m[1], "- ") != "0" || strings.HasPrefix(plain[len(m[0]):], ",") || strings.HasPrefix(plain[len(m[0]):], ".") {
		return plain
	}
	return strings.Replace(plain, ",", ".", 1)
}

func readNumber(plain, text string) (number float64, rest string, err error) {
	plain = pointed(plain)
	m := numberForm().FindStringSubmatch(plain)
	if m == nil {
		return 0, "", fault.Usagef("%s does not start with a number", quote(text)).Try("write a number and a unit, such as 7.5 g/L")
	}
	top, bottom := m[3], m[4]
	w, t, b := count(m[2]), count(top), count(bottom)
	switch {
	case bottom == "":
		number = count(m[5])
	case len(top) > 6 || len(bottom) > 6:
		return 0, "", fault.Usagef("the fraction in %s has too many digits", quote(text)).Try("write it as a decimal such as 0.375")
	case b == 0:
		return 0, "", fault.Usagef("%s divides by zero", quote(text)).Try("write a fraction such as 3/8")
	case w > 0 && t >= b:
		return 0, "", fault.Usagef("the fraction in %s is not less than 1", quote(text)).Try("write a mixed number such as 1 1/4, or a decimal")
	default:
		number = (w*b + t) / b // in one division
	}
	rest = plain[len(m[0]):]
	if err := afterNumber(rest, text); err != nil {
		return 0, "", err
	}
	if m[1] != "" {
		number = -number
	}
	return number, strings.TrimPrefix(rest, " "), nil
}

// count reads a plain decimal of a short text, so that the figure is finite; 0 for none.
func count(decimal string) float64 {
	x, _ := strconv.ParseFloat(decimal, 64)
	return x
}

func digit(c byte) bool { return c >= '0' && c <= '9' }

// misread are figures that mean two things, by what follows the number.
var misread = sync.OnceValue(func() []refusal {
	return []refusal{
		{regexp.MustCompile(`^[ '_]\d`), "has a space or mark between the digits of its number",
			"write the number without spaces or marks between its digits, such as 1500"},
		{regexp.MustCompile(`^[eE][-+]?\d`), "has an exponent", "write the number out as a plain decimal"},
		{regexp.MustCompile(`^[xX].`), "is not a plain decimal number", "write one number in plain decimals, such as 7.5"},
		{regexp.MustCompile(`^\.\d`), "has two points in its number", "write a plain decimal such as 7.5"},
		{regexp.MustCompile(`^\.`), "has a point and no digits after it", "write the digits after the point, or leave the point out"},
		{regexp.MustCompile(`^/[^A-Za-z]*$`), "has a fraction without a denominator", "write it like 3/8 in or 1 1/4 in"},
		{regexp.MustCompile(`^/`), "has no unit before the slash", "write it like 7.5 g/L"},
		{regexp.MustCompile(`^ ?(-|\+|to )`), "is a range: one figure is expected",
			"write one figure; in a recipe write { at = ..., from = ..., to = ... }"},
		{regexp.MustCompile(`^ ?[*:]`), "is not one number with a unit", "write one number with its unit, such as 7.5 g/L or 1 min 30 s"},
		{regexp.MustCompile(`^,(\D|$)`), "has a comma in its number", "write decimals with a point, such as 7.5"},
		{regexp.MustCompile(`^,\d{3}[.,]`), "has commas between its thousands", "leave the commas out, as in 1500"},
	}
})

// refusal is a form of text that is no quantity, what is wrong with it and what to do.
type refusal struct {
	form       *regexp.Regexp
	what, cure string
}

func refuse(list []refusal, plain, text, example string) error {
	for _, r := range list {
		if r.form.MatchString(plain) {
			return fault.Usagef("%s %s", quote(text), r.what).Try("%s", strings.Replace(r.cure, "%s", example, 1))
		}
	}
	return nil
}

func afterNumber(rest, text string) error {
	comma, after := strings.HasPrefix(rest, ","), strings.TrimPrefix(rest, ",")
	if err := refuse(misread(), rest, text, ""); err != nil || !comma {
		return err
	}
	head := strings.TrimSuffix(tidy(text), rest)
	part := after[:len(after)-len(strings.TrimLeft(after, "0123456789"))]
	if len(part) != 3 {
		return fault.Usagef("%s has more than one mark in its number", quote(text)).Try("write a plain decimal such as 7.5")
	}
	return fault.Usagef("the comma in %s could mark decimals or thousands", quote(text)).
		Try("write %s.%s for decimals or %s%s for thousands", head, part, head, part)
}

// Grouped returns a whole number in groups of three digits: 1,234,567.
func Grouped(n int) string {
	text := strconv.Itoa(n)
	for i := len(text) - 3; i > 0 && text[i-1] != '-'; i -= 3 {
		text = text[:i] + "," + text[i:]
	}
	return text
}

// Counted puts a count before what agrees with it: "1 load", "1,200 loads".
func Counted(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return Grouped(n) + " " + many
}
