package safety

import (
	"maps"
	"slices"
	"strings"
	"time"

	"hepar/recipe/fault"
)

// Wrong is a line of the checklist that does not pass: what it asks for, or its code, and why.
type Wrong struct {
	Field string `json:"field"`
	Text  string `json:"text"`
}

// WrongOf says an error of a field on one line, with what to do.
func WrongOf(field string, err error) Wrong {
	text := strings.TrimSuffix(err.Error(), ".")
	if do := fault.CureOf(err); do != "" {
		text += ": " + do
	}
	return Wrong{field, text}
}

// asks are the codes of stops that an answer decides.
var asks = map[string]string{"sulfide-ph": "ph", "no-capture": "capture", "meter-late": "meter"}

// Checklist takes the answers and the codes that were ticked into a subject, and reviews it.
// Every line that does not pass is named at once; where there is one, work does not begin. The second
// person is kept by the full name. It stops the action at an error, see [fault.Must].
func Checklist(sub *Subject, answers map[string]string, ticked []string, today time.Time, full func(name string) string) (review Review, list []Wrong) {
	for _, ask := range slices.Sorted(maps.Keys(answers)) {
		if err := sub.Answer(ask, answers[ask], today); err != nil && strings.TrimSpace(answers[ask]) != "" {
			list = append(list, WrongOf(ask, err))
		}
	}
	sub.Second = full(sub.Second)
	review = fault.Must(Assess(*sub))
	for _, p := range review.Points {
		if p.Level == Stop {
			list = append(list, Wrong{asks[p.Code], "STOP: " + strings.TrimSuffix(p.Text, ".") + ": " + p.Cure})
		}
	}
	for _, c := range review.Confirm {
		switch {
		case c.Ask != "" && c.Answer == "" && !slices.ContainsFunc(list, func(w Wrong) bool { return w.Field == c.Ask }):
			list = append(list, Wrong{c.Ask, "not filled in: " + c.Text})
		case c.Ask == "" && !slices.Contains(ticked, c.Code):
			list = append(list, Wrong{c.Code, "not confirmed: " + c.Text})
		}
	}
	return review, list
}
