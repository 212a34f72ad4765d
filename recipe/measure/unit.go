package measure

import (
	"fmt"
	"math/big"
	"slices"
	"strconv"
	"strings"

	"hepar/recipe/fault"
)

// Unit is one unit of measure. Two units are the same unit when they compare
// equal with ==. The zero Unit is no unit; get one from [Find].
type Unit struct {
	Symbol    string    // as it is printed; [Find] reads it back
	Dimension Dimension // what it measures

	num, den int64  // exact factor to the unit of the dimension
	shift    int64  // temperatures: hundredths of a degree added before the factor
	note     string // how a name with a namesake was read
}

// Note says how a unit with a namesake was read ("gal read as the US gallon..."),
// for the caller to print. It is empty for a unit that can mean one thing only.
func (u Unit) Note() string { return u.note }

// Ambiguous tells whether the unit holds a liquid measure without a word for which
// it is: a gal, qt, pint, cup, fl oz, tbsp or tsp is of one size in the US system
// and of another in the imperial or the metric one. [Unit.Note] says how it was
// read; where a guess will not do, refuse it.
func (u Unit) Ambiguous() bool {
	if u.note == "" {
		return false
	}
	for part := range strings.SplitSeq(u.Symbol, "/") {
		part = strings.TrimLeft(part, "0123456789 ") // gal/1000 ft2
		if s, ok := simple(part); ok && s.note != "" && s.Dimension == Volume {
			return true
		}
	}
	return false
}

// Find returns the unit written as symbol: a simple one (g, ozt, US gal, % w/v)
// or a compound of two (g/L, oz/imp gal, dm2/L, US gal/1000 ft2). Spellings such
// as "cm^2", "cm²", "µL", "sq. in." and "gallons" are read too; capitals count
// for SI symbols. Unknown and ambiguous words are usage errors that name the choices.
func Find(symbol string) (Unit, error) {
	if err := tooLong(symbol); err != nil {
		return Unit{}, err
	}
	if u, err := find(symbol); err == nil {
		return u, nil
	}
	return find(tidy(symbol))
}

func find(text string) (Unit, error) {
	if text == "" {
		return Unit{}, fault.Usagef("the unit is missing").Try("write a unit after the number, such as g, mL, mm, C or g/L")
	}
	if u, ok := simple(text); ok {
		return u, nil
	}
	if over, under, ok := strings.Cut(text, "/"); ok && ambiguous(text) == nil {
		return compound(over, under, text)
	}
	return Unit{}, notFound(text, text)
}

// simple looks a unit up, with "us", "imp" or "metric" beside the name of a liquid measure.
func simple(text string) (Unit, bool) {
	fold := func(s string) bool { return strings.EqualFold(s, text) }
	for _, e := range table {
		if e.unit.Symbol == text || slices.Contains(e.exact, text) || slices.ContainsFunc(e.words, fold) {
			return e.unit, true
		}
	}
	system, rest := systemOf(strings.ToLower(text))
	if system == "" {
		return Unit{}, false
	}
	bare, ok := simple(rest)
	full := system + " " + bare.Symbol
	if !ok || bare.Dimension != Volume || full == text {
		return Unit{}, false
	}
	return simple(full)
}

// systemOf splits "us gal", "gal us", "usgal" and "gal (imperial)" into the
// system and the rest. The system is empty where none is named.
func systemOf(text string) (system, rest string) {
	for _, s := range [...][2]string{
		{"usa", "US"}, {"us", "US"}, {"imperial", "imp"}, {"imp", "imp"}, {"uk", "imp"}, {"british", "imp"}, {"metric", "metric"},
	} {
		rest, ok := strings.CutPrefix(text, s[0])
		if !ok {
			rest, ok = strings.CutSuffix(text, " "+s[0])
		}
		if ok {
			return s[1], strings.TrimSpace(rest)
		}
	}
	return "", text
}

// compound puts a unit together from what stands over and under the stroke.
func compound(over, under, text string) (Unit, error) {
	over, under = strings.TrimSpace(over), strings.TrimSpace(under)
	times, prefix := int64(1), ""
	for _, n := range []int64{1000, 100, 10} {
		if rest, ok := strings.CutPrefix(under, strconv.FormatInt(n, 10)); ok {
			under, times, prefix = strings.TrimSpace(rest), n, fmt.Sprint(n, " ")
			break
		}
	}
	a, ok := simple(over)
	if !ok {
		return Unit{}, notFound(over, text)
	}
	b, ok := simple(under)
	if !ok {
		return Unit{}, notFound(under, text)
	}
	of := ratios[[2]Dimension{a.Dimension, b.Dimension}]
	if of.Dimension == 0 {
		return Unit{}, fault.Usagef("the unit %s has no meaning here: %s divided by %s", quote(text), a.Dimension, b.Dimension).
			Try("write a concentration such as g/L, a load such as dm2/L or a spread such as mL/m2")
	}
	u := Unit{Symbol: a.Symbol + "/" + prefix + b.Symbol, Dimension: of.Dimension, note: a.note}
	if b.note != a.note {
		u.note = strings.Trim(a.note+"; "+b.note, "; ")
	}
	f := new(big.Rat).Mul(big.NewRat(of.num, of.den), big.NewRat(a.num, a.den))
	f.Mul(f, big.NewRat(b.den, b.num)).Quo(f, big.NewRat(times, 1))
	if !f.Num().IsInt64() || !f.Denom().IsInt64() {
		return Unit{}, notFound(text, text)
	}
	u.num, u.den = f.Num().Int64(), f.Denom().Int64()
	return u, nil
}

// ratios holds the dimension of one over another, with the factor by which (unit of
// the one over unit of the other) is turned into the unit of that dimension.
var ratios = map[[2]Dimension]Unit{
	{Mass, Volume}:   {Dimension: MassPerVolume, num: 1, den: 1},
	{Volume, Volume}: {Dimension: VolumePerVolume, num: 1000, den: 1},
	{Mass, Mass}:     {Dimension: MassFraction, num: 1, den: 1},
	{Amount, Volume}: {Dimension: Molar, num: 1, den: 1},
	{Area, Volume}:   {Dimension: Load, num: 1, den: 100},
	{Volume, Area}:   {Dimension: Spread, num: 1e7, den: 1}, // 1 L/cm2 = 1000 mL / 0.0001 m2
}
