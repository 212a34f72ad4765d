package label

import (
	"strings"
	"unicode"
)

// Widths of the printable ASCII characters from space to tilde, in thousandths of the
// font size. Source: Adobe core font metrics of Helvetica and Helvetica Bold, which
// Arial and its metric twins share, from memory; measured again in Liberation Sans: the same
// to a thousandth.
var (
	regular = [95]int16{
		278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278,
		556, 556, 556, 556, 556, 556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556,
		1015, 667, 667, 722, 722, 667, 611, 778, 722, 278, 500, 667, 556, 833, 722, 778,
		667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 278, 278, 278, 469, 556,
		333, 556, 556, 500, 556, 556, 278, 556, 556, 222, 222, 500, 222, 833, 556, 556,
		556, 556, 333, 500, 278, 556, 500, 722, 500, 500, 500, 334, 260, 334, 584,
	}
	heavy = [95]int16{
		278, 333, 474, 556, 556, 889, 722, 238, 333, 333, 389, 584, 278, 333, 278, 278,
		556, 556, 556, 556, 556, 556, 556, 556, 556, 556, 333, 333, 584, 584, 584, 611,
		975, 722, 722, 722, 722, 667, 611, 778, 722, 278, 556, 722, 611, 833, 722, 778,
		667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 333, 278, 333, 584, 556,
		333, 556, 611, 556, 611, 556, 333, 611, 611, 278, 278, 556, 278, 889, 611, 611,
		611, 611, 389, 556, 333, 611, 556, 778, 556, 556, 500, 389, 280, 389, 584,
	}
)

// fonts are the families asked for. Each run of text also says how wide it is, so that a
// wider font is squeezed and never runs over.
const fonts = "Arial, Helvetica, Liberation Sans, DejaVu Sans, sans-serif"

// capital is the height of a capital letter, lineHeight that of a line, both as a share
// of the font size. The first is that of Helvetica (718/1000), from memory.
const (
	capital    = 0.718
	lineHeight = 1.19
)

// glyph estimates the width of one character as a share of the font size. Outside ASCII
// it errs on the wide side.
func glyph(r rune, bold bool) float64 {
	switch {
	case r >= ' ' && r <= '~' && bold:
		return float64(heavy[r-' ']) / 1000
	case r >= ' ' && r <= '~':
		return float64(regular[r-' ']) / 1000
	case unicode.In(r, unicode.Mn, unicode.Me):
		return 0
	case strings.ContainsRune("\u00a0\u2009·‘’“”", r):
		return 0.36
	case strings.ContainsRune("–°×±µ€", r), r < 0x250 && unicode.IsLower(r) && r != 'æ' && r != 'œ':
		return 0.62
	case r < 0x250 && unicode.IsUpper(r) && r != 'Æ' && r != 'Œ':
		return 0.83
	case r < 0x2000 && unicode.IsLetter(r) && !unicode.In(r, unicode.Han, unicode.Hiragana, unicode.Katakana, unicode.Hangul):
		return 0.94
	}
	return 1.05
}

// textWidth estimates the width of a text of a font size, in the unit of the size.
func textWidth(text string, bold bool, size float64) float64 {
	sum := 0.0
	for _, r := range text {
		sum += glyph(r, bold)
	}
	return sum * size
}
