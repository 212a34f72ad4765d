package strict

import (
	"bytes"
	"cmp"
	"fmt"
	"math"
	"reflect"
	"strings"
	"unicode/utf8"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// Placeholder is what a template has where a person has to write something.
const Placeholder = "FILL IN"

// kinds are the sorts of values in plain words.
var kinds = map[reflect.Kind]string{reflect.String: "text", reflect.Bool: "true or false", reflect.Int64: "a whole number",
	reflect.Float64: "a bare number", reflect.Slice: "a list", reflect.Map: "a table", reflect.Struct: "a date or time"}

func kindOf(v any) string {
	if f, ok := v.(float64); ok && (math.IsNaN(f) || math.IsInf(f, 0)) {
		return "nan or inf"
	}
	return kinds[reflect.TypeOf(v).Kind()]
}

// label is what a message calls a key: "time.at" for a key of a table that has no line of its own.
func (t Table) label(key string) string {
	if t.name == "" || t.name[0] == '[' {
		return key
	}
	return t.name + "." + key
}

// wrong notes that a key holds the wrong sort of value.
func (t Table) wrong(key, wanted, cure string) {
	t.AtValue(t.Place(key), cure, "%s must be %s, not %s", t.label(key), wanted, kindOf(t.content[key]))
}

// get returns the value of a key of one sort, or notes another sort or a required key missing.
func get[T any](t Table, key, wanted string, required bool, cure string) (v T, ok bool) {
	if v, ok = t.content[key].(T); ok {
		return v, true
	}
	if t.Has(key) {
		t.wrong(key, wanted, cure)
	} else if required {
		t.Missing(key, cure)
	}
	return v, false
}

// words checks one piece of text. It returns "" and notes why if the text will not do.
func (t Table) words(at *Place, what, text string, most int) string {
	switch {
	case strings.TrimSpace(text) == "":
		t.AtValue(at, "write the text, or remove the key if it is optional", "%s is empty", what)
	case strings.Contains(text, Placeholder):
		t.AtValue(at, "replace "+Placeholder+" with your own words or figures", "%s is not filled in", what)
	case strings.ContainsFunc(text, Hidden) || !utf8.ValidString(text):
		t.AtValue(at, "write plain text on one line, without tabs, line breaks or invisible characters", "%s has a control or invisible character in it", what)
	case utf8.RuneCountInString(text) > most:
		t.AtValue(at, "shorten it; details can go into a note", "%s is longer than %d characters", what, most)
	default:
		return text
	}
	return ""
}

// Text reads one line of text, of at most so many characters. It returns "" and notes why if
// the text will not do.
func (t Table) Text(key string, most int, required bool, cure string) string {
	if s, ok := get[string](t, key, "text in quotes", required, cure); ok {
		return t.words(t.Place(key), key, s, most)
	}
	return ""
}

// Flag reads true or false; a missing key is false.
func (t Table) Flag(key string) bool {
	v, _ := get[bool](t, key, "true or false", false, fmt.Sprintf("write %s = true or %s = false, without quotes", key, key))
	return v
}

// List reads texts of at most so many characters each, and returns their places too. empty
// allows a list with nothing in it.
func (t Table) List(key string, most int, required, empty bool, cure string) (texts []string, where []*Place) {
	items, ok := get[[]any](t, key, "a list of texts", required, cure)
	at := t.Place(key)
	switch {
	case !ok:
		return nil, nil
	case len(items) == 0 && !empty:
		t.AtValue(at, cure, "%s is empty", key)
	case len(items) > MaxList:
		t.AtValue(at, "keep what a person reads at the bench", "%s has more than %d entries", key, MaxList)
		return nil, nil
	}
	for i, item := range items {
		p, what := at.items[i], fmt.Sprintf("entry %d of %s", i+1, key)
		s, ok := item.(string)
		if !ok {
			t.AtValue(p, cure, "%s must be text in quotes, not %s", what, kindOf(item))
		} else if s = t.words(p, what, s, most); s != "" {
			texts, where = append(texts, s), append(where, p)
		}
	}
	return texts, where
}

// limits says in words what lies between two figures, and whether v does; above leaves out low
// itself.
func limits(v, low, high float64, above bool) (words string, within bool) {
	between := "from %s to %s"
	if above {
		between = "more than %s and at most %s"
	}
	words = fmt.Sprintf(between, measure.Plain(low), measure.Plain(high))
	return words, v >= low && v <= high && !(above && v == low)
}

// number reads a number in plain decimals: no 0x10, 1_000, 1e3 or inf.
func (t Table) number(key, wanted string, low, high float64, above, whole, required bool) (v float64, ok bool) {
	switch n := t.content[key].(type) {
	case int64:
		v, ok = float64(n), true
	case float64:
		v, ok = n, !whole
	}
	words, within := limits(v, low, high, above)
	cure := fmt.Sprintf("write %s = NUMBER, %s %s, without quotes or unit", key, wanted, words)
	rest := bytes.TrimLeft(t.src.data[t.Place(key).val:], "+-.0123456789")
	switch {
	case !t.Has(key) && required:
		t.Missing(key, cure)
	case !t.Has(key):
	case !ok:
		t.wrong(key, wanted, cure)
	case len(rest) > 0 && !bytes.ContainsAny(rest[:1], " \t\r\n,]}#"):
		t.AtValue(t.Place(key), cure, "%s is not a plain decimal number", t.label(key))
	case !within:
		t.AtValue(t.Place(key), cure, "%s must be %s", t.label(key), words)
	default:
		return v, true
	}
	return 0, false
}

// Whole reads a whole number from low to high, or returns missing.
func (t Table) Whole(key string, low, high, missing int, required bool) int {
	if v, ok := t.number(key, "a whole number", float64(low), float64(high), false, true, required); ok {
		return int(v)
	}
	return missing
}

// Number reads a plain number from low to high, whole or not, in the unit of the name of the
// key; above refuses low itself. ok is false if the key is missing or will not do.
func (t Table) Number(key string, low, high float64, above bool) (v float64, ok bool) {
	return t.number(key, "a plain number", low, high, above, false, false)
}

// Figure reads a quantity: text with a unit, of at most 60 characters, which parse reads. It
// notes the error of parse with its cure, or else with the example. ok is false if the key is
// missing or will not do.
func Figure[T ~float64](t Table, key, example string, parse func(string) (T, error)) (v T, ok bool) {
	cure := fmt.Sprintf("write for instance %s = %q", key, example)
	if n, isWhole := t.content[key].(int64); isWhole {
		cure = fmt.Sprintf("write the unit after the figure: %q if it is %d in that unit", example, n)
	}
	s, ok := get[string](t, key, "text with a unit, in quotes", false, cure)
	if !ok || t.words(t.Place(key), t.label(key), s, 60) == "" {
		return 0, false
	}
	v, err := parse(s)
	if err == nil && (math.IsNaN(float64(v)) || math.IsInf(float64(v), 0)) {
		err = fault.Usagef("%s is not a figure", key)
	}
	if err != nil {
		t.AtValue(t.Place(key), cmp.Or(fault.CureOf(err), cure), "%s: %s", t.label(key), err.Error())
		return 0, false
	}
	return v, true
}

// Within refuses a figure outside low to high, with above low itself too, for a parse function
// of [Figure]; unit is for the message.
func Within[T ~float64](v T, low, high float64, above bool, unit string) error {
	words, within := limits(float64(v), low, high, above)
	if within {
		return nil
	}
	return fault.Usagef("must be %s %s", words, unit).Try("check the unit, and write a figure within these limits")
}

// Between adds limits, as [Within] has them, to a parse function of [Figure].
func Between[T ~float64](parse func(string) (T, error), low, high float64, above bool, unit string) func(string) (T, error) {
	return func(text string) (T, error) {
		v, err := parse(text)
		return v, cmp.Or(err, Within(v, low, high, above, unit))
	}
}
