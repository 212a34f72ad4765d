package safety

import (
	"cmp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// list gathers points under unique codes, in the order in which they were added.
type list struct{ points []Point }

// stop and do add a point, the first under its code, or a stop in place of a do.
func (l *list) stop(code, text, cure, source string) { l.add(Point{code, Stop, text, source, cure}) }
func (l *list) do(code, text, cure, source string)   { l.add(Point{code, Do, text, source, cure}) }

func (l *list) add(p Point) {
	p.Text = sentence(plain(p.Text))
	for i, old := range l.points {
		if old.Code != p.Code {
			continue
		}
		if p.Level == Stop && old.Level == Do {
			l.points[i] = p
		}
		return
	}
	l.points = append(l.points, p)
}

// ranked returns the stops first, and otherwise the order in which they were added.
func (l *list) ranked() []Point {
	slices.SortStableFunc(l.points, func(a, b Point) int { return cmp.Compare(b.Level, a.Level) }) // "stop", "do"
	return append([]Point{}, l.points...)
}

// Refused returns the error of kind [fault.Safety] with which work ends: the first stop in
// full, the others by code, and what to do about all. It is nil where no point is a stop.
func Refused(points []Point) error {
	what := ""
	var cures []string
	for _, p := range points {
		if p.Level != Stop {
			continue
		}
		if what == "" {
			what = strings.TrimSuffix(p.Text, ".") + " [" + p.Code + "]"
		} else {
			what += "; and " + p.Code
		}
		if !slices.Contains(cures, p.Cure) {
			cures = append(cures, p.Cure)
		}
	}
	if what == "" {
		return nil
	}
	return fault.Safetyf("refused: %s", what).Try("%s", strings.Join(cures, "; "))
}

// sentence makes a whole sentence of a line that starts small and has no full stop.
func sentence(line string) string {
	line = strings.TrimSpace(line)
	first, size := utf8.DecodeRuneInString(line)
	if size == 0 {
		return ""
	}
	line = string(unicode.ToUpper(first)) + line[size:]
	if !strings.HasSuffix(line, ".") {
		line += "."
	}
	return line
}

func plain(text string) string {
	return strings.Join(strings.Fields(measure.Clean(strings.ToValidUTF8(text, "?"))), " ")
}

// and joins words: "a", "a and b", "a, b and c".
func and(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " and " + words[last]
}
