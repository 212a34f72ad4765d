package label

import (
	"strings"
	"unicode"
)

// span is a stretch of text in one weight.
type span struct {
	text string
	bold bool
}

// word is what a line may not break, unless it is wider than the line.
type word struct {
	text  string
	bold  bool
	width float64 // at size 1
}

// words takes spans apart at their spaces.
func words(spans []span) []word {
	var out []word
	for _, s := range spans {
		for _, w := range strings.Fields(s.text) {
			out = append(out, word{w, s.bold, textWidth(w, s.bold, 1)})
		}
	}
	return out
}

// wrap breaks spans into lines no wider than width at a font size. A word that is too
// wide for a line is broken between characters.
func wrap(spans []span, size, width float64) [][]word {
	room := width / size // everything at size 1
	var lines [][]word
	var line []word
	used := 0.0
	end := func() {
		if len(line) > 0 {
			lines, line, used = append(lines, line), nil, 0
		}
	}
	for _, w := range words(spans) {
		gap := 0.0
		if len(line) > 0 {
			gap = glyph(' ', w.bold)
		}
		if used+gap+w.width <= room {
			line, used = append(line, w), used+gap+w.width
			continue
		}
		end()
		for w.width > room {
			head, tail := breakWord(w, room)
			if tail.text == "" {
				break
			}
			lines, w = append(lines, []word{head}), tail
		}
		line, used = []word{w}, w.width
	}
	end()
	return lines
}

// breakWord cuts off as much of a word as fits, at least one character with its accents.
func breakWord(w word, room float64) (head, tail word) {
	used := 0.0
	for i, r := range w.text {
		g := glyph(r, w.bold)
		if i > 0 && used+g > room && !unicode.In(r, unicode.Mn, unicode.Me) {
			return word{w.text[:i], w.bold, used}, word{w.text[i:], w.bold, textWidth(w.text[i:], w.bold, 1)}
		}
		used += g
	}
	return w, word{}
}

// place turns a line of words into runs from x rightwards; neighbours of one weight are
// joined. A run is never wider than limit.
func place(line []word, x, baseline, size, limit float64, white bool) []run {
	var runs []run
	at := x
	for i, w := range line {
		gap := 0.0
		if i > 0 {
			gap = glyph(' ', w.bold) * size
		}
		if n := len(runs); n > 0 && runs[n-1].bold == w.bold {
			last := &runs[n-1]
			last.text += " " + w.text
			last.width = min(last.width+gap+w.width*size, limit-(last.x-x))
			at += gap + w.width*size
			continue
		}
		at += gap
		runs = append(runs, run{x: at, y: baseline, size: size, width: min(w.width*size, limit-(at-x)), text: w.text, bold: w.bold, white: white})
		at += w.width * size
	}
	return runs
}
