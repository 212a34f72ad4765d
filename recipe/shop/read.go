package shop

import (
	"strings"

	"hepar/recipe/bath/yield"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/strict"
)

// reader reads one table of the file into the shop and keeps where each key stood.
type reader struct {
	strict.Table
	shop   *Shop
	prefix string // of its keys in the settings: "balance."
}

func (r reader) keep(key, text string) {
	r.shop.given[r.prefix+key] = given{measure.Clean(text), r.LineOf(key)}
}

// sub opens a table of settings; ok is false where it is not there.
func (r reader) sub(key string, keys ...string) (reader, bool) {
	t, ok := r.Sub(key, "["+key+"]")
	if !ok {
		return reader{}, false
	}
	t.Only(keys...)
	return reader{t, r.shop, key + "."}, true
}

// subs opens the tables of a list that may be missing.
func (r reader) subs(key string, keys ...string) []reader {
	if !r.Has(key) {
		return nil
	}
	var all []reader
	for _, t := range r.Subs(key, "[["+key+"]]") {
		if r.Full() {
			break
		}
		t.Only(keys...)
		all = append(all, reader{t, r.shop, key + " "})
	}
	return all
}

// words reads text and keeps it.
func (r reader) words(key string, most int, required bool, cure string) string {
	text := r.Text(key, most, required, cure)
	if text != "" {
		r.keep(key, text)
	}
	return text
}

// choice reads one of a few words.
func (r reader) choice(key string, from ...string) string {
	cure := "write one of: " + strings.Join(from, ", ")
	text := r.Text(key, 60, false, cure)
	for _, word := range from {
		if text == word {
			r.keep(key, text)
			return text
		}
	}
	if text != "" {
		if near := fault.Nearest(text, from); near != "" {
			cure = "did you mean " + near + "? " + cure
		}
		r.AtValue(r.Place(key), cure, "%s %s is not known", key, strict.Excerpt(text))
	}
	return ""
}

// quantity reads a figure with a unit and keeps it as it was written.
func quantity[T ~float64](r reader, key, example string, parse func(string) (T, error)) (v T, ok bool) {
	written := ""
	v, ok = strict.Figure(r.Table, key, example, func(text string) (T, error) {
		written = text
		return parse(text)
	})
	if ok {
		r.keep(key, written)
	}
	return v, ok
}

// number reads a plain number and keeps it with the unit that its key implies.
func (r reader) number(key, unit string, low, high float64) float64 {
	v, ok := r.Number(key, low, high, true)
	if ok {
		r.keep(key, strings.TrimSpace(measure.Plain(v)+" "+unit))
	}
	return v
}

// flag reads true or false and keeps it.
func (r reader) flag(key string) bool {
	v := r.Flag(key)
	if r.IsFlag(key) {
		r.keep(key, yesNo(v))
	}
	return v
}

func yesNo(v bool) string {
	if v {
		return "yes"
	}
	return "no"
}

// read reads the whole file.
func read(root strict.Table) Shop {
	s := Shop{given: map[string]given{}}
	s.Bath.Known = map[string]bool{}
	s.Bath.Minutes = yield.DefaultMinutes()
	r := reader{root, &s, ""}
	r.Only("name", "person", "people", "units", "balance", "water", "room", "vessel", "hands", "drain", "minutes", "rates", "match",
		"worker", "limit")
	s.Name = r.words("name", 80, false, `write name = "what the workshop is called"`)
	if r.Has("person") {
		s.Person = r.words("person", mostName, false, `write person = "a name"; what holds for a person stands under [[worker]], with its name`)
	}
	if r.choice("units", "metric", "us") == "us" {
		s.Units = measure.US
	}
	r.bench()
	r.room()
	r.vessels()
	r.run()
	r.minutes()
	r.rates()
	r.people()
	r.limits()
	return s
}
