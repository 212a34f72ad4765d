package shop

import (
	"slices"
	"strings"
	"time"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/strict"
)

// mostName is how long a name may be, in characters.
const mostName = 60

// people reads people and each [[worker]], and sees to it that the names are those of
// the list: a flag under a name that nobody has would be heeded by no review.
func (r reader) people() {
	s := r.shop
	names, where := r.List("people", mostName, false, true, `write people = ["a name", "another"]`)
	listed := len(names) > 0
	for i, name := range names {
		if at := s.index(name); at >= 0 {
			r.AtValue(where[i], "name each person once", "%s stands there twice", strict.Excerpt(name))
			continue
		}
		s.People = append(s.People, name)
	}
	if listed {
		r.keep("people", strings.Join(s.People, ", "))
	}
	if s.Person != "" {
		r.member("person", s.Person, listed)
	}
	for _, t := range r.subs("worker", "name", "no_smell", "pregnant", "lungs", "alone", "new") {
		w := Worker{Name: t.Text("name", mostName, true, `write name = "a name", as it stands in people`),
			NoSmell: t.Flag("no_smell"), Pregnant: t.Flag("pregnant"), Lungs: t.Flag("lungs"), Alone: t.Flag("alone"), New: t.Flag("new")}
		if w.Name == "" {
			continue
		}
		if _, twice := s.Worker(w.Name); twice {
			t.AtValue(t.Place("name"), "put all that holds for a person under one [[worker]]", "two workers are called %s", strict.Excerpt(w.Name))
			continue
		}
		t.member("name", w.Name, listed)
		s.Workers = append(s.Workers, w)
		s.given["worker "+w.Name] = given{w.String(), t.Line()}
	}
}

// member adds a name to the people, or notes that it is not on their list.
func (r reader) member(key, name string, listed bool) {
	s := r.shop
	switch {
	case s.index(name) >= 0:
	case listed:
		cure := "write it as it stands in people, or add it there"
		if near := fault.Nearest(name, s.People); near != "" {
			cure = "did you mean " + near + "? " + cure
		}
		r.AtValue(r.Place(key), cure, "%s is not among the people", strict.Excerpt(name))
	default:
		s.People = append(s.People, name)
	}
}

func (s *Shop) index(name string) int {
	return slices.IndexFunc(s.People, func(p string) bool { return strings.EqualFold(p, name) })
}

// String lists what holds for the person, in words.
func (w Worker) String() string {
	var holds []string
	for _, f := range []struct {
		is   bool
		text string
	}{{w.NoSmell, "no sense of smell"}, {w.Pregnant, "pregnant"}, {w.Lungs, "disease of the lungs"}, {w.Alone, "works alone"}, {w.New, "new"}} {
		if f.is {
			holds = append(holds, f.text)
		}
	}
	if len(holds) == 0 {
		return "nothing to heed"
	}
	return strings.Join(holds, ", ")
}

// mostPPM is the highest limit that is taken. At one in a hundred any of the gases
// is far beyond all lists. Assumed.
const mostPPM = 10_000

// limits reads each [[limit]].
func (r reader) limits() {
	s := r.shop
	for _, t := range r.subs("limit", "gas", "list", "ppm", "reason", "date") {
		l := Limit{Gas: t.gas(),
			List:   t.Text("list", 80, true, `write list = "whose limit it is", such as "insurer"`),
			Reason: t.Text("reason", 400, true, `write reason = "why it is used"; the reason is kept with the review`),
			Date:   t.date("date"), Line: t.Line()}
		if !t.Has("ppm") {
			t.Missing("ppm", "write ppm = 1, a plain number")
		}
		l.PPM, _ = t.Number("ppm", 0, mostPPM, true)
		if l.Gas == "" || l.List == "" {
			continue
		}
		key := limitKey(l)
		if s.Given(key) {
			t.AtValue(t.Place("list"), "keep one of the two", "two limits of %s for %s", strict.Excerpt(l.List), l.Gas)
			continue
		}
		s.Limits = append(s.Limits, l)
		text := measure.Plain(l.PPM) + " ppm: " + l.Reason
		if l.Date != "" {
			text += " (" + l.Date + ")"
		}
		s.given[key] = given{measure.Clean(text), l.Line}
	}
}

// date reads a day such as 2025-03-01, in quotes.
func (r reader) date(key string) string {
	const cure = `write it like "2025-03-01", in quotes: year, month, day`
	text := r.Text(key, 40, false, cure)
	if text == "" {
		return ""
	}
	if _, err := time.Parse(time.DateOnly, text); err != nil {
		r.AtValue(r.Place(key), cure, "%s %s is no day", key, strict.Excerpt(text))
		return ""
	}
	return text
}

// gas reads the name of a gas; it is compared with the shipped limits where they are
// laid over each other.
func (r reader) gas() string {
	return r.Text("gas", 60, true, `write gas = "hydrogen sulfide", the name of the gas, dust or vapour`)
}
