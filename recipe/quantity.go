package recipe

import (
	"fmt"
	"math"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
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
)

// span reads a figure or a table of at, from and to. parse reads one text; it
// gives a *fault.Error for what it does not take.
func span[T ~float64](t table, key, example string, parse func(string) (T, error)) (r Range[T], ok bool) {
	one := func(t table, key string) (T, bool) {
		s, isText := t.content[key].(string)
		if !isText {
			what := "text with a unit, in quotes"
			if n, isNumber := t.content[key].(int64); isNumber {
				t.wrong(key, what, fmt.Sprintf("say of what: write the unit behind the figure, for instance %q if it is %d in that unit", example, n))
			} else {
				t.wrong(key, what, fmt.Sprintf("write for instance %s = %q", key, example))
			}
			return 0, false
		}
		if t.words(t.place(key), t.label(key), s, 60) == "" {
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
			t.val(t.place(key), cure, "%s: %s", t.label(key), err.Error())
			return 0, false
		}
		return v, true
	}
	inner, isTable := t.content[key].(map[string]any)
	if !isTable {
		v, ok := one(t, key)
		return Range[T]{v, v, v}, ok
	}
	in := table{t.walk, key, inner, t.place(key)}
	return limits(in, key, fmt.Sprintf("%s = { at = %q }", key, example), one)
}

// limits reads at, from and to out of the inline table of a key.
func limits[T ~float64](in table, key, example string, one func(table, string) (T, bool)) (r Range[T], ok bool) {
	in.only("at", "from", "to")
	if !in.has("at") {
		in.missing("at", "write "+example+"; from and to are the limits around it")
		return r, false
	}
	r.At, ok = one(in, "at")
	r.From, r.To = r.At, r.At
	fromOK, toOK := true, true
	if in.has("from") {
		r.From, fromOK = one(in, "from")
	}
	if in.has("to") {
		r.To, toOK = one(in, "to")
	}
	if !ok || !fromOK || !toOK {
		return r, false
	}
	switch {
	case in.has("from") && in.has("to") && r.From > r.To:
		in.val(in.place("from"), "put the smaller figure at from, the larger at to", "%s is out of order: from is more than to", key)
	case r.At < r.From:
		in.val(in.place("at"), "at has to lie between from and to", "%s: at is less than from", key)
	case r.At > r.To:
		in.val(in.place("at"), "at has to lie between from and to", "%s: at is more than to", key)
	default:
		return r, true
	}
	return r, false
}

// within refuses a figure outside low..high; with above, low itself too.
func within[T ~float64](v T, low, high float64, above bool, unit string) error {
	f := float64(v)
	switch {
	case above && f <= low:
		return fault.Usagef("must be more than %g %s", low, unit).Try("give a figure over %g and up to %g %s", low, high, unit)
	case f < low || f > high:
		return fault.Usagef("outside %g to %g %s", low, high, unit).Try("give a figure from %g to %g %s; look at the unit too", low, high, unit)
	}
	return nil
}

func (t table) celsius(key string) (Range[measure.Celsius], bool) {
	return span(t, key, "75 C", func(s string) (measure.Celsius, error) {
		v, err := measure.ParseTemperature(s)
		if err != nil {
			return 0, err
		}
		return v, within(v, lowestCelsius, highestCelsius, false, "C")
	})
}

func (t table) seconds(key string) (Range[measure.Seconds], bool) {
	return span(t, key, "10 s", func(s string) (measure.Seconds, error) {
		v, err := measure.ParseDuration(s)
		if err != nil {
			return 0, err
		}
		if v > longestSeconds {
			return 0, fault.Usagef("longer than 30 days").Try("give at most 30 d; look at the unit too")
		}
		return v, within(v, 0, longestSeconds, true, "s")
	})
}

func (t table) load(key string) measure.SquareDMPerLiter {
	r, ok := span(t, key, "2 dm2/L", func(s string) (measure.SquareDMPerLiter, error) {
		v, err := measure.ParseLoad(s)
		if err != nil {
			return 0, err
		}
		return v, within(v, 0, mostLoad, true, "dm2/L")
	})
	if ok && !r.Single() {
		t.val(t.place(key), `write one figure, for instance max_load = "2 dm2/L"`, "%s is a single figure, without from and to", key)
	}
	return r.At
}

func (t table) spread(key string) Range[measure.MillilitersPerSquareM] {
	r, _ := span(t, key, "80 mL/m2", func(s string) (measure.MillilitersPerSquareM, error) {
		v, err := measure.ParseSpread(s)
		if err != nil {
			return 0, err
		}
		return v, within(v, 0, mostSpread, true, "mL/m2")
	})
	return r
}

// wholes reads a whole number, or a table of at, from and to of whole numbers.
func (t table) wholes(key string, low, high int) Range[float64] {
	one := func(t table, name string) (float64, bool) {
		before := len(t.findings)
		n := t.whole(name, low, high, 0, true)
		return float64(n), len(t.findings) == before
	}
	inner, isTable := t.content[key].(map[string]any)
	if !isTable {
		n, _ := one(t, key)
		return Range[float64]{n, n, n}
	}
	r, _ := limits(table{t.walk, key, inner, t.place(key)}, key, key+" = { at = 3 }", one)
	return r
}
