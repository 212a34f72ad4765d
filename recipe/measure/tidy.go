package measure

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

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
	scale := false // a degree sign came just before
	for i, r := range runes {
		if plain, ok := plainer[r]; ok {
			r = plain
		}
		switch r {
		case '°', 'º', '˚':
			if ofDegrees(runes[i+1:]) {
				scale = true
				continue
			}
		case '^':
			if i+1 < len(runes) && (runes[i+1] == '2' || runes[i+1] == '3') && unicode.IsLetter(prev) {
				continue
			}
		case '.':
			if unicode.IsLetter(prev) {
				if !dotIsSpace(prev, runes[i+1:]) {
					continue // sq. in., U.S.
				}
				r = ' ' // fl.oz
			}
		}
		if r == ' ' && (prev == ' ' || prev == 0) {
			continue
		}
		if scale && r != ' ' {
			r, scale = unicode.ToUpper(r), false
		}
		b.WriteRune(r)
		prev = r
	}
	out := strings.TrimRight(b.String(), " ")
	out = strings.ReplaceAll(out, "per cent", "percent")
	out = strings.ReplaceAll(out, " per ", "/")
	out = strings.ReplaceAll(out, " /", "/")
	out = strings.ReplaceAll(out, "/ ", "/")
	if i := strings.IndexByte(out, '('); i > 0 { // gal (US), % (w/w)
		out = strings.ReplaceAll(strings.ReplaceAll(out, "(", " "), ")", "")
		out = strings.Join(strings.Fields(out), " ")
	}
	return out
}

// plainer holds the plain character for each that is typed in its place: micro,
// powers, minus and hyphens, strokes, quotes, no-break and thin spaces.
var plainer = map[rune]rune{
	'µ': 'u', 'μ': 'u', '²': '2', '³': '3', '−': '-', '‐': '-', '‑': '-', '–': '-', '⁄': '/', '∕': '/', '“': '"', '”': '"', '″': '"',
	'’': '\'', '′': '\'', '\u00a0': ' ', '\u2009': ' ', '\u202f': ' ', '\t': ' ', '℃': 'C', '℉': 'F',
}

// ofDegrees tells whether a degree sign belongs to a temperature: a scale follows,
// or nothing does, and then the missing scale is what is wrong.
func ofDegrees(after []rune) bool {
	rest := strings.TrimSpace(string(after))
	return rest == "" || strings.ContainsRune("CFKcfk", rune(rest[0]))
}

// dotIsSpace tells whether a dot after a letter parts two words.
func dotIsSpace(before rune, after []rune) bool {
	if len(after) == 0 || !unicode.IsLetter(after[0]) {
		return false
	}
	country := unicode.ToLower(before) == 'u' && strings.ContainsRune("sSkK", after[0])
	return !country
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
