package safety

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

func denies(words []string) bool {
	return anyWord(words, "no", "not", "never", "without", "avoid", "nor", "keep", "away", "instead", "don't", "refused")
}

// split cuts a text, in small letters, at the marks given, all of one byte.
func split(text, marks string) []string {
	text = strings.ToLower(plain(text))
	var list []string
	from := 0
	for i := 0; i <= len(text); i++ {
		if i < len(text) && strings.IndexByte(marks, text[i]) < 0 {
			continue
		}
		if i > from {
			list = append(list, text[from:i])
		}
		from = i + 1
	}
	return list
}

// tokens returns the words of a clause.
func tokens(clause string) []string {
	list := make([]string, 0, 16)
	from := -1
	for i := 0; i < len(clause); i++ {
		c := clause[i]
		if c >= utf8.RuneSelf {
			return strings.FieldsFunc(clause, func(r rune) bool { return !unicode.IsLetter(r) && r != '\'' })
		}
		switch letter := c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c == '\''; {
		case letter && from < 0:
			from = i
		case !letter && from >= 0:
			list = append(list, clause[from:i])
			from = -1
		}
	}
	if from >= 0 {
		list = append(list, clause[from:])
	}
	return list
}

// mentions tells whether a text has one of the strings in it, in any case of letters. It
// saves reading the many texts that have not.
func mentions(text string, parts ...string) bool {
	text = strings.ToLower(text)
	return slices.ContainsFunc(parts, func(p string) bool { return strings.Contains(text, p) })
}

// anyWord tells whether one of the words wanted is there.
func anyWord(words []string, wanted ...string) bool {
	return slices.ContainsFunc(words, func(w string) bool { return slices.Contains(wanted, w) })
}
