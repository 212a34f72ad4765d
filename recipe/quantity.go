package recipe

import (
	"fmt"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/strict"
)

// Limits of what a recipe may ask for. They are bounds of good sense that catch
// slips of the pen, not limits of safety. Common practice, no source.
const (
	lowestCelsius    = 0       // water freezes
	highestCelsius   = 110     // a strong salt solution boils a little above 100
	longestSeconds   = 2592000 // 30 days, in s: the slowest patina by fuming takes weeks
	mostGramsPerL    = 1200    // above it hardly any salt dissolves
	mostMillilitersL = 1000    // mL/L: no more goes into a litre
	mostLoad         = 100     // dm2/L; plating practice is about 1 to 10
	mostSpread       = 5000    // mL/m2, a film 5 mm thick
	mostCoats        = 50
	mostShort        = 0.9 // share of a dip that a window lets go
	mostLong         = 9   // share of a dip that a window adds
)

// span reads a figure or a table of at, from and to. parse reads one text; it
// gives a *fault.Error for what it does not take.
func span[T ~float64](t table, key, example string, parse func(string) (T, error)) (r Range[T], ok bool) {
	one := func(t table, key string) (T, bool) { return strict.Figure(t.Table, key, example, parse) }
	if !strict.Is[map[string]any](t.Table, key) {
		v, ok := one(t, key)
		return Range[T]{v, v, v}, ok
	}
	in, _ := t.sub(key, key)
	return limits(in, key, fmt.Sprintf("%s = { at = %q }", key, example), one)
}

// limits reads at, from and to out of the inline table of a key.
func limits[T ~float64](in table, key, example string, one func(table, string) (T, bool)) (r Range[T], ok bool) {
	in.Only("at", "from", "to")
	if !in.Has("at") {
		in.Missing("at", "write "+example+"; from and to are the limits around it")
		return r, false
	}
	r.At, ok = one(in, "at")
	r.From, r.To = r.At, r.At
	fromOK, toOK := true, true
	if in.Has("from") {
		r.From, fromOK = one(in, "from")
	}
	if in.Has("to") {
		r.To, toOK = one(in, "to")
	}
	if !ok || !fromOK || !toOK {
		return r, false
	}
	switch {
	case in.Has("from") && in.Has("to") && r.From > r.To:
		in.AtValue(in.Place("from"), "put the smaller figure at from, the larger at to", "%s is out of order: from is more than to", key)
	case r.At < r.From:
		in.AtValue(in.Place("at"), "at has to lie between from and to", "%s: at is less than from", key)
	case r.At > r.To:
		in.AtValue(in.Place("at"), "at has to lie between from and to", "%s: at is more than to", key)
	default:
		return r, true
	}
	return r, false
}

// between adds limits to the parse function of a quantity, as [strict.Within] has them.
func between[T ~float64](parse func(string) (T, error), low, high float64, above bool, unit string) func(string) (T, error) {
	return func(text string) (T, error) {
		v, err := parse(text)
		if err != nil {
			return 0, err
		}
		return v, strict.Within(v, low, high, above, unit)
	}
}

func (t table) celsius(key string) (Range[measure.Celsius], bool) {
	return span(t, key, "75 C", between(measure.ParseTemperature, lowestCelsius, highestCelsius, false, "C"))
}

func (t table) seconds(key string) (Range[measure.Seconds], bool) {
	return span(t, key, "10 s", between(func(text string) (measure.Seconds, error) {
		v, err := measure.ParseDuration(text)
		if err == nil && v > longestSeconds {
			err = fault.Usagef("longer than 30 days").Try("give at most 30 d; check the unit too")
		}
		return v, err
	}, 0, longestSeconds, true, "s"))
}

// wholes reads a whole number, or a table of at, from and to of whole numbers.
func (t table) wholes(key string, low, high int) Range[float64] {
	one := func(t table, name string) (float64, bool) {
		before := t.Count()
		n := t.Whole(name, low, high, 0, true)
		return float64(n), t.Count() == before
	}
	if !strict.Is[map[string]any](t.Table, key) {
		n, _ := one(t, key)
		return Range[float64]{n, n, n}
	}
	in, _ := t.sub(key, key)
	r, _ := limits(in, key, key+" = { at = 3 }", one)
	return r
}
