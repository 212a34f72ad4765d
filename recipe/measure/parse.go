package measure

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"hepar/recipe/fault"
)

// maxLength is the longest text read as a quantity, in bytes. The longest
// sensible one ("1 1/4 imperial fluid ounces per imperial gallon") is well below.
const maxLength = 64

// Parse reads a quantity of any dimension: "7.5 g/L", "1 1/4 in", "75 °C",
// "1 min 30 s", "3 oz/gal", "½ cup". Spaces between number and unit are optional.
// The number is a plain decimal with a point, or a fraction. A quantity without
// a unit, a decimal comma, an exponent, a range and a negative figure (other than
// a temperature) are usage errors that say what to write instead.
//
// Parse does not refuse zero; see [Positive]. Where a word has a namesake the
// quantity carries a [Quantity.Note] for the caller to print.
func Parse(text string) (Quantity, error) { return parse(text, 0) }

// parse reads a quantity. want is the dimension that the caller is after, or 0;
// it only sharpens the message, the caller checks the dimension.
func parse(text string, want Dimension) (Quantity, error) {
	if len(text) > maxLength {
		return Quantity{}, tooLong(text)
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
		return Quantity{}, noUnit(text, want)
	}
	if seconds, ok, err := compoundTime(number, rest, text); ok || err != nil {
		return Quantity{Number: seconds, Unit: secondUnit()}, err
	}
	if digitAfterUnit(rest) {
		return Quantity{}, fault.Usagef("%s holds more than one quantity", quote(text)).
			Try("write one number with one unit, such as %s; only times are added up (1 min 30 s)", want.example())
	}
	if want == Volume && ounceWord(rest) {
		return Quantity{}, fault.Usagef("%s could be a weight or one of two liquid ounces", quote(text)).
			Try("write US fl oz (29.57 mL) or imp fl oz (28.41 mL); a weight in oz is not a volume")
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
	if unit.Dimension == Temperature {
		if err := aboveAbsoluteZero(q, text); err != nil {
			return Quantity{}, err
		}
	}
	return q, nil
}

// parseAs reads a quantity that must be of one dimension and returns its value in
// the unit of that dimension.
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

// NoteOf returns the note that goes with the units of a text ("gal read as the US
// gallon...") or the empty string, also where the text cannot be read. The typed
// parsers return bare numbers; callers that use them print this beside.
func NoteOf(text string) string {
	q, err := Parse(text)
	if err != nil {
		return ""
	}
	return q.Note()
}

// tidy brings the many ways to type a thing to one: no space at either end, one
// space inside, plain letters for micro, degree and powers, no dot after an
// abbreviation, no space around a stroke.
func tidy(text string) string {
	if plainASCII(text) {
		return text
	}
	var b strings.Builder
	b.Grow(len(text) + 8)
	prev := rune(0)
	runes := []rune(text)
	for i, r := range runes {
		switch r {
		case 'µ', 'μ':
			r = 'u'
		case '²':
			r = '2'
		case '³':
			r = '3'
		case '−', '‐', '‑', '–': // minus, hyphens, en dash
			r = '-'
		case '⁄', '∕': // fraction slash, division slash
			r = '/'
		case '“', '”', '″':
			r = '"'
		case '’', '′':
			r = '\''
		case '\u00a0', '\u2009', '\u202f', '\t': // no-break and thin spaces
			r = ' '
		case '℃':
			r = 'C'
		case '℉':
			r = 'F'
		case '°', 'º', '˚':
			continue
		case '^':
			if i+1 < len(runes) && (runes[i+1] == '2' || runes[i+1] == '3') && unicode.IsLetter(prev) {
				continue
			}
		case '.':
			if unicode.IsLetter(prev) { // sq. in.
				if i+1 < len(runes) && unicode.IsLetter(runes[i+1]) && unicode.ToLower(prev) != 'u' {
					r = ' ' // fl.oz
				} else {
					continue
				}
			}
		}
		if r == ' ' && (prev == ' ' || prev == 0) {
			continue
		}
		b.WriteRune(r)
		prev = r
	}
	out := strings.TrimRight(b.String(), " ")
	out = strings.ReplaceAll(out, " per ", "/")
	out = strings.ReplaceAll(out, " /", "/")
	out = strings.ReplaceAll(out, "/ ", "/")
	if i := strings.IndexByte(out, '('); i >= 0 { // gal (US), % (w/w)
		out = strings.ReplaceAll(strings.ReplaceAll(out, "(", " "), ")", "")
		out = strings.Join(strings.Fields(out), " ")
	}
	return out
}

// plainASCII tells whether there is nothing for tidy to do: the common case.
func plainASCII(text string) bool {
	for i := 0; i < len(text); i++ {
		c := text[i]
		switch {
		case c >= utf8.RuneSelf, c < ' ', c == '^', c == '(', c == ')', c == '/' && spaceBeside(text, i):
			return false
		case c == ' ' && (i == 0 || i == len(text)-1 || text[i+1] == ' ' || text[i+1] == 'p'):
			return false
		case c == '.' && (i == 0 || i == len(text)-1 || !digit(text[i+1])):
			return false
		}
	}
	return true
}

func spaceBeside(text string, i int) bool {
	return i > 0 && text[i-1] == ' ' || i+1 < len(text) && text[i+1] == ' '
}

func digit(c byte) bool { return c >= '0' && c <= '9' }

// digitAfterUnit finds a second number after the unit, as in "1 lb 3 oz".
func digitAfterUnit(unit string) bool {
	_, after, ok := strings.Cut(unit, " ")
	for ok {
		if after != "" && digit(after[0]) && !strings.Contains(unit, "/1") {
			return true
		}
		_, after, ok = strings.Cut(after, " ")
	}
	return false
}
