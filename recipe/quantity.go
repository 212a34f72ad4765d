package recipe

import (
	"fmt"
	"strconv"

	"hepar/recipe/measure"
	"hepar/recipe/strict"
)

// Bounds of good sense that catch slips of the pen, no limits of safety. Common practice, no
// source.
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

// span reads a figure or a table of at, from and to. must is the cure for a missing key, ""
// where it is optional. The error of parse is a *fault.Error.
func span[T ~float64](t table, key, example, must string, parse func(string) (T, error)) (Range[T], bool) {
	return limited(t, key, strconv.Quote(example), must, func(t table, key string) (T, bool) { return strict.Figure(t.Table, key, example, parse) })
}

// limited is [span] for figures that one reads; the example is as it stands in a file.
func limited[T ~float64](t table, key, example, must string, one func(table, string) (T, bool)) (r Range[T], ok bool) {
	if must != "" && !t.Has(key) {
		t.Missing(key, must)
	}
	if !strict.Is[map[string]any](t.Table, key) {
		v, ok := one(t, key)
		return Range[T]{v, v, v}, ok
	}
	in, _ := t.sub(key, key)
	in.Only("at", "from", "to")
	if !in.Has("at") {
		in.Missing("at", fmt.Sprintf("write %s = { at = %s }; from and to are the limits around it", key, example))
	}
	r.At, ok = one(in, "at")
	r.From, r.To = r.At, r.At
	for name, at := range map[string]*T{"from": &r.From, "to": &r.To} {
		if in.Has(name) {
			v, fine := one(in, name)
			*at, ok = v, ok && fine
		}
	}
	if ok && (r.At < r.From || r.At > r.To) {
		in.AtValue(in.Place("at"), "put the smallest figure at from, the largest at to, and at between them", "%s is out of order", key)
		return r, false
	}
	return r, ok
}

var parseCelsius = strict.Between(measure.ParseTemperature, lowestCelsius, highestCelsius, false, "C")

func (t table) celsius(key, must string) (Range[measure.Celsius], bool) {
	return span(t, key, "75 C", must, parseCelsius)
}

func (t table) seconds(key, must string) (Range[measure.Seconds], bool) {
	return span(t, key, "10 s", must, strict.Between(measure.ParseDuration, 0, longestSeconds, true, "s, 30 days"))
}
