package strict

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"hepar/recipe/fault"
)

// Finding is one thing wrong in a file.
type Finding struct {
	File    string `json:"-"`
	Line    int    `json:"line"`   // from 1; 0 where the finding is about the whole file
	Column  int    `json:"column"` // from 1
	Text    string `json:"text"`   // the offending text as it stands in the file
	What    string `json:"what"`
	Cure    string `json:"do"`
	Refused bool   `json:"refused"` // refused for safety: a banned substance, an acid with a sulfide
}

// Place returns file:line:column, or the file alone for a finding about the whole file.
func (f Finding) Place() string {
	if f.Line == 0 {
		return f.File
	}
	return fmt.Sprintf("%s:%d:%d", f.File, f.Line, f.Column)
}

// Lines returns the finding as a person reads it, without colour or control characters: the
// place and what is wrong, then the offending text and what to do, where there are such.
func (f Finding) Lines() []string {
	what := f.What
	if f.Refused {
		what = "refused: " + what
	}
	lines := []string{Plain(strings.TrimPrefix(f.Place()+": "+what, ": "))}
	for _, more := range []string{"    " + f.Text, "  " + f.Cure} {
		if strings.TrimSpace(more) != "" {
			lines = append(lines, Plain(more))
		}
	}
	return lines
}

// Findings is what is wrong with one file, as an error; see [Findings.Of].
type Findings []Finding

// Error returns the first refusal, or else the first finding, and how many more there are.
func (f Findings) Error() string {
	text := f.gravest().Lines()[0]
	if len(f) > 1 {
		text += fmt.Sprintf(" (and %d more)", len(f)-1)
	}
	return text
}

func (f Findings) gravest() Finding {
	return f[max(0, slices.IndexFunc(f, func(one Finding) bool { return one.Refused }))]
}

// Refused reports whether one of the findings is a refusal for safety.
func (f Findings) Refused() bool { return len(f) > 0 && f.gravest().Refused }

// Of turns the findings in a file, named as in "recipe", into a *fault.Error: of kind Safety
// if one is a refusal, else of kind Failure. It returns nil if there are none.
func (f Findings) Of(name string) error {
	if len(f) == 0 {
		return nil
	}
	err := fault.Failuref("the %s does not pass its check", name)
	if f.Refused() {
		err = fault.Safetyf("the %s is refused", name)
	}
	return err.Because(f).Try("%s", Plain(f.gravest().Cure))
}

// Plain replaces characters that could disturb a terminal with a question mark.
func Plain(text string) string {
	return strings.Map(func(r rune) rune {
		if Hidden(r) || r == utf8.RuneError {
			return '?'
		}
		return r
	}, text)
}

// Hidden reports whether a character cannot be seen: control characters, marks that turn the
// writing direction, zero-width characters, line separators.
func Hidden(r rune) bool { return unicode.Is(unicode.C, r) || r == '\u2028' || r == '\u2029' }

// Excerpt returns the first line of text, at most 60 characters, for a message.
func Excerpt(text string) string {
	first, _, more := strings.Cut(strings.TrimSpace(text), "\n")
	if first = strings.TrimSpace(first); more {
		first += " ..."
	}
	if utf8.RuneCountInString(first) > 60 {
		first = string([]rune(first)[:60]) + "..."
	}
	return Plain(first)
}

// Meant returns "did you mean X or Y? ", with up to three of the words that are near, or
// nothing.
func Meant(word string, words []string) string {
	if near := fault.NearestN(word, words, 3); len(near) > 0 {
		return "did you mean " + strings.Join(near, " or ") + "? "
	}
	return ""
}
