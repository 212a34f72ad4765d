package measure

import (
	"regexp"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"
)

// escapes finds terminal escapes once [oneByte] has been over the text: control
// sequences, strings with their end, and changes of character set. A string (a title, a
// link) that is never ended is not found, so that nothing that follows is hidden.
var escapes = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`\x{9b}[ -?]*[@-~]?|[\x{90}\x{98}\x{9d}-\x{9f}]\P{Cc}*[\x07\x{9c}]|\x1b[ -/]*[0-~]?`)
})

var lineEnds = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`\n+`) })

// Clean makes text from a file fit for one line on a terminal. It drops terminal
// escapes as a whole (colours, cursor moves, window titles), every other control
// character, and characters that do not show or turn the direction of writing;
// tabs and line ends become one space; bytes that are no text become U+FFFD. The
// result holds only characters that print. Clean of clean text changes nothing.
func Clean(text string) string {
	if !strings.ContainsFunc(text, func(r rune) bool { return r < ' ' || r >= 0x7f }) {
		return text
	}
	text = strings.Map(func(r rune) rune {
		switch {
		case strings.ContainsRune("\t\n\r\v\f\u0085\u2028\u2029", r):
			return '\n'
		case unicode.Is(unicode.Cf, r) || !unicode.IsPrint(r) && !unicode.Is(unicode.Zs, r):
			return -1
		}
		return r
	}, escapes().ReplaceAllString(oneByte(text), ""))
	return lineEnds().ReplaceAllString(text, " ")
}

// oneByte writes the control characters of terminals in one way: ESC [ and the raw byte
// 9B as U+009B, and the others alike. Other bytes that are no text become U+FFFD.
func oneByte(text string) string {
	var b strings.Builder
	for text != "" {
		r, size := utf8.DecodeRuneInString(text)
		switch next := text[min(1, len(text)-1)]; {
		case r == 0x1b && next >= 0x40 && next <= 0x5f:
			r, size = rune(next)+0x40, 2
		case r == utf8.RuneError && size == 1 && text[0] >= 0x80 && text[0] <= 0x9f:
			r = rune(text[0])
		}
		b.WriteRune(r)
		text = text[size:]
	}
	return b.String()
}
