package measure

import (
	"strconv"
	"strings"
	"unicode/utf8"

	"hepar/recipe/fault"
)

// readNumber takes the number off the front of a tidied text and returns it with
// what follows. It reads 5, 0.5, .5, 3/8, 1 3/8, 1-3/8, ½ and 1½, with a minus
// before any of them.
func readNumber(plain, text string) (number float64, rest string, err error) {
	s := plain
	negative := strings.HasPrefix(s, "-")
	if negative {
		s = strings.TrimPrefix(s[1:], " ")
	}
	whole, s, ok := digits(s)
	switch {
	case ok && strings.HasPrefix(s, "/"): // 3/8
		number, rest, err = fraction(0, whole, s[1:], text)
	case ok && (strings.HasPrefix(s, " ") || strings.HasPrefix(s, "-")) && startsFraction(s[1:]): // 1 3/8, 1-3/8
		top, after, _ := digits(s[1:])
		number, rest, err = fraction(count(whole), top, after[1:], text)
	case ok && strings.HasPrefix(s, "."):
		number, rest, err = decimal(whole, s[1:], text)
	case ok:
		number, rest, err = vulgarOr(whole, s, text)
	case strings.HasPrefix(s, "."):
		number, rest, err = decimal("0", s[1:], text)
	default:
		number, rest, err = vulgarOr("", s, text)
	}
	if err != nil {
		return 0, "", err
	}
	if err := afterNumber(rest, text); err != nil {
		return 0, "", err
	}
	if negative {
		number = -number
	}
	return number, strings.TrimPrefix(rest, " "), nil
}

// digits splits leading digits off.
func digits(s string) (head, tail string, ok bool) {
	i := 0
	for i < len(s) && digit(s[i]) {
		i++
	}
	return s[:i], s[i:], i > 0
}

func startsFraction(s string) bool {
	_, after, ok := digits(s)
	if !ok || !strings.HasPrefix(after, "/") {
		return false
	}
	_, _, ok = digits(after[1:])
	return ok
}

func decimal(whole, s, text string) (float64, string, error) {
	part, rest, ok := digits(s)
	if !ok {
		return 0, "", fault.Usagef("%s has a point and no digits after it", quote(text)).Try("write the digits after the point, or leave the point out")
	}
	x, err := strconv.ParseFloat(whole+"."+part, 64)
	if err != nil {
		return 0, "", fault.Usagef("%s is not a number that can be read", quote(text)).Try("write a plain decimal such as 7.5")
	}
	return x, rest, nil
}

// fraction works out whole + top/bottom in one division.
func fraction(whole float64, top, s, text string) (float64, string, error) {
	bottom, rest, ok := digits(s)
	if word, _ := letters(s); !ok && word != "" {
		return 0, "", fault.Usagef("%s has no unit before the slash", quote(text)).Try("write it like 7.5 g/L")
	}
	if !ok {
		return 0, "", fault.Usagef("%s has a fraction without a denominator", quote(text)).Try("write it like 3/8 in or 1 1/4 in")
	}
	if len(top) > 6 || len(bottom) > 6 || whole > 1e6 {
		return 0, "", fault.Usagef("the fraction in %s has too many digits", quote(text)).Try("write it as a decimal such as 0.375")
	}
	t, b := count(top), count(bottom)
	if b == 0 {
		return 0, "", fault.Usagef("%s divides by zero", quote(text)).Try("write a fraction such as 3/8")
	}
	if whole > 0 && t >= b {
		return 0, "", fault.Usagef("the fraction in %s is not less than 1", quote(text)).Try("write a mixed number such as 1 1/4, or a decimal")
	}
	return (whole*b + t) / b, rest, nil
}

// vulgarOr reads whole digits, with a single-character fraction after them or in
// their place.
func vulgarOr(whole, s, text string) (float64, string, error) {
	r, size := utf8.DecodeRuneInString(strings.TrimPrefix(s, " "))
	top, bottom := vulgar(r)
	switch {
	case bottom != 0:
		return (count(whole)*bottom + top) / bottom, strings.TrimPrefix(s, " ")[size:], nil
	case whole == "":
		return 0, "", noNumber(text)
	}
	return count(whole), s, nil
}

