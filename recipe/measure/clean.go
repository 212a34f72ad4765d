package measure

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// Clean makes text from a file fit for one line on a terminal. It drops terminal
// escapes as a whole (colours, cursor moves, window titles), every other control
// character, and characters that do not show or turn the direction of writing;
// tabs and line ends become one space; bytes that are no text become U+FFFD. The
// result holds only characters that print. Clean of clean text changes nothing.
func Clean(text string) string {
	if !strings.ContainsFunc(text, func(r rune) bool { return r < ' ' || r >= 0x7f }) {
		return text
	}
	var b strings.Builder
	b.Grow(len(text))
	space := false
	for i := 0; i < len(text); {
		r, size := utf8.DecodeRuneInString(text[i:])
		if n := escape(text[i:], r, size); n > 0 {
			i += n
			continue
		}
		i += size
		switch {
		case r == '\t' || r == '\n' || r == '\r' || r == '\v' || r == '\f' || r == '\u0085' || r == '\u2028' || r == '\u2029':
			if !space {
				b.WriteByte(' ')
			}
			space = true
			continue
		case unicode.Is(unicode.Cf, r), !unicode.IsPrint(r) && !unicode.Is(unicode.Zs, r):
			continue
		default:
			b.WriteRune(r)
		}
		space = false
	}
	return b.String()
}

// escape returns the length of the terminal escape at the start of s, or 0 if
// there is none. A string (a title, a link) that is never ended counts as its
// first two characters, so that nothing that follows is hidden.
func escape(s string, r rune, size int) int {
	kind := rune(0)
	head := size
	switch {
	case r == 0x1b:
		next, n := utf8.DecodeRuneInString(s[size:])
		if next >= 0x40 && next <= 0x5f {
			kind, head = next+0x40, size+n
		} else {
			return plainEscape(s)
		}
	case r >= 0x80 && r <= 0x9f && r != 0x85:
		kind = r
	case r == utf8.RuneError && size == 1 && s[0] >= 0x80 && s[0] <= 0x9f: // the same as a raw byte
		kind = rune(s[0])
	default:
		return 0
	}
	switch kind {
	case 0x9b: // control sequence: parameters, intermediates, one final byte
		i := head
		for i < len(s) && s[i] >= 0x20 && s[i] <= 0x3f {
			i++
		}
		if i < len(s) && s[i] >= 0x40 && s[i] <= 0x7e {
			return i + 1
		}
		return i
	case 0x90, 0x98, 0x9d, 0x9e, 0x9f:
		if n := stringEnd(s[head:]); n > 0 {
			return head + n
		}
	}
	return head
}

// stringEnd returns the length of a terminal string with its end, BEL or the string
// terminator, or 0 if another control character or the end of s comes first.
func stringEnd(s string) int {
	for i := 0; i < len(s); {
		r, size := utf8.DecodeRuneInString(s[i:])
		switch {
		case r == 0x07 || r == 0x9c || r == utf8.RuneError && size == 1 && s[i] == 0x9c:
			return i + size
		case r == 0x1b && strings.HasPrefix(s[i+1:], "\\"):
			return i + 2
		case unicode.IsControl(r) || r == utf8.RuneError && size == 1:
			return 0
		}
		i += size
	}
	return 0
}

// plainEscape measures ESC, intermediates and one final byte, as in a change of
// character set.
func plainEscape(s string) int {
	i := 1
	for i < len(s) && s[i] >= 0x20 && s[i] <= 0x2f {
		i++
	}
	if i < len(s) && s[i] >= 0x30 && s[i] <= 0x7e {
		i++
	}
	return i
}
