package strict

import (
	"fmt"
	"math"

	"hepar/recipe/fault"
)

// Figure reads a key that holds a quantity: text with a unit, of at most 60
// characters. parse reads the text; what it does not take is noted with the
// cure of its error, or with the example. ok is false where there was anything to
// note, or where the key is not there at all.
func Figure[T ~float64](t Table, key, example string, parse func(string) (T, error)) (v T, ok bool) {
	value, there := t.content[key]
	if !there {
		return 0, false
	}
	s, isText := value.(string)
	if !isText {
		what := "text with a unit, in quotes"
		if n, isNumber := value.(int64); isNumber {
			t.Wrong(key, what, fmt.Sprintf("say of what: write the unit behind the figure, for instance %q if it is %d in that unit", example, n))
		} else {
			t.Wrong(key, what, fmt.Sprintf("write for instance %s = %q", key, example))
		}
		return 0, false
	}
	if t.words(t.Place(key), t.label(key), s, 60) == "" {
		return 0, false
	}
	v, err := parse(s)
	if err == nil && (math.IsNaN(float64(v)) || math.IsInf(float64(v), 0)) {
		err = fault.Usagef("%s is not a figure", key)
	}
	if err != nil {
		cure := fault.CureOf(err)
		if cure == "" {
			cure = fmt.Sprintf("write for instance %q", example)
		}
		t.AtValue(t.Place(key), cure, "%s: %s", t.label(key), err.Error())
		return 0, false
	}
	return v, true
}

// Within refuses a figure outside low..high, with unit for the message; with
// above, low itself too. It is for use at the end of the parse of a [Figure].
func Within[T ~float64](v T, low, high float64, above bool, unit string) error {
	f := float64(v)
	switch {
	case above && f <= low:
		return fault.Usagef("must be more than %g %s", low, unit).Try("give a figure over %g and up to %g %s", low, high, unit)
	case f < low || f > high:
		return fault.Usagef("outside %g to %g %s", low, high, unit).Try("give a figure from %g to %g %s; look at the unit too", low, high, unit)
	}
	return nil
}
