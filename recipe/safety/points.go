package safety

import (
	"cmp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"hepar/recipe/fault"
)

// grade orders the levels, gravest first. A level it does not know counts as a stop.
func grade(l Level) int {
	switch l {
	case Caution:
		return 2
	case CorrectFirst:
		return 1
	}
	return 0
}

// list gathers points under unique codes, in the order in which they were added.
type list struct{ points []Point }

// add puts a point in. Where the code is there already the graver one stays, and two
// equally grave ones are joined, so that each code stands once in a review.
func (l *list) add(p Point) {
	p.Text = sentence(plain(p.Text))
	for i, old := range l.points {
		if old.Code != p.Code {
			continue
		}
		switch {
		case grade(p.Level) < grade(old.Level):
			l.points[i] = p
		case p.Level == old.Level && !strings.Contains(old.Text, p.Text):
			l.points[i].Text += " " + p.Text
		}
		return
	}
	l.points = append(l.points, p)
}

// ranked gives the points gravest first, and otherwise in the order they were added,
// which is the order of the checklist.
func (l *list) ranked() []Point {
	slices.SortStableFunc(l.points, func(a, b Point) int {
		return cmp.Compare(grade(a.Level), grade(b.Level))
	})
	return l.points
}

// Refused gives the error with which work ends when a point forbids it: a
// [fault.Error] of kind [fault.Safety] that says what is wrong, the first stop in full and the others by
// code, and what to do about all. It is
// nil where no point is a stop.
func Refused(points []Point) error {
	var stops []Point
	for _, p := range points {
		if grade(p.Level) == 0 {
			stops = append(stops, p)
		}
	}
	if len(stops) == 0 {
		return nil
	}
	what := strings.TrimSuffix(stops[0].what(), ".") + " [" + stops[0].Code + "]"
	var cures []string
	for i, p := range stops {
		if i > 0 {
			what += "; and " + p.Code
		}
		if p.Cure != "" && !slices.Contains(cures, p.Cure) {
			cures = append(cures, p.Cure)
		}
	}
	if len(cures) == 0 {
		cures = []string{"take the substances apart or change the order of the steps, and review again"}
	}
	return fault.Safetyf("refused: %s", what).Try("%s", strings.Join(cures, "; "))
}

// what is the text of a point without the sentence that repeats the cure.
func (p Point) what() string {
	if p.Cure == "" {
		return p.Text
	}
	return strings.TrimSpace(strings.ReplaceAll(p.Text, sentence(p.Cure), ""))
}

// sentence makes a whole sentence of a line that starts small and has no full stop.
func sentence(line string) string {
	line = strings.TrimSpace(line)
	if line == "" {
		return ""
	}
	if first, size := utf8.DecodeRuneInString(line); unicode.ToUpper(first) != first {
		line = string(unicode.ToUpper(first)) + line[size:]
	}
	if !strings.HasSuffix(line, ".") {
		line += "."
	}
	return line
}

// plain makes one line of a text: no control characters, no line ends, no text that
// changes its direction.
func plain(text string) string {
	if isPlain(text) {
		return text
	}
	text = strings.Map(func(r rune) rune {
		switch {
		case r < 0x20 || r >= 0x7f && r < 0xa0 || r == 0x2028 || r == 0x2029:
			return ' '
		case r >= 0x202a && r <= 0x202e, r >= 0x2066 && r <= 0x2069, r == 0x200e, r == 0x200f, r == 0xfeff:
			return -1
		}
		return r
	}, strings.ToValidUTF8(text, "?"))
	return strings.Join(strings.Fields(text), " ")
}

// isPlain tells that [plain] has nothing to do, as with almost every text.
func isPlain(text string) bool {
	last := byte(' ')
	for i := 0; i < len(text); i++ {
		c := text[i]
		if c < ' ' || c >= 0x7f || c == ' ' && last == ' ' {
			return false
		}
		last = c
	}
	return text == "" || last != ' '
}

// and joins words: "a", "a and b", "a, b and c".
func and(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " and " + words[last]
}
