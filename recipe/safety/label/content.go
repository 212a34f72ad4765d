package label

import (
	"strings"
	"time"
	"unicode/utf8"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/safety"
)

// Label is what a label says, made by [Container], [Bath] or [Waste]. It is not changed
// afterwards, and can be set at several sizes.
type Label struct {
	kind    string
	kicker  []span   // a small line over the title
	title   string   // the largest line, white on black
	under   []block  // right below it
	signal  string   // signal word, in capitals
	symbols []Symbol // never left out
	hazards []span   // in full: the standard statements
	short   []span   // the same in few words, where there is no room
	boxes   []box    // framed: a date, a time
	lines   []block  // the rest of the text
	shout   string   // the large words of the last bar
	why     string   // what stands beside them
	foot    block    // small, at the bottom
	frame   bool     // a heavy line around it all
}

// block is a paragraph.
type block struct {
	spans []span
	brief []span  // the same in fewer words, from level 1 on; nil where there are none
	scale float64 // of the size of the body text
	last  int     // the last level at which it is there; 0 stands for all of them
}

// The levels of how much is left out: nothing; the short forms; what is optional and
// the words beside the last bar; what the last bar says already.
const (
	everything = iota
	inBrief
	required
	barest
)

// at gives what a block says at a level, nil where it is left out.
func (b block) at(level int) []span {
	switch {
	case b.last > 0 && level > b.last:
		return nil
	case level > everything && b.brief != nil:
		return b.brief
	}
	return b.spans
}

// box is a framed figure with its name over it. Without a value it is filled in by hand.
type box struct{ name, value string }

// Text lists what the label says, in reading order, for tests and for people who do not
// see it. The symbols are named.
func (l Label) Text() []string {
	var out []string
	add := func(spans ...span) {
		var parts []string
		for _, s := range spans {
			parts = append(parts, strings.TrimSpace(s.text))
		}
		if text := strings.TrimSpace(strings.Join(parts, " ")); text != "" {
			out = append(out, text)
		}
	}
	add(l.kicker...)
	add(span{text: l.title})
	for _, b := range l.under {
		add(b.spans...)
	}
	add(span{text: l.signal})
	for _, s := range l.symbols {
		out = append(out, s.Name())
	}
	add(l.hazards...)
	for _, b := range l.boxes {
		add(span{text: b.name}, span{text: b.value})
	}
	for _, b := range l.lines {
		add(b.spans...)
	}
	add(span{text: l.shout}, span{text: l.why})
	add(l.foot.spans...)
	return out
}

// mostRunes is the longest text that a field of a label takes, in characters.
const mostRunes = 200

// text cleans one field for print: no control characters, no terminal escapes, one line.
func text(field, value string) (string, error) {
	if len(value) > 64*mostRunes { // do not clean what is refused anyhow
		return "", tooLong(field)
	}
	value = strings.Join(strings.Fields(measure.Clean(value)), " ")
	if utf8.RuneCountInString(value) > mostRunes {
		return "", tooLong(field)
	}
	return value, nil
}

func tooLong(field string) error {
	return fault.Usagef("%s is longer than %d characters", field, mostRunes).Try("shorten it; a label is read in passing")
}

// prose is text that may not promise what no label of this program promises.
func prose(field, value string) (string, error) {
	value, err := text(field, value)
	if err != nil {
		return "", err
	}
	if found := safety.Claims(value); len(found) > 0 {
		return "", fault.Usagef("%s speaks of: %s", field, strings.Join(found, ", ")).
			Try("take it out; the data sheet and the local authority decide, not a label")
	}
	return value, nil
}

// tidy cleans several fields in place, each given by name and pointer, as prose.
func tidy(fields ...any) error {
	for i := 0; i+1 < len(fields); i += 2 {
		name, at := fields[i].(string), fields[i+1].(*string)
		clean, err := prose(name, *at)
		if err != nil {
			return err
		}
		*at = clean
	}
	return nil
}

// Blank is what stands where something is written by hand.
const blank = "___________"

// day prints a date that no country misreads: 2 Jan 2026.
func day(t time.Time) string {
	if t.IsZero() {
		return blank
	}
	return t.Format("2 Jan 2006")
}

// minute prints a date and time of day.
func minute(t time.Time) string {
	if t.IsZero() {
		return blank
	}
	return t.Format("2 Jan 2006 15:04")
}

// dated tells whether a time can be printed: years 1 to 9999, or not given.
func dated(field string, t time.Time) error {
	if y := t.Year(); y < 1 || y > 9999 {
		return fault.Usagef("%s lies in the year %d", field, y).Try("give a date from the years 1 to 9999")
	}
	return nil
}

// upper makes the first letter of a title a capital.
func upper(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 || r == utf8.RuneError {
		return s
	}
	return strings.ToUpper(string(r)) + s[n:]
}

func plainly(text string) span { return span{text: text} }
func boldly(text string) span  { return span{text: text, bold: true} }
