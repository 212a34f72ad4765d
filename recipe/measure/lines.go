package measure

import (
	"slices"
	"strings"
	"unicode/utf8"
)

// Hang breaks a text, cleaned, into lines of so many columns. The first line starts with first; the
// others are indented to the same depth.
func Hang(first, text string, width int) string {
	depth := utf8.RuneCountInString(first)
	lines := Lines(Clean(text), max(width-depth, 1))
	for i, line := range lines {
		if i > 0 {
			first = strings.Repeat(" ", depth)
		}
		lines[i] = strings.TrimRight(first+line, " ")
	}
	return strings.Join(lines, "\n")
}

// Fit breaks the lines of a text that a terminal of so many columns would break within a word. It
// leaves lines in colour as they are: they are broken before they are coloured.
func Fit(text string, width int) string {
	lines := strings.Split(text, "\n")
	for i, line := range lines {
		said := strings.TrimLeft(line, " ")
		if utf8.RuneCountInString(line) <= width || strings.ContainsAny(line, "\x1b\r") {
			continue
		}
		lines[i] = Hang(line[:len(line)-len(said)], said, width)
		if strings.HasSuffix(line, " ") { // a question, with room for the answer
			lines[i] += " "
		}
	}
	return strings.Join(lines, "\n")
}

// Lines breaks text into lines of at most room characters, at spaces where it can, and not within a
// command. It returns at least one line.
func Lines(text string, room int) []string {
	lines, last := []string{""}, 0
	for _, word := range unbroken(text, room) {
		if lines[last] != "" && utf8.RuneCountInString(lines[last]+" "+word) > room {
			lines, last = append(lines, ""), last+1
		}
		for utf8.RuneCountInString(word) > room && !strings.ContainsAny(word, `/\`) { // a path is copied whole
			head := string([]rune(word)[:room])
			if hyphen := strings.LastIndex(head, "-"); hyphen > 0 {
				head = head[:hyphen+1]
			}
			lines[last] = head
			lines, last, word = append(lines, ""), last+1, word[len(head):]
		}
		lines[last] = strings.TrimLeft(lines[last]+" "+word, " ")
	}
	return lines
}

// unbroken are the words of a text, a command as one, so that it can be copied, if it fits into a line.
func unbroken(text string, room int) (out []string) {
	for words := strings.Fields(text); len(words) > 0; {
		n, group := 1, false
		for strings.HasSuffix(words[0], "hepar") && n < len(words) && !strings.ContainsAny(words[n-1][len(words[n-1])-1:], ",;:.)'\"") {
			plain := strings.Trim(words[n], "abcdefghijklmnopqrstuvwxyz,;:.)'\"") == ""
			if plain && n > 1 && !group && !strings.HasPrefix(words[n-1], "--") {
				break
			}
			group = n == 1 && slices.Contains([]string{"journal", "recipe", "stock", "label"}, words[n])
			n++
		}
		if whole := strings.Join(words[:n], " "); utf8.RuneCountInString(whole) > room {
			n = 1
		}
		out, words = append(out, strings.Join(words[:n], " ")), words[n:]
	}
	return out
}
