package label

import (
	"strings"
	"time"
	"unicode/utf8"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/safety"
)

// Label is what a label says, made by [Container], [Bath] or [Waste]. It does not change
// afterwards.
type Label struct {
	kind            string // container, bath or waste; also a class in the style sheet
	title           string
	head, main, end []part
	signal          string // signal word, in capitals
	shout           string // the large words of the last bar
	symbols         []Symbol
}

// part is a paragraph, or a group of them.
type part struct {
	Class string // in the style sheet
	Spans []span
	Brief []span // the same in fewer words; nil where there are none
	Parts []part
	Order int // what a label without room hides: 1 first, then 2; 0 is always printed
}

// span is a stretch of text within a paragraph.
type span struct {
	Text string
	Bold bool
}

func plainly(text string) span { return span{Text: text} }
func boldly(text string) span  { return span{Text: text, Bold: true} }

// foot is the last paragraph: papers, where the codes come from, who decides.
func foot(full, brief []span, d danger) part {
	return part{Class: "foot", Spans: append(full, d.origin(false)...), Brief: append(brief, d.origin(true)...)}
}

// note is a paragraph that a small label leaves out.
func note(text string) part {
	return part{Class: "note", Spans: []span{plainly(text)}, Order: 2}
}

// figure is a framed value under its name. Without a value it is filled in by hand.
func figure(name, value string) part {
	return part{Class: "box", Parts: []part{
		{Class: "name", Spans: []span{boldly(name)}},
		{Class: "value", Spans: []span{boldly(value)}},
	}}
}

// Text lists what the label says in full, in reading order. The symbols are named.
func (l Label) Text() []string {
	var out []string
	add := func(parts []part) {
		for _, p := range parts {
			out = append(out, read([]part{p}))
		}
	}
	add(l.head)
	for _, s := range l.symbols {
		out = append(out, s.Name())
	}
	add(l.main)
	add(l.end)
	return out
}

// read returns the words of parts, joined by spaces.
func read(parts []part) string {
	var words []string
	for _, p := range parts {
		for _, s := range p.Spans {
			words = append(words, s.Text)
		}
		if len(p.Parts) > 0 {
			words = append(words, read(p.Parts))
		}
	}
	return strings.TrimSpace(strings.Join(words, " "))
}

// mostLetters is the longest text that a field of a label takes, in characters.
const mostLetters = 200

// text cleans one field for print: no control characters, no terminal escapes, one line.
func text(field, value string) (string, error) {
	if len(value) <= 64*mostLetters { // what is far too long is not worth cleaning
		value = strings.Join(strings.Fields(measure.Clean(value)), " ")
	}
	if utf8.RuneCountInString(value) > mostLetters {
		return "", fault.Usagef("%s is longer than %d characters", field, mostLetters).Try("shorten it; a label is read in passing")
	}
	return value, nil
}

// prose cleans text that may not promise what no label of this program promises.
func prose(field, value string) (string, error) {
	value, err := text(field, value)
	if err != nil {
		return "", err
	}
	if found := safety.Claims(value); len(found) > 0 {
		return "", fault.Usagef("%s makes a claim: %s", field, strings.Join(found, ", ")).
			Try("take it out; the SDS and the local authority decide, not a label")
	}
	return value, nil
}

// tidy cleans several fields in place, each given by name and pointer, as prose.
func tidy(fields ...any) error {
	for i := 0; i+1 < len(fields); i += 2 {
		at := fields[i+1].(*string)
		clean, err := prose(fields[i].(string), *at)
		if err != nil {
			return err
		}
		*at = clean
	}
	return nil
}

// blank is what stands where something is written by hand.
const blank = "___________"

// day prints a date that no country misreads: 2 Jan 2026.
func day(t time.Time) string {
	if t.IsZero() {
		return blank
	}
	return t.Format("2 Jan 2006")
}

// minute prints a date and time of day.
func minute(t time.Time) string { return t.Format("2 Jan 2006 15:04") }

// dated returns an error of kind Usage for a time outside the years 1 to 9999.
func dated(field string, t time.Time) error {
	if y := t.Year(); y < 1 || y > 9999 {
		return fault.Usagef("%s lies in the year %d", field, y).Try("use a date from the years 1 to 9999")
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

// join writes a list with commas.
func join(list []string) string { return strings.Join(list, ", ") }
