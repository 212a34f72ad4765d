package label

import (
	"html"
	"html/template"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/safety"
)

// Label is what a label says, made by [Container], [Bath] or [Waste].
type Label struct {
	Kind            string // container, bath or waste; also a class in the style sheet
	Title           string
	Head, Main, End []part
	Symbols         []Symbol
}

type part struct {
	Class string // in the style sheet
	Words words
	Brief words // the same in fewer words; empty where there are none
	Parts []part
	Order int // what a label without room hides: 1 first, then 2; 0 is always printed
}

// words is text with what is bold between two marks. [tidy] lets no mark of a user through.
type words string

const mark = "\x01"

func bold(text string) words {
	if text == "" {
		return ""
	}
	return words(mark + text + mark)
}

// HTML is the text for a page, escaped.
func (w words) HTML() template.HTML {
	parts := strings.Split(html.EscapeString(string(w)), mark)
	for i := 1; i < len(parts); i += 2 {
		parts[i] = "<b>" + parts[i] + "</b>"
	}
	return template.HTML(strings.Join(parts, ""))
}

// pair is a value after its name, nothing where there is no value.
func pair(name, value words) words {
	if value == "" {
		return ""
	}
	return name + " " + value
}

func dotted(groups ...words) (all words) {
	for _, g := range groups {
		if all != "" && g != "" {
			all += " · "
		}
		all += g
	}
	return all
}

// foot is the last paragraph: papers, where the codes come from, who decides.
func foot(full, brief words, d danger) part {
	return part{Class: "foot", Words: full + " " + d.origin(false), Brief: brief + " " + d.origin(true)}
}

// note adds a paragraph that a small label leaves out.
func (l *Label) note(text string) {
	if text != "" {
		l.Main = append(l.Main, part{Class: "note", Words: words(text), Order: 2})
	}
}

// figure is a framed value under its name. Without a value it is filled in by hand.
func figure(name, value string) part {
	return part{Class: "box", Parts: []part{
		{Class: "name", Words: bold(name)},
		{Class: "value", Words: bold(value)},
	}}
}

// Text lists what the label says in full, in reading order. The symbols are named.
func (l Label) Text() []string {
	var out []string
	for _, p := range l.Head {
		out = append(out, read(p))
	}
	for _, s := range l.Symbols {
		out = append(out, s.Name())
	}
	for _, p := range slices.Concat(l.Main, l.End) {
		out = append(out, read(p))
	}
	return out
}

func read(p part) string {
	text := strings.ReplaceAll(string(p.Words), mark, "")
	for _, inner := range p.Parts {
		text += " " + read(inner)
	}
	return strings.TrimSpace(text)
}

const mostLetters = 200

// tidy cleans fields in place for print, each passed as its name and a pointer: one line, no
// control characters. None may promise what no label of this program promises.
func tidy(fields ...any) error {
	for i := 0; i+1 < len(fields); i += 2 {
		field, value := fields[i], fields[i+1].(*string)
		if len(*value) <= 64*mostLetters { // what is far too long is not worth cleaning
			*value = strings.Join(strings.Fields(measure.Clean(*value)), " ")
		}
		if utf8.RuneCountInString(*value) > mostLetters {
			return fault.Usagef("%s is longer than %d characters", field, mostLetters).Try("shorten it; a label is read in passing")
		}
		if found := safety.Claims(*value); len(found) > 0 {
			return fault.Usagef("%s makes a claim: %s", field, strings.Join(found, ", ")).
				Try("take it out; the SDS and the local authority decide, not a label")
		}
	}
	return nil
}

// A date that no country misreads, alone and with the time of day.
const (
	day    = "2 Jan 2006"
	minute = day + " 15:04"
)

func written(t time.Time, layout string) string {
	if t.IsZero() {
		return ""
	}
	return t.Format(layout)
}

func upper(s string) string {
	_, n := utf8.DecodeRuneInString(s)
	return strings.ToUpper(s[:n]) + s[n:]
}
