package strict

import (
	"errors"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"hepar/recipe/fault"
)

// Finding is one thing wrong in a file.
type Finding struct {
	File    string
	Line    int    // from 1; 0 where the finding is of the file as a whole
	Column  int    // from 1
	Text    string // the offending text as it stands in the file
	What    string
	Cure    string
	Refused bool // refused for safety: a banned substance, an acid with a sulfide
}

// Place gives the finding's place as file:line:column, or the file alone where
// the finding is of the file as a whole.
func (f Finding) Place() string {
	if f.Line == 0 {
		return f.File
	}
	return fmt.Sprintf("%s:%d:%d", f.File, f.Line, f.Column)
}

// Lines gives the finding as the lines a person reads: the place and what is
// wrong, the offending text, and what to do. The second and third are left out
// where there is nothing to say. No colour, no control characters.
func (f Finding) Lines() []string {
	what := f.What
	if f.Refused {
		what = "refused: " + what
	}
	if place := f.Place(); place != "" {
		what = place + ": " + what
	}
	lines := []string{Plain(what)}
	if f.Text != "" {
		lines = append(lines, "    "+Plain(f.Text))
	}
	if f.Cure != "" {
		lines = append(lines, "  "+Plain(f.Cure))
	}
	return lines
}

// Error gives the first of the lines of [Finding.Lines].
func (f Finding) Error() string { return f.Lines()[0] }

// Findings is what is wrong with one file, as an error. [Findings.Of] puts it
// inside a *fault.Error; errors.As or [FindingsOf] brings it back.
type Findings []Finding

// Error gives the gravest finding, a refusal before others, and how many more there are.
func (f Findings) Error() string {
	if len(f) == 0 {
		return "no findings"
	}
	text := f.gravest().Error()
	if len(f) > 1 {
		text += fmt.Sprintf(" (and %d more)", len(f)-1)
	}
	return text
}

// gravest gives the first refusal, or the first finding if none is one.
func (f Findings) gravest() Finding {
	for _, one := range f {
		if one.Refused {
			return one
		}
	}
	return f[0]
}

// Refused tells whether any of the findings is a refusal for safety.
func (f Findings) Refused() bool {
	for _, one := range f {
		if one.Refused {
			return true
		}
	}
	return false
}

// Err is [Findings.Of] a "file".
func (f Findings) Err() error { return f.Of("file") }

// Of turns the findings in a file, called by its name such as "recipe", into a
// *fault.Error: of kind Safety if one of them is a refusal, of kind Failure
// otherwise. It is nil where there are none.
func (f Findings) Of(name string) error {
	switch {
	case len(f) == 0:
		return nil
	case f.Refused():
		return fault.Safetyf("the %s is refused", name).Because(f).Try("%s", Plain(f.gravest().Cure))
	}
	return fault.Failuref("the %s does not pass its check", name).Because(f).Try("%s", Plain(f.gravest().Cure))
}

// FindingsOf brings back the findings behind an error, or nil.
func FindingsOf(err error) []Finding {
	var f Findings
	if errors.As(err, &f) {
		return f
	}
	return nil
}

// Plain replaces what could disturb a terminal, and cuts nothing else.
func Plain(text string) string {
	return strings.Map(func(r rune) rune {
		if Hidden(r) || r == utf8.RuneError {
			return '?'
		}
		return r
	}, text)
}

// Hidden tells whether a character cannot be seen: control characters, marks
// that turn the writing direction, zero-width characters, line separators.
func Hidden(r rune) bool {
	return unicode.Is(unicode.C, r) || r == '\u2028' || r == '\u2029'
}

// Excerpt gives the first line of text, at most 60 characters, for a finding.
func Excerpt(text string) string {
	const most = 60
	text = strings.TrimSpace(text)
	if i := strings.IndexAny(text, "\r\n"); i >= 0 {
		text = strings.TrimSpace(text[:i]) + " ..."
	}
	if utf8.RuneCountInString(text) > most {
		text = string([]rune(text)[:most]) + "..."
	}
	return Plain(text)
}