// vulgar returns the two figures of a single-character fraction, and 0 for other characters.
func vulgar(r rune) (top, bottom float64) {
	f := vulgars[r]
	return f[0], f[1]
}

var vulgars = map[rune][2]float64{
	'½': {1, 2}, '⅓': {1, 3}, '⅔': {2, 3}, '¼': {1, 4}, '¾': {3, 4}, '⅕': {1, 5}, '⅖': {2, 5}, '⅗': {3, 5}, '⅘': {4, 5},
	'⅙': {1, 6}, '⅚': {5, 6}, '⅐': {1, 7}, '⅛': {1, 8}, '⅜': {3, 8}, '⅝': {5, 8}, '⅞': {7, 8}, '⅑': {1, 9}, '⅒': {1, 10},
}

// count reads digits that are known to be digits; the text is short, so the
// figure is finite.
func count(digits string) float64 {
	x, err := strconv.ParseFloat(digits, 64)
	if err != nil {
		return 0
	}
	return x
}

// afterNumber refuses what may not follow a number: it is where the ways to write
// figures that mean two things are caught.
func afterNumber(rest, text string) error {
	if rest == "" {
		return nil
	}
	next := strings.TrimPrefix(rest, " ")
	switch c := rest[0]; {
	case c == ',':
		return commaIn(rest, text)
	case (c == '\'' || c == '_') && len(rest) > 1 && digit(rest[1]), c == ' ' && next != "" && digit(next[0]):
		return fault.Usagef("%s has a space or mark between the digits of its number", quote(text)).Try("write the number without spaces or marks between its digits, such as 1500")
	case (c == 'e' || c == 'E') && exponent(rest[1:]):
		return fault.Usagef("%s has an exponent", quote(text)).Try("write the number out as a plain decimal")
	case (c == 'x' || c == 'X') && len(rest) > 1:
		return fault.Usagef("%s is not a plain decimal number", quote(text)).Try("write one number in plain decimals, such as 7.5")
	case c == '.':
		return fault.Usagef("%s has two points in its number", quote(text)).Try("write a plain decimal such as 7.5")
	case c == '/' && next != "":
		return fault.Usagef("%s has no unit before the slash", quote(text)).Try("write it like 7.5 g/L")
	case next != "" && (next[0] == '-' || strings.HasPrefix(next, "to ") || next[0] == '+'):
		return fault.Usagef("%s is a range: one figure is expected", quote(text)).Try("write one figure; in a recipe write { at = ..., from = ..., to = ... }")
	case next != "" && (next[0] == '*' || next[0] == ':'):
		return fault.Usagef("%s is not one number with a unit", quote(text)).Try("write one number with its unit, such as 7.5 g/L or 1 min 30 s")
	}
	return nil
}

// commaIn says what the comma at the start of rest may have meant.
func commaIn(rest, text string) error {
	part, tail, ok := digits(rest[1:])
	head := strings.TrimSuffix(tidy(text), rest)
	switch {
	case !ok:
		return fault.Usagef("%s has a comma in its number", quote(text)).Try("write decimals with a point, such as 7.5")
	case len(part) != 3:
		return fault.Usagef("%s has a decimal comma", quote(text)).Try("write %s.%s with a point", head, part)
	case strings.HasPrefix(tail, ".") || strings.HasPrefix(tail, ","):
		return fault.Usagef("%s has commas between its thousands", quote(text)).Try("leave the commas out, as in 1500")
	}
	return fault.Usagef("the comma in %s could mark decimals or thousands", quote(text)).
		Try("write %s.%s for decimals or %s%s for thousands", head, part, head, part)
}

func exponent(s string) bool {
	return s != "" && (digit(s[0]) || len(s) > 1 && (s[0] == '-' || s[0] == '+') && digit(s[1]))
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
